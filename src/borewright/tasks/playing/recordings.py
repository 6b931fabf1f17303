"""Recordings measured, written to a table of notes, and drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.errors import PlayingError
from borewright.model import FingeringTable, Instrument, PitchStandard, Use, load
from borewright.model.pulled import pulled_text
from borewright.model.results.playtest import Take
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.outputs import check_folder, check_target
from borewright.tasks.progress import Cancel, Progress, share_told
from borewright.tasks.pulling import with_pulled
from borewright.words import ENGLISH, Reader, given, say


@dataclass(frozen=True)
class MeasuredTakes:
    """Takes, the table that they were written to, and pictures."""

    takes: list[Take]
    output: Path | None
    pictures: list[Path]
    pulled: dict[str, float]

    def as_dict(self) -> dict[str, Any]:
        """The takes for JSON."""
        return {
            "takes": [take.model_dump(mode="json") for take in self.takes],
            "output": str(self.output) if self.output else None,
            "pictures": [str(path) for path in self.pictures],
            "pulled": self.pulled,
        }


def measure_takes(
    recordings: list[Path],
    file: Path,
    temperature_c: float,
    *,
    a4: float | None,
    order: str,
    name: str,
    player: str,
    mouthpiece: str,
    day: str,
    output: Path | None,
    plot: Path | None,
    fingerings: Path | None,
    pulled: Sequence[str] = (),
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> MeasuredTakes:
    """Measure recordings of one instrument; errors of BorewrightError name the file.

    ``pulled`` names joints that were drawn apart, each as ``PART=MM``: the table of notes keeps
    it. ``words`` reads the pictures. ``progress`` is told of every recording, ``cancel`` asked;
    what was cancelled has written no table.
    """
    from borewright.playing import analyse_take, read_records, records_of, write_records

    instrument = load(file)
    gaps = dict(with_pulled(instrument, pulled).pulled) if pulled else {}
    pitch = pitch_at(instrument, a4)
    table = fingerings_of(instrument, file, fingerings)
    plan = planned_order(order, table)
    if output is not None:
        check_target(output)
    if plot is not None:
        check_folder(plot)
    records = read_records(output) if output is not None and output.exists() else []
    taken = {record.take.rsplit("#", 1)[0] for record in records}
    found, pictures = [], []
    for number, path in enumerate(recordings):
        if path.name in taken:
            raise PlayingError(
                say("already holds the take '{take}'", take=path.name),
                place=str(output),
                remedy=say("Give every recording a name of its own."),
            )
        taken.add(path.name)
        low, high = number / len(recordings), (number + 1) / len(recordings)
        take, track = analyse_take(
            path,
            pitch=pitch,
            temperature_c=temperature_c,
            order=plan,
            table=table,
            progress=share_told(progress, cancel, given(path.name), low, high),
        )
        found.append(take)
        records += records_of(
            take,
            instrument=name or instrument.name,
            player=player,
            mouthpiece=mouthpiece,
            day=day,
            pulled=pulled_text(gaps),
        )
        if plot is not None:
            from borewright.documents.pitch_track import pitch_track_chart

            drawn = pitch_track_chart(take, track, plot / f"{path.stem}.svg", words=words)
            pictures.append(drawn)
    if output is not None:
        write_records(records, output)
    return MeasuredTakes(found, output, pictures, gaps)


def pitch_at(instrument: Instrument, a4_hz: float | None) -> PitchStandard:
    """The instrument's pitch standard at the reference A of a take; None keeps its own."""
    if a4_hz is None:
        return instrument.pitch
    if not 380 <= a4_hz <= 480:
        raise PlayingError(
            say("{a4_hz:g} Hz is no reference A", a4_hz=a4_hz),
            place="--a4",
            remedy=say("Give 380 to 480."),
        )
    return instrument.pitch.model_copy(update={"a4_hz": a4_hz})


def planned_order(order: str, table: FingeringTable) -> list[str] | None:
    """Fingering names of a planned order: ``scale``, names with commas, or nothing (None)."""
    if not order.strip():
        return None
    if order.strip() == "scale":
        return [each.name for each in table.fingerings if each.use is Use.STANDARD]
    names = [name.strip() for name in order.split(",")]
    if len(names) == 1:
        names = order.split()
    known = {each.name for each in table.fingerings}
    for name in names:
        if name not in known:
            raise PlayingError(
                say("'{note}' is not in the fingering table", note=name[:40]),
                place="--order",
                remedy=say("Name notes as the table does, with commas between."),
            )
    return names
