"""Designs along the trade-off from file to file, and taking one or part of one."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.errors import FitError
from borewright.model import Instrument, TuningSummary, read_instrument, save_as
from borewright.model.results.choices import DesignFamily
from borewright.tasks.fitting import saved_where
from borewright.tasks.inputs import fingerings_of, survey_of
from borewright.tasks.outputs import carrying_tables, tables_of
from borewright.tasks.progress import Cancel, Progress, rounds_told
from borewright.words import ENGLISH, Reader, say


@dataclass(frozen=True)
class FileChoices:
    """The family, and what was taken of it and saved where."""

    instrument: Instrument
    family: DesignFamily
    taken: int | None
    only: list[str] | None
    after: TuningSummary | None
    output: Path | None

    def as_dict(self) -> dict[str, Any]:
        """The family for JSON."""
        return {
            **self.family.model_dump(mode="json"),
            "taken": self.taken,
            "only": self.only,
            "after": self.after.model_dump() if self.after else None,
            "output": str(self.output) if self.output else None,
        }


def choose_from_file(
    file: Path,
    output: Path | None = None,
    *,
    keywork: Path | None = None,
    fingerings: Path | None = None,
    take: int | None = None,
    only: list[str] | None = None,
    force: bool = False,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> FileChoices:
    """Make the family of an instrument's file; take a design of it if one is asked for.

    Parameters
    ----------
    file, keywork, fingerings
        As for a fit.
    output
        Where what is taken goes; None writes ``file`` anew, which needs ``force``.
    take
        Number of the design to take, 0 for the drawing; None only shows them.
    only
        Names of the holes and parts to take; the rest is fitted again around them.
    force
        Allow ``file`` itself to be replaced.
    progress, cancel
        Told after every design; asked there whether to stop.

    Raises
    ------
    ModelError, FitError
        For wrong input, an unknown design, and an output that could not be written.
    """
    from borewright.acoustics import tuning
    from borewright.fit.choices import DESIGNS, design_family, part_taken, taken

    before, document = read_instrument(file)
    table = fingerings_of(before, file, fingerings)
    survey = survey_of(before, file, keywork)
    tables = tables_of(before, file, keywork=keywork, fingerings=fingerings)
    target = saved_where(file, output, force, tables.values()) if take is not None else None
    told = rounds_told(progress, cancel, DESIGNS)
    family = design_family(before, table, survey, progress=told)
    if take is None or target is None:
        return FileChoices(before, family, None, None, None, None)
    if take >= len(family.designs):
        raise FitError(
            say("there is no design {number}", number=take),
            place=say("designs"),
            remedy=say("Choose one from 0 to {last}.", last=len(family.designs) - 1),
        )
    design = family.designs[take]
    if only:
        made, result = part_taken(before, design, only, table, survey)
        after = result.after.summary
    else:
        made = taken(before, design)
        after = tuning(made, table).summary
    save_as(carrying_tables(made, tables, target), target, document)
    return FileChoices(before, family, take, only, after, target)


def draw_family(done: FileChoices, picture: Path, *, words: Reader = ENGLISH) -> Path:
    """Draw the designs of a family, cents against closeness, for who reads it."""
    from borewright.documents.trade_off import trade_off_chart

    return trade_off_chart(done.family, picture, words=words)
