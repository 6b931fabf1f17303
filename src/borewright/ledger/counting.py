"""Which checks count: the newest of each subject and feature. This rule stands here alone.

A reading counts until another of the same subject and feature is entered. A sign-off rests on
the readings that counted when it was made: it is undone by one that fails afterwards, also by
one that is corrected into a failure, and stays undone when the instrument is repaired. It is
undone as well by the exchange of a part: nobody signed for the new one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Select, and_, case, func, select

from borewright.ledger.exchanging import Stay, entries_of, left_since, stays_ended
from borewright.ledger.kinds.proving import SIGN_OFF, Check, Subject
from borewright.ledger.schema import TABLES

_CHUNK = 500  # serials asked for at once; SQLite allows a limited number of parameters
_check = TABLES["check"].c
_other = TABLES["check"].alias("other").c
_alike = and_(
    _other.instrument == _check.instrument,
    _other.subject == _check.subject,
    func.coalesce(_other.feature, "") == func.coalesce(_check.feature, ""),
    _other.withdrawn.is_(False),
)
#: Number of the check that took a check's place; none while it counts.
_REPLACED = select(func.min(_other.id)).where(_alike, _other.id > _check.id).scalar_subquery()
#: Number of the first check alike: the order in which things were first looked at.
_FIRST = select(func.min(_other.id)).where(_alike).scalar_subquery()


@dataclass(frozen=True)
class MadeCheck:
    """A check, its number in the order of entry, and the number of what took its place."""

    number: int
    replaced: int | None
    check: Check

    @property
    def counts(self) -> bool:
        """Whether it is the newest of its subject and feature."""
        return self.replaced is None

    def undoes(self, sign_off: int) -> bool:
        """Whether it is a failure that held at some time after the sign-off of this number."""
        return _undone_until(self.check.passed, self.replaced) > sign_off


def _undone_until(passed: bool, replaced: int | None) -> float:
    """Number of entry up to which a check forbids a sign-off; a failure that counts, for ever."""
    if passed:
        return 0
    return float("inf") if replaced is None else replaced


def checks_of(connection: Connection, serial: str) -> list[MadeCheck]:
    """Every check of an instrument that was not withdrawn, in the order first looked at."""
    query = (
        select(TABLES["check"], _REPLACED.label("replaced"))
        .where(_check.instrument == serial, _check.withdrawn.is_(False))
        .order_by(_FIRST, _check.id)
    )
    rows = connection.execute(query).mappings()
    return [MadeCheck(row["id"], row["replaced"], Check.read(row)) for row in rows]


def counting(made: Sequence[MadeCheck]) -> list[Check]:
    """The readings that count."""
    return [each.check for each in made if each.counts and each.check.subject is not SIGN_OFF]


@dataclass(frozen=True)
class SignOff:
    """A sign-off, the first failure and the first part exchanged that have undone it."""

    check: Check
    undone_by: Check | None
    left: Stay | None

    @property
    def valid(self) -> bool:
        """Whether it still holds."""
        return self.undone_by is None and self.left is None


def sign_offs(connection: Connection, serial: str, made: Sequence[MadeCheck]) -> list[SignOff]:
    """Every sign-off of an instrument, the oldest first."""
    found = [each for each in made if each.check.subject is SIGN_OFF]
    entries = entries_of(connection, [each.check.code for each in found])
    stays = stays_ended(connection).get(serial, [])
    return [
        SignOff(
            one.check,
            next((e.check for e in made if e.undoes(one.number)), None),
            left_since(stays, entries[one.check.code]),
        )
        for one in sorted(found, key=lambda each: each.number)
    ]


@dataclass
class ChecksMade:
    """The checks of one instrument summed up, for lists of thousands.

    ``failing`` are (subject, feature) whose counting check failed; ``signed`` is the newest
    sign-off's number, 0 for none, and ``undone_until`` the number up to which one is void;
    ``exchanged`` tells whether a part left the instrument after it.
    """

    subjects: set[Subject] = field(default_factory=set)
    leak_tested: set[str] = field(default_factory=set)
    failing: list[tuple[Subject, str]] = field(default_factory=list)
    signed: int = 0
    undone_until: float = 0
    exchanged: bool = False

    @property
    def signed_off(self) -> bool:
        """Whether it is signed off, and that still holds."""
        return self.signed > self.undone_until and not self.exchanged


def checks_made(connection: Connection, serials: Sequence[str] | None) -> dict[str, ChecksMade]:
    """Checks by serial number, for some instruments or for all, summed up by the database."""
    found: dict[str, ChecksMade] = {}
    # Only a leak test is needed for each part; of the rest it is enough that they were made.
    part = case((_check.subject == Subject.LEAK, func.coalesce(_check.feature, "")), else_="")
    newest = (
        select(
            _check.instrument, _check.subject, part.label("part"), func.max(_check.id).label("id")
        )
        .where(_check.withdrawn.is_(False))
        .group_by(_check.instrument, _check.subject, part)
    )
    for row in _asked(connection, newest, serials):
        made, subject = found.setdefault(row.instrument, ChecksMade()), Subject(row.subject)
        made.subjects.add(subject)
        if subject is Subject.LEAK:
            made.leak_tested.add(row.part)
        if subject is SIGN_OFF:
            made.signed = row.id
    failures = (
        select(_check.instrument, _check.subject, _check.feature, _REPLACED.label("replaced"))
        .where(_check.withdrawn.is_(False), _check.passed.is_(False))
        .order_by(_check.id)
    )
    for row in _asked(connection, failures, serials):
        made = found[row.instrument]
        made.undone_until = max(made.undone_until, _undone_until(False, row.replaced))
        if row.replaced is None:
            made.failing.append((Subject(row.subject), row.feature or ""))
    _note_exchanges(connection, found)
    return found


def _note_exchanges(connection: Connection, found: dict[str, ChecksMade]) -> None:
    """Tell those signed off before one of their parts left them."""
    ended = stays_ended(connection)
    signed = {serial: found[serial].signed for serial in ended if serial in found}
    numbers = [number for number in signed.values() if number]
    codes = {row.id: row.code for row in _rows_numbered(connection, numbers)}
    entries = entries_of(connection, list(codes.values()))
    for serial, stays in ended.items():
        code = codes.get(signed.get(serial, 0))
        if code is not None:
            found[serial].exchanged = left_since(stays, entries[code]) is not None


def _rows_numbered(connection: Connection, numbers: Sequence[int]) -> Iterator[Any]:
    for start in range(0, len(numbers), _CHUNK):
        chosen = _check.id.in_(numbers[start : start + _CHUNK])
        yield from connection.execute(select(_check.id, _check.code).where(chosen))


def _asked(
    connection: Connection, query: Select[Any], serials: Sequence[str] | None
) -> Iterator[Any]:
    if serials is None:
        yield from connection.execute(query)
        return
    for start in range(0, len(serials), _CHUNK):
        chosen = _check.instrument.in_(serials[start : start + _CHUNK])
        yield from connection.execute(query.where(chosen))
