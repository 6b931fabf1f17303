"""Seating from file to file: holes set where the keywork is, the owner's comments kept."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.errors import ModelError
from borewright.model import Instrument, read_instrument, save_as
from borewright.model.results.seating import SeatingResult
from borewright.tasks.fitting import saved_where
from borewright.tasks.inputs import survey_of
from borewright.tasks.outputs import carrying_tables, tables_of
from borewright.words import say


@dataclass(frozen=True)
class FileSeating:
    """What seating made: the instrument before and after, the result, the file written."""

    before: Instrument
    after: Instrument
    result: SeatingResult
    output: Path

    def as_dict(self) -> dict[str, Any]:
        """The seating for JSON."""
        return {
            **self.result.model_dump(mode="json"),
            "faults_before": self.result.faults_before,
            "faults_after": self.result.faults_after,
            "output": str(self.output),
        }


def seat_file(
    file: Path, output: Path | None, *, keywork: Path | None = None, force: bool = False
) -> FileSeating:
    """Seat the holes of an instrument's file under its keywork and save it.

    Parameters
    ----------
    file
        The instrument.
    output
        Where the seated instrument goes; None writes ``file`` anew, which needs ``force``.
    keywork
        A survey that goes before the one the file names.
    force
        Allow ``file`` itself to be replaced.

    Raises
    ------
    ModelError
        For wrong input, without any keywork, and for an output that could not be written.
    """
    from borewright.fit.seating import seat

    before, document = read_instrument(file)
    survey = survey_of(before, file, keywork)
    if survey is None:
        raise ModelError(
            say("no keywork survey is named"),
            place=(str(file), say("[instrument] keywork")),
            remedy=say("Name the survey there, or give it for this seating."),
        )
    tables = tables_of(before, file, keywork=keywork)
    target = saved_where(file, output, force, tables.values())
    seated, result = seat(before, survey)
    after = carrying_tables(seated, tables, target)
    save_as(after, target, document)
    return FileSeating(before, after, result, target)
