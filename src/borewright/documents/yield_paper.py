"""A batch's outlook on two pages that a maker can act on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from borewright.documents._figure import svg_text
from borewright.documents._page import Block, Column, Heading, PaperPage, Paragraph, Picture, Table
from borewright.documents._page import Points as _Points
from borewright.documents._pdf import pdf_bytes
from borewright.documents.cautions import CAUTIONS, Hazard
from borewright.documents.print_plan import PlanTable
from borewright.documents.yield_charts import WIDTH_MM, culprits_figure, yield_curve_figure
from borewright.model import write_bytes
from borewright.model.results.yields import YieldResult
from borewright.words import Reader, Said, Text

#: What reaming, printing and tuning by hand can do to somebody.
_HAZARDS = (Hazard.FUMES, Hazard.DUST, Hazard.BLADES)


@dataclass(frozen=True)
class YieldPaper:
    """What the paper says: the answer in sentences, tables, and how it was reckoned."""

    title: Text
    subtitle: Text
    result: YieldResult
    sentences: Sequence[Said]
    tables: Sequence[PlanTable]
    small_print: Sequence[Said]


def write_yield(paper: YieldPaper, path: Path | str, *, words: Reader) -> Path:
    """Write the two pages as PDF; DocumentsError where the typesetter refuses them."""
    result = paper.result
    first, *more = [words.tell(each) for each in paper.sentences]
    blocks: list[Block] = [Paragraph(first, lead=True)]
    blocks.append(_Points([("", each) for each in more]))
    title = words("Yield over the tolerance")
    blocks.append(
        Picture(
            svg_text(lambda: yield_curve_figure(result, words), title, words), WIDTH_MM,
            words.tell(paper.sentences[0]),
            words("Each standard note counts; the bar is the 95 % interval of what was asked."),
        )
    )  # fmt: skip
    title = words("What spoils it")
    alt = "; ".join(words.tell(one.what) for one in result.kinds)
    blocks.append(
        Picture(
            svg_text(lambda: culprits_figure(result, words), title, words), WIDTH_MM,
            f"{title}: {alt}",
            words("Left by derivatives, right by counting the same builds without it."),
        )
    )  # fmt: skip
    for table in paper.tables:
        columns = [
            Column(words.tell(head), is_text=number in table.texts)
            for number, head in enumerate(table.headings)
        ]
        rows = [[words.tell(cell) for cell in row] for row in table.rows]
        blocks.append(Table(words.tell(table.caption), columns, rows))
    blocks.append(Heading(words("How it was reckoned"), level=3))
    blocks.append(_Points([("", words.tell(each)) for each in paper.small_print]))
    blocks.append(Heading(words("Cautions"), level=3))
    about = [each for each in CAUTIONS if each.hazard in _HAZARDS]
    blocks.append(_Points([(words.tell(each.about), words.tell(each.text)) for each in about]))
    page = PaperPage(words.tell(paper.title), words.tell(paper.subtitle), blocks, words.language)
    write_bytes(Path(path), pdf_bytes(page))
    return Path(path)
