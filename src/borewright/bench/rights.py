"""Who may do what on the page: the owner everything, the bench the day's work, a viewer looks."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from enum import IntEnum
from typing import Any
from weakref import WeakKeyDictionary

from borewright.errors import BenchError
from borewright.words import Choice, say


class Role(Choice):
    """Who somebody is on a bench that is shared."""

    OWNER = "owner", say("owner")
    BENCH = "bench", say("bench")
    VIEWER = "viewer", say("viewer")


class Right(IntEnum):
    """What a deed needs; whoever may do more may do what is below it."""

    LOOK = 0
    WORK = 1
    OWN = 2


_RIGHTS = {Role.VIEWER: Right.LOOK, Role.BENCH: Right.WORK, Role.OWNER: Right.OWN}
_NEEDS = {
    Right.LOOK: say("looking"),
    Right.WORK: say("working at the bench"),
    Right.OWN: say("the owner's own affairs"),
}
_roles: WeakKeyDictionary[Any, Role] = WeakKeyDictionary()
_slots: WeakKeyDictionary[Any, Role] = WeakKeyDictionary()
_acting: ContextVar[Role | None] = ContextVar("acting", default=None)


class Sessions:
    """Who has come in: a random name in the cookie, kept here only as its digest."""

    def __init__(self) -> None:
        self._roles: dict[str, Role] = {}

    def open(self, role: Role) -> str:
        """A new session; its name is what the cookie holds."""
        name = secrets.token_urlsafe(32)
        self._roles[_digest(name)] = role
        return name

    def role(self, name: str) -> Role | None:
        """Whose session it is, None for a name that was never given out."""
        return self._roles.get(_digest(name))


def _digest(name: str) -> str:
    return hashlib.sha256(name.encode()).hexdigest()


def take_part(client: Any, role: Role) -> None:
    """Remember whose page a client is."""
    _roles[client] = role


def role_of(client: Any) -> Role:
    """Whose page it is; of a page that nobody let in, a viewer's."""
    return _roles.get(client, Role.VIEWER)


@contextmanager
def acting(role: Role) -> Iterator[None]:
    """What is done here is done by somebody of this role: requests without a page of their own."""
    before = _acting.set(role)
    try:
        yield
    finally:
        _acting.reset(before)


def current_role() -> Role:
    """Who is at work just now: the page whose event is handled; the server itself is the owner."""
    role = _acting.get()
    if role is not None:
        return role
    from nicegui.slot import Slot, get_task_id

    # Only looked at: the library's own ``context`` would make a page where there is none.
    stack = Slot.stacks.get(get_task_id())
    if not stack:
        return Role.OWNER  # no page: the server's own housekeeping
    if not len(_roles):
        return Role.OWNER  # nobody was let in: there is no server, and no role to ask for
    for slot in reversed(stack):
        # What was pressed may be gone from the page meanwhile; it was somebody's all the same.
        with suppress(RuntimeError):
            _slots[slot] = role_of(slot.parent.client)
        if slot in _slots:
            return _slots[slot]
    return Role.VIEWER


def may(right: Right) -> bool:
    """Whether whoever is at work may do what needs this right."""
    return _RIGHTS[current_role()] >= right


def require(right: Right) -> None:
    """Raise BenchError where whoever is at work may not do it."""
    if not may(right):
        role = current_role()
        raise BenchError(
            say("{role} may not do this: it needs {what}", role=role, what=_NEEDS[right]),
            place=say("bench"),
            remedy=say("Come in with the password that allows it, or ask the owner."),
        )
