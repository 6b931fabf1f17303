"""The takes of one instrument from a table of notes."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from borewright.errors import PlayingError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.playing import MeasuredNote


class MeasuredTakes(NamedTuple):
    """What was played: whose takes, cents by fingering, the error they share, the room (°C)."""

    name: str
    notes: dict[str, MeasuredNote]
    shared_cents: float
    room_c: float | None


def measured_takes(notes: Path, name: str) -> MeasuredTakes:
    """The takes of the instrument called ``name``, or of the only one that the table holds.

    Raises PlayingError where it holds several and none is named, or none of that name.
    """
    from borewright.playing import measured_notes, read_records, room_temperature

    records = read_records(notes)
    names = list(dict.fromkeys(record.instrument for record in records))
    if not name and len(names) > 1:
        raise PlayingError(
            say("holds takes of {count} instruments", count=len(names)),
            place=str(notes),
            remedy=say("Name one with --name: {names}.", names=", ".join(names)),
        )
    name = name or names[0]
    measured, shared = measured_notes(records, name)
    room = room_temperature([record for record in records if record.instrument == name])
    return MeasuredTakes(name, measured, shared, room)
