"""A plan for the printer's bench as PDF: whatever sections a door hands over, then the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from borewright.documents._page import Block, Column, Heading, Page, Paragraph, Points, Table
from borewright.documents._pdf import pdf_bytes
from borewright.documents.cautions import CAUTIONS
from borewright.model import write_bytes


@dataclass(frozen=True)
class PlanTable:
    """A table of texts; ``texts`` names the columns that hold words, set to the left."""

    caption: str
    headings: Sequence[str]
    rows: Sequence[Sequence[str]]
    texts: Sequence[int] = (0,)


@dataclass(frozen=True)
class PlanSection:
    """A heading with paragraphs, steps or points, and tables."""

    heading: str
    paragraphs: Sequence[str] = ()
    points: Sequence[str] = ()
    steps: Sequence[str] = ()
    tables: Sequence[PlanTable] = field(default=())


def write_plan(
    path: Path | str, title: str, subtitle: str, sections: Sequence[PlanSection]
) -> Path:
    """Write a plan as PDF, the cautions at its end.

    Raises DocumentsError where the typesetter refuses it.
    """
    blocks: list[Block] = []
    for section in sections:
        blocks.append(Heading(section.heading))
        blocks += [Paragraph(text) for text in section.paragraphs]
        if section.points:
            blocks.append(Points([("", text) for text in section.points]))
        if section.steps:
            blocks.append(Points([("", text) for text in section.steps], steps=True))
        for table in section.tables:
            columns = [
                Column(heading, is_text=number in table.texts)
                for number, heading in enumerate(table.headings)
            ]
            blocks.append(Table(table.caption, columns, table.rows))
    blocks.append(Heading("Cautions"))
    blocks.append(Points([(caution.about, caution.text) for caution in CAUTIONS]))
    target = Path(path)
    write_bytes(target, pdf_bytes(Page(title, subtitle, blocks)))
    return target
