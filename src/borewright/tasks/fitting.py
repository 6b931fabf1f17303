"""A fit from file to file: read, fit, save with the owner's comments, report."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.errors import ModelError, Stopped
from borewright.model import (
    FingeringTable,
    FitResult,
    Instrument,
    KeyworkSurvey,
    SideHoles,
    read_instrument,
    save_as,
)
from borewright.model.results.choices import DesignFamily
from borewright.tasks.inputs import fingerings_of, keys_of, survey_of
from borewright.tasks.outputs import (
    carrying_tables,
    check_folder,
    check_target,
    same_file,
    tables_of,
)
from borewright.tasks.progress import Cancel, Progress, holes_told, rounds_told
from borewright.words import ENGLISH, Reader, say

MOST_ROUNDS = 60


@dataclass(frozen=True)
class FileFit:
    """What a fit made: the instrument before and after, the result, and the files written."""

    before: Instrument
    after: Instrument
    fingerings: FingeringTable
    result: FitResult
    output: Path
    surveyed: bool
    report: list[Path]

    def as_dict(self) -> dict[str, Any]:
        """The fit for JSON."""
        dumped = self.result.model_dump(mode="json", by_alias=True)
        keep = (
            "moved",
            "out_of_reach",
            "held_back",
            "also",
            "findings",
            "finished",
            "seconds",
            "rounds",
            "hole_solutions",
            "instrument",
        )
        return {
            "before": dumped["before"]["summary"],
            "after": dumped["after"]["summary"],
            **{key: dumped[key] for key in keep},
            "output": str(self.output),
            "report": [str(path) for path in self.report],
            "model_level": str(self.result.after.model_level),
            "climate": str(self.result.after.climate),
        }


def fit_file(
    file: Path,
    output: Path | None,
    *,
    keywork: Path | None = None,
    fingerings: Path | None = None,
    report: Path | None = None,
    force: bool = False,
    side_holes: SideHoles | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> FileFit:
    """Fit the instrument of a file and save the fitted one; a cancel saves the best so far.

    Parameters
    ----------
    file
        The instrument.
    output
        Where the fitted instrument goes; None writes ``file`` anew, which needs ``force``.
    keywork, fingerings
        Tables that go before those the file names; the saved file names those that were used.
    report
        Folder for the report; None writes none.
    force
        Allow ``file`` itself to be replaced.
    side_holes
        How side holes are computed; None is the file's own level, or solved in 3-D.
    words
        Who reads the report.
    progress, cancel
        Told every round and hole; asked there whether to stop.

    Raises
    ------
    ModelError
        Before the fit begins, for wrong input and for outputs that could not be written.
    FitError
        Where a fit cannot start.
    AcousticsError
        Where holes are to be solved in 3-D and cannot be.
    """
    before, document = read_instrument(file)
    table = fingerings_of(before, file, fingerings)
    survey = survey_of(before, file, keywork)
    tables = tables_of(before, file, keywork=keywork, fingerings=fingerings)
    target = saved_where(file, output, force, tables.values())
    if report is not None:
        check_folder(report)
    from borewright.fit.fitting import fit

    fitted, result = fit(
        before,
        table,
        survey,
        side_holes=side_holes,
        progress=rounds_told(progress, cancel, MOST_ROUNDS),
        hole_progress=holes_told(progress, cancel),
        most_rounds=MOST_ROUNDS,
    )
    after = carrying_tables(fitted, tables, target)
    save_as(after, target, document)
    written: list[Path] = []
    if report is not None and result.finished:
        from borewright.tasks.reporting import write_report

        written = write_report(
            report,
            before,
            after,
            result,
            table,
            file=target.name,
            side_holes=side_holes,
            keys=keys_of(before, file),
            family=designs_of(
                fitted, table, survey, side_holes=side_holes, progress=progress, cancel=cancel
            ),
            words=words,
        )
    return FileFit(before, after, table, result, target, survey is not None, written)


def designs_of(
    fitted: Instrument,
    table: FingeringTable,
    survey: KeyworkSurvey | None,
    *,
    side_holes: SideHoles | None = None,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> DesignFamily:
    """Designs along the trade-off of a fitted instrument, from its drawing, for a report.

    Raises Stopped where it is cut short: a report shows the whole trade-off or none.
    """
    from borewright.fit.choices import DESIGNS, design_family

    told = rounds_told(progress, cancel, DESIGNS)
    family = design_family(fitted, table, survey, side_holes=side_holes, progress=told)
    if not family.finished:
        raise Stopped
    return family


def saved_where(file: Path, output: Path | None, force: bool, tables: Iterable[Path]) -> Path:
    """Where to save; never over a table, and over the input only if that is asked for."""
    target = file if output is None else output
    check_target(target)
    if same_file(target, file) and not force:
        raise ModelError(
            say("would be replaced by the fitted instrument"),
            place=str(file),
            remedy=say("Name another file with --output, or allow it with --force."),
        )
    for table in tables:
        if same_file(target, table):
            raise ModelError(
                say("is a table that this fit reads; the fitted instrument would replace it"),
                place=str(target),
                remedy=say("Name another file with --output."),
            )
    return target
