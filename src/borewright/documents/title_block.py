"""A drawing's title block after ISO 7200, 180 mm wide, with the projection's symbol."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.documents.sheet import Layer, Sheet
from borewright.words import Message, Reader, Text, say

WIDTH_MM, HEIGHT_MM = 180.0, 46.0
#: What each row takes; the last is to be written in by hand.
_ROWS_MM = (12.0, 12.0, 12.0, 10.0)


@dataclass(frozen=True)
class TitleBlock:
    """What the drawing's file and its place among the others say of it.

    ``date`` is that of the instrument's file (ISO 8601), ``digest`` the file's SHA-256 in
    hexadecimal; its first eight figures are the revision. ``number`` is this sheet's of ``of``.
    """

    material: Text = ""
    date: str = ""
    file: str = ""
    digest: str = ""
    number: int = 1
    of: int = 1

    @property
    def revision(self) -> str:
        """What tells one state of the file from the next."""
        return self.digest[:8]


def draw_title_block(
    sheet: Sheet,
    block: TitleBlock,
    *,
    instrument: str,
    part: str,
    kind: str,
    scale: str,
    paper: str,
    words: Reader,
) -> None:
    """Draw the block into the frame's lower right corner."""
    right, low = sheet.width_mm - 10.0, 10.0
    left, top = right - WIDTH_MM, low + HEIGHT_MM
    sheet.line([(left, low), (right, low), (right, top), (left, top)], Layer.FRAME, closed=True)
    cells: tuple[tuple[tuple[Message, str, float], ...], ...] = (
        (
            (say("instrument"), instrument, 62.0),
            (say("part"), part, 62.0),
            (say("scale"), scale, 22.0),
            (say("projection"), "", 34.0),
        ),
        (
            (say("kind of drawing"), kind, 62.0),
            (say("material"), words.tell(block.material), 62.0),
            (say("paper"), paper, 22.0),
            (say("sheet"), f"{block.number} / {block.of}", 34.0),
        ),
        (
            (say("file"), block.file, 62.0),
            (say("SHA-256 of the file"), block.digest[:24], 62.0),
            (say("revision"), block.revision, 22.0),
            (say("date of the file"), block.date, 34.0),
        ),
        (
            (say("owner"), "", 62.0),
            (say("drawn by"), "", 42.0),
            (say("approved by"), "", 42.0),
            (say("approved on"), "", 34.0),
        ),
    )
    y = top
    for row, (of, high) in enumerate(zip(cells, _ROWS_MM, strict=True)):
        x = left
        if row:
            sheet.line([(left, y), (right, y)], Layer.FRAME)
        for number, (heading, text, wide) in enumerate(of):
            if number:
                sheet.line([(x, y), (x, y - high)], Layer.FRAME)
            sheet.text(x + 1.2, y - 2.2, words.tell(heading), height=1.3)
            size = 2.6 if len(text) * 2.2 < wide - 3 else 1.7
            sheet.text(x + 1.2, y - 7.6, text, height=size, bold=row == 0)
            x += wide
        y -= high
    _first_angle(sheet, right - 26.0, top - 7.4)


def _first_angle(sheet: Sheet, x: float, y: float) -> None:
    """The symbol of first-angle projection (ISO 5456-2): a cone's frustum, its left view right."""
    sheet.line([(x, y + 1.5), (x + 8, y + 3), (x + 8, y - 3), (x, y - 1.5)], closed=True)
    for radius in (1.5, 3.0):
        sheet.circle((x + 16, y), radius)
    sheet.line([(x - 1.5, y), (x + 9.5, y)], Layer.CENTRE)
    sheet.line([(x + 11.5, y), (x + 20.5, y)], Layer.CENTRE)
    sheet.line([(x + 16, y - 4.5), (x + 16, y + 4.5)], Layer.CENTRE)
