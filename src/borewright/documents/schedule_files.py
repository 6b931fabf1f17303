"""The hole schedule as a file: CSV for the spreadsheet, HTML and PDF for the wall."""

from __future__ import annotations

import dataclasses
import io
from pathlib import Path

from borewright.documents._names import plain
from borewright.documents._page import PaperPage, Paragraph
from borewright.documents._tables import schedule_table
from borewright.documents.schedule import HoleRow, hole_schedule
from borewright.errors import DocumentsError
from borewright.model import FitResult, Instrument, write_bytes, write_text
from borewright.model.files.tables import TableWriter
from borewright.words import ENGLISH, Joined, Message, Reader, say


def write_hole_schedule(
    instrument: Instrument,
    path: Path | str,
    fit_result: FitResult | None = None,
    *,
    words: Reader = ENGLISH,
) -> Path:
    """Write the hole schedule as CSV, HTML or PDF, by the suffix of ``path``.

    The CSV is the same in every language, for it is read by machines; only limits are told.
    Raises DocumentsError for another suffix.
    """
    target = Path(path)
    rows = hole_schedule(instrument, fit_result)
    suffix = target.suffix.lower()
    if suffix == ".csv":
        write_text(target, _csv(rows, words))
    elif suffix == ".html":
        from borewright.documents._html import html_text

        write_text(target, html_text(_page(instrument, rows, words)))
    elif suffix == ".pdf":
        from borewright.documents._pdf import pdf_bytes

        write_bytes(target, pdf_bytes(_page(instrument, rows, words)))
    else:
        raise DocumentsError(
            say(
                "'{suffix}' is not a format of the hole schedule",
                suffix=target.suffix or target.name,
            ),
            place=str(target),
            remedy=say("Let the file name end in .csv, .html or .pdf."),
        )
    return target


def _page(instrument: Instrument, rows: list[HoleRow], words: Reader) -> PaperPage:
    title = words("Hole schedule")
    if not rows:
        nothing = Paragraph(words("This instrument has no holes."))
        return PaperPage(title, instrument.name, [nothing], words.language)
    subtitle = words.many(
        "{instrument}. {count} hole, in millimetres.",
        "{instrument}. {count} holes, from the top down, in millimetres.",
        len(rows),
        instrument=instrument.name,
    )
    if instrument.invented:
        subtitle = f"{subtitle} {words('Invented example, no real instrument.')}"
    table = schedule_table(rows, instrument.name, words)
    return PaperPage(title, subtitle, [table], words.language, sideways=True)


def _csv(rows: list[HoleRow], words: Reader) -> str:
    stream = io.StringIO()
    writer = TableWriter(stream)
    writer.writerow([field.name for field in dataclasses.fields(HoleRow)])
    for row in rows:
        values = (getattr(row, field.name) for field in dataclasses.fields(row))
        writer.writerow([_cell(value, words) for value in values])
    return stream.getvalue()


def _cell(value: object, words: Reader) -> str:
    if value is None:
        return ""
    if isinstance(value, Message | Joined):
        value = words.tell(value)
    if isinstance(value, float):
        return f"{value:.3f}".rstrip("0").rstrip(".")
    return plain(str(value))
