"""The hole schedule as a file: CSV for the spreadsheet, HTML and PDF for the wall."""

from __future__ import annotations

import csv
import dataclasses
import io
from pathlib import Path

from borewright.documents._names import plain
from borewright.documents._page import Page, Paragraph
from borewright.documents._tables import schedule_table
from borewright.documents.schedule import HoleRow, hole_schedule
from borewright.errors import DocumentsError
from borewright.model import FitResult, Instrument, write_bytes, write_text

#: Signs at which spreadsheets take a cell for a formula.
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t")


def write_hole_schedule(
    instrument: Instrument, path: Path | str, fit_result: FitResult | None = None
) -> Path:
    """Write the hole schedule as CSV, HTML or PDF, by the suffix of ``path``.

    Raises DocumentsError for another suffix.
    """
    target = Path(path)
    rows = hole_schedule(instrument, fit_result)
    suffix = target.suffix.lower()
    if suffix == ".csv":
        write_text(target, _csv(rows))
    elif suffix == ".html":
        from borewright.documents._html import html_text

        write_text(target, html_text(_page(instrument, rows)))
    elif suffix == ".pdf":
        from borewright.documents._pdf import pdf_bytes

        write_bytes(target, pdf_bytes(_page(instrument, rows)))
    else:
        raise DocumentsError(
            f"'{target.suffix or target.name}' is not a format of the hole schedule",
            place=str(target),
            remedy="Let the file name end in .csv, .html or .pdf.",
        )
    return target


def _page(instrument: Instrument, rows: list[HoleRow]) -> Page:
    invented = " Invented example, no real instrument." if instrument.invented else ""
    words = f"{len(rows)} holes, from the top down, in millimetres.{invented}"
    if not rows:
        return Page("Hole schedule", instrument.name, [Paragraph("This instrument has no holes.")])
    table = schedule_table(rows, instrument.name)
    return Page("Hole schedule", f"{instrument.name}. {words}", [table], sideways=True)


def _csv(rows: list[HoleRow]) -> str:
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow([field.name for field in dataclasses.fields(HoleRow)])
    for row in rows:
        writer.writerow([_cell(value) for value in dataclasses.astuple(row)])
    return stream.getvalue()


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.3f}".rstrip("0").rstrip(".")
    text = plain(str(value))
    return f"'{text}" if text.startswith(_FORMULA_SIGNS) else text
