"""A found note called by another name, where the recording was misunderstood."""

from __future__ import annotations

import math

from borewright.errors import PlayingError
from borewright.model import PitchStandard
from borewright.model.results.playtest import FoundNote, NoteStatus
from borewright.playing.naming import target_hz
from borewright.playing.records import Record

#: A record's cents are kept to 0.001; a note found again lies within twice that.
_SAME_CENTS = 0.002


def called(record: Record, name: str, pitch: PitchStandard) -> Record:
    """The record under another fingering's name, its cents against that note's target.

    The pitch that was played stays, so the cents move by the interval between both targets
    (1200 log2 of their ratio); the reference A falls out. The note counts from now on.
    """
    apart = 1200 * math.log2(target_hz(record.note, pitch) / target_hz(name, pitch))
    return record.model_copy(
        update={"note": name, "cents": record.cents + apart, "status": NoteStatus.OK}
    )


def left_out(record: Record) -> Record:
    """The record, no longer counting; its name and pitch stay in the table."""
    return record.model_copy(update={"status": NoteStatus.UNPLANNED})


def found_as(like: Record, name: str, hz: float, pitch: PitchStandard, take: str) -> Record:
    """A record of a found note that was in no plan, named by hand; its circumstances as ``like``.

    ``hz`` is its frequency, ``pitch`` the standard with the reference A of the take.
    """
    return Record(
        instrument=like.instrument,
        player=like.player,
        mouthpiece=like.mouthpiece,
        day=like.day,
        take=take,
        note=name,
        pulled=like.pulled,
        cents=1200 * math.log2(hz / target_hz(name, pitch)),
        temperature_c=like.temperature_c,
        a4_hz=like.a4_hz,
    )


def record_of(note: FoundNote, records: list[Record], pitch: PitchStandard) -> int | None:
    """Index of the record that holds a found note, whatever it is called now; None without one.

    Parameters
    ----------
    note
        Found in a recording.
    records
        Those of the same recording.
    pitch
        Pitch standard with the reference A of the take.
    """
    for index, record in enumerate(records):
        try:
            target = target_hz(record.note, pitch)
        except PlayingError:
            continue  # a name that somebody typed in by hand
        if abs(1200 * math.log2(note.hz / target) - record.cents) <= _SAME_CENTS:
            return index
    return None
