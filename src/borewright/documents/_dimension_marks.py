"""How a dimension looks on paper: extension lines, arrowheads, its text (ISO 129-1, ISO 3098)."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.documents.sheet import Dimension, Layer, Line, Point, Text

#: Arrowhead: its length and half its width (mm; 15 degrees of opening).
ARROW = (2.2, 0.29)
TEXT_MM = 1.8
#: A letter's mean width in the drawing's typeface, over a capital's height.
LETTER = 0.85
#: Gap from the outline to an extension line, and how far that goes beyond its dimension (mm).
_GAP, _BEYOND = 0.8, 1.2


@dataclass(frozen=True)
class DimensionMarks:
    """Thin lines, filled arrowheads (three corners each) and the text."""

    lines: list[Line]
    arrows: list[tuple[Point, Point, Point]]
    text: Text


def text_width_mm(text: str, height_mm: float = TEXT_MM) -> float:
    """About how wide a text is (mm)."""
    return len(text) * height_mm * LETTER


def dimension_marks(of: Dimension) -> DimensionMarks:
    """The marks of one dimension. A short one has its arrows outside and its text beside it."""
    if of.upright:
        turned = Dimension(of.start[::-1], of.end[::-1], of.line_at, of.text)
        level = _level(turned)
        return DimensionMarks(
            [Line(tuple(p[::-1] for p in line.points), line.layer) for line in level.lines],
            [(a[::-1], b[::-1], c[::-1]) for a, b, c in level.arrows],
            # Upright text is read from the right: it stands on the left of its line.
            Text(
                (2 * of.line_at - level.text.at[1], level.text.at[0]),
                of.text,
                TEXT_MM,
                level.text.align,
                90.0,
            ),
        )
    return _level(of)


def _level(of: Dimension) -> DimensionMarks:
    (x0, y0), (x1, y1) = sorted((of.start, of.end))
    y = of.line_at
    lines = []
    for x, from_y in ((x0, y0), (x1, y1)):
        way = 1 if y > from_y else -1
        if abs(y - from_y) > _GAP:
            ends = ((x, from_y + way * _GAP), (x, y + way * _BEYOND))
            lines.append(Line(ends, Layer.DIMENSION))
    room = x1 - x0
    inside = room > 2 * ARROW[0] + 1.0
    out = 0.0 if inside else ARROW[0] + 1.5
    fits = room > text_width_mm(of.text) + 0.6
    end = x1 + out if fits else x1 + out + text_width_mm(of.text) + 1.0
    lines.append(Line(((x0 - out, y), (end, y)), Layer.DIMENSION))
    length, half = ARROW
    arrows = []
    for x, way in ((x0, 1 if inside else -1), (x1, -1 if inside else 1)):
        back = x + way * length
        arrows.append(((x, y), (back, y + half), (back, y - half)))
    middle = (x0 + x1) / 2 if fits else x1 + out + 0.6
    text = Text((middle, y + 1.5), of.text, TEXT_MM, "center" if fits else "left")
    return DimensionMarks(lines, arrows, text)
