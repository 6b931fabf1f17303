"""The inspection sheet: every size to measure, its limits, the tool, and a box for what was found.

The same rows are written as a table that is read back as gauge readings.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from borewright.documents.gauges import GaugeTool, part_gauge_plan, plugs_to_turn
from borewright.documents.sheet import PAPERS, Layer, Sheet
from borewright.documents.title_block import HEIGHT_MM, TitleBlock, draw_title_block
from borewright.documents.tolerances import JOINT_TOLERANCE_MM, Tolerances
from borewright.model import Instrument, Part, write_text
from borewright.model.files.tables import TableWriter
from borewright.words import ENGLISH, Message, Reader, say, say_as

PAPER = "A4"
#: A tube's height from the rim to the bore's wall, plus or minus (mm, from memory).
HEIGHT_TOLERANCE_MM = 0.2
#: Rows of this height can be written into (mm).
_ROW_MM = 4.4
#: Width of the box for what was measured (mm).
_BOX_MM = 17.5
COLUMNS = (
    "item", "part", "hole", "station_mm", "nominal_mm", "lower_mm", "upper_mm", "tool", "value",
    "comment", "kind", "drawn_mm", "bed", "lot",
)  # fmt: skip

_ITEMS = {
    "length": say("length"),
    "bore": say("bore"),
    "tenon_top": say("top tenon"),
    "tenon_bottom": say("bottom tenon"),
    "socket_top": say("top socket"),
    "socket_bottom": say("bottom socket"),
    "diameter": say("diameter"),
    "height": say("height"),
}


@dataclass(frozen=True)
class InspectionRow:
    """One size to measure (mm); ``item`` is the word of the gauge readings' table.

    Of a printed body ``kind`` says in which way printers get it wrong, ``drawn_mm`` what went to
    the printer, ``from_bed`` whether it begins on the bed, and ``lot`` of which material it is.
    """

    item: str
    part: str
    nominal_mm: float
    tolerance_mm: float
    tool: Message
    hole: str = ""
    station_mm: float | None = None
    kind: str = ""
    drawn_mm: float | None = None
    from_bed: bool = False
    lot: str = ""

    @property
    def lower_mm(self) -> float:
        """Least that passes."""
        return self.nominal_mm - self.tolerance_mm

    @property
    def upper_mm(self) -> float:
        """Most that passes."""
        return self.nominal_mm + self.tolerance_mm


def inspection_rows(part: Part, tolerances: Tolerances) -> list[InspectionRow]:
    """Everything to measure on one part: length, joints, bore at its gauges' stations, holes."""
    calliper = say("calliper")
    rows = [
        InspectionRow("length", part.name, part.length_mm, tolerances.length(part.name), calliper)
    ]
    for joint in ("tenon_top", "socket_top", "tenon_bottom", "socket_bottom"):
        if shape := getattr(part, joint):
            size = shape.diameter_mm
            rows.append(InspectionRow(joint, part.name, size, JOINT_TOLERANCE_MM, calliper))
    for each in part_gauge_plan(part, tolerances.bore(part.name)):
        # A reading says nothing of a step's side: the wider bore is gauged from its own end.
        if each.side >= 0:
            found_by = GaugeTool.BORE_GAUGE if each.tool is GaugeTool.PLUGS else each.tool
            half = (each.no_go_mm - each.go_mm) / 2
            rows.append(
                InspectionRow(
                    "bore", part.name, each.nominal_mm, half, found_by.words,
                    station_mm=each.station_mm,
                )
            )  # fmt: skip
    for hole in sorted(part.holes, key=lambda hole: hole.station_mm):
        size, limit = hole.diameter_mm, tolerances.hole(hole.name)
        rows.append(
            InspectionRow("diameter", part.name, size, limit, say("pin gauge"), hole=hole.name)
        )
        height = part.tube_height_mm(hole)
        tool = say("depth gauge")
        rows.append(
            InspectionRow("height", part.name, height, HEIGHT_TOLERANCE_MM, tool, hole=hole.name)
        )
    return rows


def write_inspection(
    rows: Sequence[InspectionRow], path: Path | str, *, words: Reader = ENGLISH
) -> Path:
    """Write the rows as CSV (mm); the column ``value`` is empty, for what is measured."""
    stream = io.StringIO()
    writer = TableWriter(stream)
    writer.writerow(COLUMNS)
    for row in rows:
        station = "" if row.station_mm is None else f"{row.station_mm:.2f}"
        sizes = [f"{size:.3f}" for size in (row.nominal_mm, row.lower_mm, row.upper_mm)]
        writer.writerow(
            [
                row.item,
                row.part,
                row.hole,
                station,
                *sizes,
                words.tell(row.tool),
                "",
                "",
                row.kind,
                "" if row.drawn_mm is None else f"{row.drawn_mm:.4f}",
                "bed" if row.from_bed else "",
                row.lot,
            ]
        )
    target = Path(path)
    write_text(target, stream.getvalue())
    return target


def inspection_sheets(
    instrument: Instrument,
    part: Part,
    tolerances: Tolerances,
    block: TitleBlock | None = None,
    *,
    rows: Sequence[InspectionRow] | None = None,
    words: Reader = ENGLISH,
) -> list[Sheet]:
    """Sheets on A4 with nominal size, limits, tool and an empty box for every size of a part.

    ``rows`` are those to measure, where they are not just :func:`inspection_rows`.
    """
    rows = inspection_rows(part, tolerances) if rows is None else rows
    width, height = PAPERS[PAPER]
    top = height - 24.0
    lines = int((top - 14.0 - HEIGHT_MM - 8.0) / _ROW_MM)
    pages = [rows[start : start + 2 * lines] for start in range(0, len(rows), 2 * lines)]
    sheets = []
    for number, page in enumerate(pages, 1):
        sheet = Sheet(f"{instrument.name}: {part.name}", width, height)
        sheet.frame()
        sheet.text(20.0, height - 13.0, words("Inspection sheet: {part}", part=part.name),
                   height=2.8, bold=True)  # fmt: skip
        told = words("Serial no. ______________   measured by ______________   date ____________")
        sheet.text(20.0, height - 18.5, told, height=1.8)
        for column in range(2):
            some = page[column * lines : (column + 1) * lines]
            if some:
                _table(sheet, some, 14.0 + 137.0 * column, top, words)
        if number == len(pages):
            plugs = plugs_to_turn(part_gauge_plan(part, tolerances.bore(part.name)))
            sizes = " ".join(f"⌀{words.number(size, '.2f')}" for size in plugs) or words("none")
            for at, line in enumerate(_wrapped(words("Plugs to turn: {sizes}.", sizes=sizes))):
                sheet.text(14.0, 36.0 - 3.2 * at, line, height=1.7)
        draw_title_block(
            sheet,
            replace(block or TitleBlock()),
            instrument=instrument.name,
            part=part.name,
            kind=words("inspection sheet {number} of {of}", number=number, of=len(pages)),
            scale="–",
            paper=PAPER,
            words=words,
        )
        sheets.append(sheet)
    return sheets


def _wrapped(text: str, most: int = 52) -> list[str]:
    lines = [""]
    for word in text.split():
        if len(lines[-1]) + len(word) > most:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


def _table(
    sheet: Sheet, rows: Sequence[InspectionRow], x: float, top: float, words: Reader
) -> None:
    heads = [
        (words("what"), 19.0), (words("hole"), 9.0), (words("station"), 12.5),
        (words("nominal"), 13.5), (words.tell(say_as("limit", "least")), 15.0),
        (words.tell(say_as("limit", "most")), 13.5), (words("tool"), 32.0),
        (words("measured"), _BOX_MM),
    ]  # fmt: skip
    cells = [
        (
            words.tell(_ITEMS[row.item]),
            row.hole,
            "" if row.station_mm is None else words.number(row.station_mm, ".2f"),
            words.number(row.nominal_mm, ".2f"),
            words.number(row.lower_mm, ".2f"),
            words.number(row.upper_mm, ".2f"),
            words.tell(row.tool),
            "",
        )
        for row in rows
    ]
    end = sheet.table(x, top, heads, cells, step=_ROW_MM, height=1.6)
    wide = sum(each for _, each in heads)
    for number in range(len(rows)):
        y = top - _ROW_MM * (number + 2)
        sheet.line([(x, y), (x + wide, y)], Layer.FRAME)
    box = x + wide - _BOX_MM
    sheet.line([(box, top - _ROW_MM), (box, end)], Layer.FRAME)
