"""The report of a fit with everything a workshop takes to the bench."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from borewright.model import (
    Finding,
    FingeringTable,
    FitResult,
    Instrument,
    KeySet,
    Severity,
    SolidsReport,
)
from borewright.model.results.choices import DesignFamily
from borewright.tasks.keys_picture import shown_keys
from borewright.tasks.outputs import path_from
from borewright.words import ENGLISH, Reader


def write_report(
    folder: Path,
    before: Instrument,
    after: Instrument,
    result: FitResult,
    fingerings: FingeringTable,
    *,
    solids: Callable[[], SolidsReport] | None = None,
    file: str = "",
    side_holes: str | None = None,
    keys: KeySet | None = None,
    family: DesignFamily | None = None,
    words: Reader = ENGLISH,
) -> list[Path]:
    """Write report (HTML and PDF), hole schedule (CSV) and drawings (SVG); the report first.

    Parameters
    ----------
    folder
        Where to write; made if missing.
    before, after, result, fingerings
        What :func:`borewright.fit.fit` was given and gave.
    solids
        Asked for the solids that were made, when everything else is ready: they may still be
        in the making.
    file
        Name of the fitted instrument's file, for the report's trace.
    side_holes
        The level of the fit, for sensitivities and error bars.
    keys
        The instrument's keys; shown where they are given, and what the check says of them
        stands among the report's findings.
    family
        Designs along the trade-off; shown where they are given.
    words
        Who reads the report and the drawings.
    """
    from borewright.acoustics import error_bars, sensitivity
    from borewright.documents import (
        developed_drawing,
        fit_report,
        keys_drawing,
        section_drawing,
        write_hole_schedule,
    )

    sensitivities = sensitivity(after, fingerings, side_holes=side_holes)
    beside = [
        write_hole_schedule(after, folder / "hole-schedule.csv", result, words=words),
        section_drawing(after, folder / "section.svg", words=words),
        developed_drawing(after, folder / "developed.svg", words=words),
    ]
    shown = shown_keys(after, keys) if keys is not None else None
    if shown is not None:
        beside.append(keys_drawing(shown, folder / "keys.png", words=words))
    if keys is not None:
        told = [*result.findings, *_of_keys(after, keys, fingerings)]
        told.sort(key=lambda one: one.severity is not Severity.FAULT)
        result = result.model_copy(update={"findings": told})
    report = fit_report(
        folder,
        before,
        after,
        result,
        sensitivities,
        _seen_from(folder, solids()) if solids else None,
        error_bars=error_bars(after, fingerings, side_holes=side_holes),
        file=file,
        files_made=[path.name for path in beside],
        keys=shown,
        family=family,
        words=words,
    )
    return [report.html, report.pdf, *beside]


def _of_keys(instrument: Instrument, keys: KeySet, table: FingeringTable) -> list[Finding]:
    from borewright.keywork import fingering_findings, key_findings

    return [*key_findings(instrument, keys), *fingering_findings(instrument, keys, table)]


def _seen_from(folder: Path, solids: SolidsReport) -> SolidsReport:
    """The same report, its files named as the report's reader finds them."""
    parts = [
        part.model_copy(
            update={
                key: path_from(folder, Path(getattr(part, key)))
                for key in ("step", "stl", "three_mf")
            }
        )
        for part in solids.parts
    ]
    return solids.model_copy(update={"parts": parts})
