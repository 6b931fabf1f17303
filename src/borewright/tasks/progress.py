"""How long work tells how far it is, and how it is stopped."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from borewright.errors import Stopped
from borewright.leftovers import note_best
from borewright.words import Message, Said, given, say

#: Called with the share that is done (0 to 1, None where nobody can tell) and what is going on.
Progress = Callable[[float | None, Said], None]


class Cancel(Protocol):
    """Whether somebody asked for an end; a ``threading.Event`` is one."""

    def is_set(self) -> bool:
        """True once the work shall end."""
        ...


def tell(progress: Progress | None, cancel: Cancel | None, share: float | None, said: Said) -> None:
    """Tell how far the work is; raises Stopped where its end was asked for."""
    if progress is not None:
        progress(share, said)
    if cancel is not None and cancel.is_set():
        raise Stopped


def share_told(
    progress: Progress | None,
    cancel: Cancel | None,
    said: Said,
    low: float = 0.0,
    high: float = 1.0,
) -> Callable[[float], None]:
    """What a room calls with the share of its own work; that is ``low`` to ``high`` of all."""

    def told(share: float) -> None:
        tell(progress, cancel, low + (high - low) * share, said)

    return told


def rounds_told(
    progress: Progress | None, cancel: Cancel | None, most_rounds: int
) -> Callable[[int, float, float], None]:
    """What the room ``fit`` calls every round."""

    def told(number: int, rms_cents: float, worst_cents: float) -> None:
        said = say(
            "round {number}, rms {rms_cents:.1f} cents, worst {worst_cents:.1f}",
            number=number,
            rms_cents=rms_cents,
            worst_cents=worst_cents,
        )
        note_best()
        tell(progress, cancel, min(number / most_rounds, 1.0), said)

    return told


def holes_told(progress: Progress | None, cancel: Cancel | None) -> Callable[[int, int], None]:
    """What the room ``acoustics`` calls while it solves side holes."""

    def told(done: int, total: int) -> None:
        said = say("side holes in 3-D, {done} of {total}", done=done, total=total)
        tell(progress, cancel, done / total if total else None, said)

    return told


def parts_told(progress: Progress | None, cancel: Cancel | None) -> Callable[[str, int, int], None]:
    """What the room ``solids`` calls between parts."""

    def told(part: str, done: int, total: int) -> None:
        tell(progress, cancel, done / total if total else None, given(part))

    return told


def steps_told(
    progress: Progress | None, cancel: Cancel | None, low: float = 0.0, high: float = 1.0
) -> Callable[[Message, int, int], None]:
    """What a room calls between steps that bear words; they are ``low`` to ``high`` of all."""

    def told(step: Message, done: int, total: int) -> None:
        tell(progress, cancel, low + (high - low) * done / total, step)

    return told
