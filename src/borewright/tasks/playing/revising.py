"""An instrument's file revised by readings, and by parameters fitted from takes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.errors import ModelError, PlayingError
from borewright.model import TuningTable, read_instrument, save_as
from borewright.model.results.campaign import ParameterEstimate
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.outputs import carrying_tables, check_target, same_file, tables_of
from borewright.tasks.playing.measured import measured_takes
from borewright.tasks.pulling import with_pulled
from borewright.words import say

if TYPE_CHECKING:
    from borewright.playing import AsBuilt, Reading


@dataclass(frozen=True)
class Revision:
    """The as-built instrument, predicted beside its design, joints as in the takes."""

    built: AsBuilt
    design: TuningTable
    as_built: TuningTable
    estimates: list[ParameterEstimate]
    left_cents: float | None
    output: Path | None
    pulled: dict[str, float]

    def as_dict(self) -> dict[str, Any]:
        """The revision for JSON."""
        return {
            "instrument": self.built.instrument.name,
            "applied": [each.model_dump(mode="json") for each in self.built.applied],
            "leaks": [each.model_dump(mode="json") for each in self.built.leaks],
            "notices": self.built.notices,
            "parameters": [each.model_dump(mode="json") for each in self.estimates],
            "left_cents": self.left_cents,
            "design": self.design.summary.model_dump(mode="json"),
            "as_built": self.as_built.model_dump(mode="json", by_alias=True),
            "output": str(self.output) if self.output else None,
            "pulled": self.pulled,
        }


def revise_file(
    file: Path,
    readings: Path | None,
    output: Path | None,
    *,
    notes: Path | None,
    fit: str,
    fingerings: Path | None,
    typed: Iterable[str] = (),
    pulled: Sequence[str] = (),
) -> Revision:
    """Revise the instrument of a file and save it, with its leaks in a table of its own.

    ``typed`` are lines of readings where neither a table of them nor notes are given. ``pulled``
    names joints that were drawn apart, each as ``PART=MM``, in takes that tell nothing of it, or
    where there are none; the predictions are of that state, the file saved is not.
    """
    from borewright.acoustics import tuning
    from borewright.playing import (
        as_built,
        at_design_climate,
        calibrate,
        read_readings,
        read_records,
    )

    drawing, document = read_instrument(file)
    table = fingerings_of(drawing, file, fingerings)
    if output is not None:
        if same_file(output, file):
            raise ModelError(
                say("would be replaced by its as-built revision"),
                place=str(file),
                remedy=say("Name another file with --output."),
            )
        check_target(output)
    if bool(fit) != (notes is not None):
        raise PlayingError(
            say("parameters are fitted from takes"),
            place="--fit",
            remedy=say("Give both --notes and --fit, or neither."),
        )
    found = read_readings(readings) if readings else [] if notes else _typed(typed)
    played = None
    design = with_pulled(drawing, pulled)
    if notes is not None:
        name = read_records(notes)[0].instrument
        played = measured_takes(notes, name, drawing, table, pulled)
        design = played.design
    built = as_built(design, table, found)
    estimates: list[ParameterEstimate] = []
    left = None
    if played is not None:
        measured = at_design_climate(
            built.instrument, built.fingerings, played.notes, played.room_c
        )
        names = [name.strip() for name in fit.split(",") if name.strip()]
        fitted, estimates, left = calibrate(built.instrument, built.fingerings, measured, names)
        built.instrument = fitted
    predicted = tuning(built.instrument, built.fingerings)
    gaps = dict(built.instrument.pulled)
    built.instrument = built.instrument.model_copy(update={"pulled": drawing.pulled})
    if output is not None:
        _save(built, document, file, output, fingerings)
    return Revision(built, tuning(design, table), predicted, estimates, left, output, gaps)


def _save(built: AsBuilt, document: Any, file: Path, output: Path, fingerings: Path | None) -> None:
    from borewright.playing.leaky_table import write_fingerings

    tables = tables_of(built.instrument, file, fingerings=fingerings)
    instrument = carrying_tables(built.instrument, tables, output)
    if built.leaks:
        leaky = output.with_name(f"{output.stem}-fingerings.csv")
        write_fingerings(built.fingerings, leaky)
        instrument = instrument.model_copy(update={"fingerings": leaky.name})
    save_as(instrument, output, document)


def _typed(lines: Iterable[str]) -> list[Reading]:
    """Readings that somebody types: ``diameter L3 7.42``, ``bore barrel 10 14.95``."""
    found = []
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            break
        found.append(_one(line.split(), number))
    if not found:
        raise PlayingError(
            say("no readings were given"),
            place="as-built",
            remedy=say("Name a table, or type some."),
        )
    return found


def _one(words: list[str], line: int) -> Reading:
    from borewright.model.files.tables import number
    from borewright.playing.readings import OF_ALL, OF_PART, Item, reading

    item, *rest = words
    if len(rest) < (1 if item in OF_ALL else 2):
        raise PlayingError(
            say("'{typed}' is not a reading", typed=" ".join(words)[:60]),
            place=(say("line {number}", number=line),),
            remedy=say("Write item, name and value, such as diameter L3 7.42."),
        )
    value = number(rest.pop(), Path("keyboard"), line, "value")
    station = None
    if item == Item.BORE:
        station = number(rest.pop(), Path("keyboard"), line, "station_mm")
    name = " ".join(rest)
    of_part = item in OF_PART or (item == Item.LEAK and len(rest) > 1)
    return reading(
        item, value, part=name if of_part else "", hole="" if of_part else name,
        station_mm=station, place=str(say("line {number}", number=line)),
    )  # fmt: skip
