"""The report of a fit with everything a workshop takes to the bench."""

from __future__ import annotations

from pathlib import Path

from borewright.model import FingeringTable, FitResult, Instrument, SolidsReport


def write_report(
    folder: Path,
    before: Instrument,
    after: Instrument,
    result: FitResult,
    fingerings: FingeringTable,
    *,
    solids: SolidsReport | None = None,
    file: str = "",
) -> list[Path]:
    """Write report (HTML and PDF), hole schedule (CSV) and drawings (SVG); the report first.

    Parameters
    ----------
    folder
        Where to write; made if missing.
    before, after, result, fingerings
        What :func:`borewright.fit.fit` was given and gave.
    solids
        Shown where solids were made.
    file
        Name of the fitted instrument's file, for the report's trace.
    """
    from borewright.acoustics import sensitivity
    from borewright.documents import (
        developed_drawing,
        fit_report,
        section_drawing,
        write_hole_schedule,
    )

    beside = [
        write_hole_schedule(after, folder / "hole-schedule.csv", result),
        section_drawing(after, folder / "section.svg"),
        developed_drawing(after, folder / "developed.svg"),
    ]
    report = fit_report(
        folder,
        before,
        after,
        result,
        sensitivity(after, fingerings),
        solids,
        file=file,
        files_made=[path.name for path in beside],
    )
    return [report.html, report.pdf, *beside]
