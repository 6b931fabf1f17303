"""The report of a fit, as one HTML page and one PDF with the same content."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.documents._figure import MM_PER_INCH, svg_text
from borewright.documents._page import Picture
from borewright.documents._report_page import ReportMatter, report_page
from borewright.documents._words import summary_sentences
from borewright.errors import DocumentsError
from borewright.model import (
    ErrorBars,
    FitResult,
    Instrument,
    SensitivityMap,
    SolidsReport,
    write_bytes,
    write_text,
)
from borewright.words import ENGLISH, Reader, joined, say

if TYPE_CHECKING:
    from borewright.documents.keys_picture import ShownKeys
    from borewright.model.results.choices import DesignFamily

#: Pictures a report may hold, in the order they appear.
PICTURES = ("section", "developed", "keys", "tuning", "trade-off", "twelfths", "sensitivity")
TEXT_WIDTH_MM = 186.0  # A4 less its margins


@dataclass(frozen=True)
class ReportFiles:
    """Where the report was written."""

    html: Path
    pdf: Path


def fit_report(
    folder: Path | str,
    instrument_before: Instrument,
    instrument_after: Instrument,
    fit_result: FitResult,
    sensitivity: SensitivityMap | None = None,
    solids: SolidsReport | None = None,
    pictures: Sequence[str] = PICTURES,
    *,
    error_bars: ErrorBars | None = None,
    tolerance_cents: float = 10.0,
    file: str = "",
    date: str = "",
    files_made: Sequence[str] = (),
    keys: ShownKeys | None = None,
    family: DesignFamily | None = None,
    words: Reader = ENGLISH,
) -> ReportFiles:
    """Write ``report.html`` and ``report.pdf`` into a folder.

    Parameters
    ----------
    folder
        Where to write; it is made if missing.
    instrument_before, instrument_after
        The instrument as it came to the fit, and as the fit left it.
    fit_result
        Tuning before and after, moves, notes out of reach, findings.
    sensitivity, solids
        Shown where they are given.
    error_bars
        How sure each note is; shown by register where given.
    pictures
        Which of :data:`PICTURES` to show.
    tolerance_cents
        Half the width of the band that counts as within.
    file
        Name of the instrument's file, with its revision if it has one.
    date
        A date to print; none is printed by itself, so the same input gives the same bytes.
    files_made
        Names of further files that belong to this report.
    keys
        The keys, shown where they are given.
    family
        Designs along the trade-off, shown where they are given.
    words
        Who reads it: every text is told in this reader's language.

    Raises
    ------
    DocumentsError
        For an unknown picture, or a page the typesetter refuses.
    """
    from borewright.documents._html import html_text
    from borewright.documents._pdf import pdf_bytes

    unknown = [name for name in pictures if name not in PICTURES]
    if unknown:
        raise DocumentsError(
            say("there is no picture called '{picture}'", picture=unknown[0]),
            place=(say("report"), "pictures"),
            remedy=say("Choose among {names}.", names=", ".join(PICTURES)),
        )
    matter = ReportMatter(
        before=instrument_before,
        after=instrument_after,
        result=fit_result,
        sensitivity=sensitivity,
        solids=solids,
        error_bars=error_bars,
        tolerance_cents=tolerance_cents,
        file=file,
        date=date,
        files_made=files_made,
        keys=keys,
        family=family,
        words=words,
    )
    page = report_page(matter, _pictures(matter, pictures))
    target = Path(folder)
    files = ReportFiles(target / "report.html", target / "report.pdf")
    html, pdf = html_text(page), pdf_bytes(page)
    write_text(files.html, html)
    write_bytes(files.pdf, pdf)
    return files


def _pictures(matter: ReportMatter, wanted: Sequence[str]) -> dict[str, Picture]:
    from borewright.documents.developed import developed_figure
    from borewright.documents.keys_picture import keys_figure
    from borewright.documents.section import section_figure
    from borewright.documents.sensitivity import sensitivity_figure
    from borewright.documents.trade_off import trade_off_figure
    from borewright.documents.tuning import tuning_figure
    from borewright.documents.twelfths import twelfths_figure

    instrument, result, words = matter.after, matter.result, matter.words
    holes = [
        say("{hole} at {station_mm:.1f}", hole=hole.name, station_mm=station)
        for _, hole, station in instrument.placed_holes()
    ]
    stretches = [twelfth.stretch_cents for twelfth in result.after.twelfths]
    made: dict[str, Picture] = {}
    if "section" in wanted:
        made["section"] = _picture(
            lambda: section_figure(instrument, TEXT_WIDTH_MM, words=words),
            words(
                "Longitudinal section of {instrument}: {parts}. Holes in mm from the top of the "
                "first part: {holes}.",
                instrument=instrument.name,
                parts=joined((part.name for part in instrument.parts), ", "),
                holes=joined(holes or [say("none")], "; "),
            ),
            words(
                "The assembled instrument after the fit. The PDF printed at full size keeps the "
                "scale; elsewhere measure the bar."
            ),
            words,
        )
    if "developed" in wanted:
        made["developed"] = _picture(
            lambda: developed_figure(instrument, TEXT_WIDTH_MM, words=words),
            words(
                "The outside of {instrument} unrolled, each hole at its station and bearing.",
                instrument=instrument.name,
            ),
            words("Holes and pads where they stand on the outside."),
            words,
        )
    if "keys" in wanted and matter.keys is not None:
        shown = matter.keys
        made["keys"] = _picture(
            lambda: keys_figure(shown, TEXT_WIDTH_MM, words),
            words(
                "The keys on the joints from the front, the left, the back and the right: {keys}.",
                keys=joined((each.name for each in shown.names), ", "),
            ),
            words("The keys at rest, drawn from the key survey."),
            words,
        )
    if "tuning" in wanted and result.after.notes:
        tolerance = matter.tolerance_cents
        said = summary_sentences(result.before, result.after, tolerance)
        made["tuning"] = _picture(
            lambda: tuning_figure(result.before, result.after, tolerance, words=words),
            words(
                "Cents of every fingering before and after the fit. {summary}", summary=joined(said)
            ),
            words("Every fingering by register. The figures are in the table below."),
            words,
        )
    if "trade-off" in wanted and matter.family:
        family = matter.family
        made["trade-off"] = _picture(
            lambda: trade_off_figure(family, words=words),
            words(
                "Root mean square of the cents of {count} designs by how many steps each is away "
                "from the drawing, from {first:.1f} for the drawing to {last:.1f} cents.",
                count=len(family.designs),
                first=family.designs[0].rms_cents,
                last=family.designs[-1].rms_cents,
            ),
            words("Designs from the drawing to limits wide open."),
            words,
        )
    if "twelfths" in wanted and stretches:
        made["twelfths"] = _picture(
            lambda: twelfths_figure(result.after, words=words),
            words(
                "Twelfths from {low_cents:+.1f} to {high_cents:+.1f} cents from pure.",
                low_cents=min(stretches),
                high_cents=max(stretches),
            ),
            words("Twelfths after the fit."),
            words,
        )
    if "sensitivity" in wanted and matter.sensitivity:
        sensitivity = matter.sensitivity
        made["sensitivity"] = _picture(
            lambda: sensitivity_figure(sensitivity, words=words),
            words(
                "Cents for a tenth of a millimetre: {count} fingerings by the diameters and "
                "stations of the holes.",
                count=len(sensitivity.fingerings),
            ),
            words("Sensitivities, computed with {level}.", level=sensitivity.model_level),
            words,
        )
    return made


def _picture(build: Callable[[], Any], alt: str, caption: str, words: Reader) -> Picture:
    svg = svg_text(build, caption, words)
    width = re.search(r'<svg[^>]*? width="([0-9.]+)pt"', svg)
    if not width:
        raise DocumentsError(
            say("a picture came without its width"),
            place=say("report"),
            remedy=say("Make the report again; without pictures it is not written."),
        )
    return Picture(svg, float(width.group(1)) / 72 * MM_PER_INCH, alt, caption)
