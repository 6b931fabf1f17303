"""Notes of takes as a table: what ``borewright takes`` writes and every later step reads."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

from borewright.errors import PlayingError, RefusedValue
from borewright.model import write_text
from borewright.model.base import Entity
from borewright.model.files.tables import TableWriter, number, read_table
from borewright.model.pulled import pulled_text, read_pulled
from borewright.model.results.playtest import NoteStatus, Take
from borewright.words import say

#: Tone descriptors, as columns.
TONES = ("centroid_hz", "odd_even_db", "slope_db_per_octave", "attack_ms")
_WORDS = ("instrument", "player", "mouthpiece", "day", "take", "note", "status", "pulled")
_FIGURES = ("cents", "spread_cents", "temperature_c", "a4_hz", "level_db", *TONES)
_REQUIRED = ("instrument", "take", "note", "cents")


class Record(Entity):
    """One note of one take, with who played what and when.

    ``pulled`` tells the joints that were drawn apart, as ``barrel=1.5``; nothing where they
    were as the instrument's file has them.
    """

    instrument: str
    take: str
    note: str
    cents: float
    player: str = ""
    mouthpiece: str = ""
    day: str = ""
    status: NoteStatus = NoteStatus.OK
    pulled: str = ""
    spread_cents: float | None = None
    temperature_c: float | None = None
    a4_hz: float | None = None
    level_db: float | None = None
    centroid_hz: float | None = None
    odd_even_db: float | None = None
    slope_db_per_octave: float | None = None
    attack_ms: float | None = None


def records_of(
    take: Take,
    *,
    instrument: str,
    player: str = "",
    mouthpiece: str = "",
    day: str = "",
    pulled: str = "",
) -> list[Record]:
    """Records of the notes of a recording that were recognised.

    A file with several rounds of the planned order counts as several takes.
    """
    found = []
    for note in take.notes:
        if note.status is NoteStatus.UNPLANNED:
            continue
        tones = note.tone.model_dump() if note.tone else {}
        found.append(
            Record(
                instrument=instrument,
                player=player,
                mouthpiece=mouthpiece,
                day=day,
                take=f"{Path(take.file).name}#{note.take}",
                note=note.name,
                status=note.status,
                pulled=pulled,
                cents=note.cents,
                spread_cents=note.spread_cents,
                temperature_c=take.temperature_c,
                a4_hz=take.a4_hz,
                level_db=note.level_db,
                **tones,
            )
        )
    return found


def write_records(records: Sequence[Record], path: Path | str) -> None:
    """Write records as CSV, atomically."""
    write_text(path, records_text(records))


def records_text(records: Sequence[Record]) -> str:
    """Records as the CSV that :func:`read_records` reads back."""
    text = io.StringIO()
    text.write("# format = 1\n")
    writer = TableWriter(text)
    writer.writerow([*_WORDS, *_FIGURES])
    for record in records:
        figures = [getattr(record, name) for name in _FIGURES]
        writer.writerow(
            [*(str(getattr(record, name)) for name in _WORDS)]
            + ["" if value is None else f"{value:.3f}" for value in figures]
        )
    return text.getvalue()


def read_records(path: Path | str) -> list[Record]:
    """Read a table of notes; PlayingError or ModelError with line and remedy.

    Only instrument, take, note and cents are needed: a table typed in by hand will do.
    """
    path = Path(path)
    columns = (*_WORDS, *_FIGURES)
    optional = tuple(name for name in columns if name not in _REQUIRED)
    found = []
    for line, cells in read_table(path, _REQUIRED, optional):
        figures = {name: number(cells[name], path, line, name) for name in _FIGURES}
        status = cells["status"] or "ok"
        if status not in set(NoteStatus):
            raise PlayingError(
                say("'{status}' is no status", status=status[:40]),
                place=(str(path), say("line {line}", line=line)),
                remedy=say("Write one of: {statuses}.", statuses=", ".join(NoteStatus)),
            )
        if figures["cents"] is None:
            raise PlayingError(
                say("cents are missing"),
                place=(str(path), say("line {line}", line=line)),
                remedy=say("Give a number."),
            )
        for name in ("instrument", "take", "note"):
            if not cells[name]:
                raise PlayingError(
                    say("{name} is empty", name=name),
                    place=(str(path), say("line {line}", line=line)),
                    remedy=say("Fill it in."),
                )
        words = {name: cells[name] for name in _WORDS if name != "status"}
        try:
            words["pulled"] = pulled_text(read_pulled([cells["pulled"]]))
        except RefusedValue as error:
            place = (str(path), say("line {line}", line=line), "pulled")
            raise PlayingError(error.cause, place=place, remedy=error.remedy) from error
        found.append(Record.model_validate({**words, **figures, "status": status}))
    return found


def counted(records: Sequence[Record]) -> list[Record]:
    """The records whose pitch says something about their fingering."""
    return [record for record in records if record.status.counts]
