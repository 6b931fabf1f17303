"""A plan for the printer's bench as PDF: whatever sections a door hands over, then the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from borewright.documents._page import Block, Column, Heading, PaperPage, Paragraph, Points, Table
from borewright.documents._pdf import pdf_bytes
from borewright.documents.cautions import CAUTIONS
from borewright.model import write_bytes
from borewright.words import ENGLISH, Reader, Text


@dataclass(frozen=True)
class PlanTable:
    """A table of texts; ``texts`` names the columns that hold words, set to the left."""

    caption: Text
    headings: Sequence[Text]
    rows: Sequence[Sequence[Text]]
    texts: Sequence[int] = (0,)


@dataclass(frozen=True)
class PlanSection:
    """A heading with paragraphs, steps or points, and tables."""

    heading: Text
    paragraphs: Sequence[Text] = ()
    points: Sequence[Text] = ()
    steps: Sequence[Text] = ()
    tables: Sequence[PlanTable] = field(default=())


def write_plan(
    path: Path | str,
    title: Text,
    subtitle: Text,
    sections: Sequence[PlanSection],
    *,
    words: Reader = ENGLISH,
) -> Path:
    """Write a plan as PDF, the cautions at its end, in the reader's language.

    Raises DocumentsError where the typesetter refuses it.
    """
    blocks: list[Block] = []
    for section in sections:
        blocks.append(Heading(words.tell(section.heading)))
        blocks += [Paragraph(words.tell(text)) for text in section.paragraphs]
        if section.points:
            blocks.append(Points([("", words.tell(text)) for text in section.points]))
        if section.steps:
            blocks.append(Points([("", words.tell(text)) for text in section.steps], steps=True))
        for table in section.tables:
            columns = [
                Column(words.tell(heading), is_text=number in table.texts)
                for number, heading in enumerate(table.headings)
            ]
            rows = [[words.tell(cell) for cell in row] for row in table.rows]
            blocks.append(Table(words.tell(table.caption), columns, rows))
    blocks.append(Heading(words("Cautions")))
    blocks.append(Points([(words.tell(each.about), words.tell(each.text)) for each in CAUTIONS]))
    target = Path(path)
    write_bytes(
        target,
        pdf_bytes(PaperPage(words.tell(title), words.tell(subtitle), blocks, words.language)),
    )
    return target
