"""The takes of one instrument from a table of notes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from borewright.errors import PlayingError
from borewright.model import FingeringTable, Instrument
from borewright.tasks.pulling import with_pulled
from borewright.words import say

if TYPE_CHECKING:
    from borewright.playing import MeasuredNote


class MeasuredTakes(NamedTuple):
    """What was played: whose takes, cents by fingering, the error they share, the room (°C).

    ``design`` has its joints drawn apart as they were in the takes; where they tell several
    states, or another than was asked for, their cents are those of the design's.
    """

    name: str
    design: Instrument
    notes: dict[str, MeasuredNote]
    shared_cents: float
    room_c: float | None


def measured_takes(
    notes: Path,
    name: str,
    design: Instrument,
    fingerings: FingeringTable,
    pulled: Sequence[str] = (),
) -> MeasuredTakes:
    """The takes of the instrument called ``name``, or of the only one that the table holds.

    ``pulled`` names joints that were drawn apart in takes that tell nothing of it, each as
    ``PART=MM``. Raises PlayingError where it holds several and none is named, or none of that name.
    """
    from borewright.playing import (
        as_in_takes,
        at_joints_of,
        measured_notes,
        read_records,
        room_temperature,
    )

    records = read_records(notes)
    names = list(dict.fromkeys(record.instrument for record in records))
    if not name and len(names) > 1:
        raise PlayingError(
            say("holds takes of {count} instruments", count=len(names)),
            place=str(notes),
            remedy=say("Name one with --name: {names}.", names=", ".join(names)),
        )
    name = name or names[0]
    own = [record for record in records if record.instrument == name]
    design = with_pulled(design, pulled) if pulled else as_in_takes(design, own)
    measured, shared = measured_notes(at_joints_of(design, fingerings, own) or records, name)
    return MeasuredTakes(name, design, measured, shared, room_temperature(own))
