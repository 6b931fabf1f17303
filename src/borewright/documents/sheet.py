"""A drawing sheet as lines, circles, arcs, dimensions and texts in millimetres of paper.

Every format is written from these; a DXF keeps each as the entity that it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum

Point = tuple[float, float]

#: ISO 216 sizes, landscape (mm).
PAPERS: dict[str, tuple[float, float]] = {"A4": (297.0, 210.0), "A3": (420.0, 297.0)}


class Layer(StrEnum):
    """What a line is for; it decides its width and, in DXF, its layer."""

    OUTLINE = "outline"
    HIDDEN = "hidden"
    CENTRE = "centre"
    CUT = "cut"
    HOLE = "hole"
    POST = "post"
    DIMENSION = "dimension"
    DRILL = "drill"
    FRAME = "frame"
    TEXT = "text"


@dataclass(frozen=True)
class Line:
    """A polyline; ``filled`` ones are closed and tinted in print."""

    points: tuple[Point, ...]
    layer: Layer = Layer.OUTLINE
    closed: bool = False
    filled: bool = False
    name: str = ""


@dataclass(frozen=True)
class Text:
    """One line of text; ``height_mm`` is that of a capital, ``align`` left, center or right."""

    at: Point
    text: str
    height_mm: float = 2.0
    align: str = "left"
    angle_deg: float = 0.0
    bold: bool = False


@dataclass(frozen=True)
class Circle:
    """A circle, or the arc of it from one angle to another (degrees, anticlockwise from +x)."""

    at: Point
    radius: float
    layer: Layer = Layer.OUTLINE
    start_deg: float = 0.0
    end_deg: float = 360.0
    name: str = ""

    @property
    def whole(self) -> bool:
        """Whether it goes all the way round."""
        return self.end_deg - self.start_deg >= 360.0


@dataclass(frozen=True)
class Dimension:
    """A size between two points of the drawing, level or upright (ISO 129-1).

    ``line_at`` is where its line lies: the height of a level one, the place across of an
    upright one. ``text`` is what it says, decimal sign and tolerance included; ``ratio`` is how
    many millimetres of the part one millimetre of its view stands for. ``before`` and ``after``
    are what stands beside the measured size in a format that measures by itself.
    """

    start: Point
    end: Point
    line_at: float
    text: str
    upright: bool = False
    ratio: float = 1.0
    before: str = ""
    after: str = ""

    @property
    def measured_mm(self) -> float:
        """What the drawing measures there, on the part."""
        axis = 1 if self.upright else 0
        return abs(self.end[axis] - self.start[axis]) * self.ratio


@dataclass
class Sheet:
    """A sheet of paper and what is on it; the origin is the lower left corner.

    ``unit`` is how many millimetres of the part one millimetre of the main view stands for: a
    DXF, which has no paper, is drawn at the part's own size.
    """

    title: str
    width_mm: float
    height_mm: float
    lines: list[Line] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    circles: list[Circle] = field(default_factory=list)
    dimensions: list[Dimension] = field(default_factory=list)
    unit: float = 1.0

    def line(
        self,
        points: Sequence[Point],
        layer: Layer = Layer.OUTLINE,
        *,
        closed: bool = False,
        filled: bool = False,
        name: str = "",
    ) -> None:
        """Add a polyline."""
        self.lines.append(Line(tuple(points), layer, closed, filled, name))

    def circle(
        self,
        at: Point,
        radius: float,
        layer: Layer = Layer.OUTLINE,
        *,
        start_deg: float = 0.0,
        end_deg: float = 360.0,
        name: str = "",
    ) -> None:
        """Add a circle or an arc."""
        self.circles.append(Circle(at, radius, layer, start_deg, end_deg, name))

    def text(
        self,
        x: float,
        y: float,
        text: str,
        *,
        height: float = 2.0,
        align: str = "left",
        angle: float = 0.0,
        bold: bool = False,
    ) -> None:
        """Add a text; y is its middle."""
        self.texts.append(Text((x, y), text, height, align, angle, bold))

    def table(
        self,
        x: float,
        top: float,
        columns: Sequence[tuple[str, float]],
        rows: Sequence[Sequence[str]],
        *,
        caption: str = "",
        step: float = 3.6,
        height: float = 1.7,
    ) -> float:
        """Add a table whose columns are (heading, width in mm); returns where it ends (y)."""
        y = top
        if caption:
            self.text(x, y - step / 2, caption, height=height * 1.15, bold=True)
            y -= step * 1.15
        width = sum(wide for _, wide in columns)
        left = x
        for heading, wide in columns:
            self.text(left + 0.8, y - step / 2, heading, height=height, bold=True)
            left += wide
        y -= step
        self.line([(x, y), (x + width, y)], Layer.FRAME)
        for row in rows:
            left = x
            for cell, (_, wide) in zip(row, columns, strict=True):
                self.text(left + 0.8, y - step / 2, cell, height=height)
                left += wide
            y -= step
        self.line([(x, y), (x + width, y)], Layer.FRAME)
        return y

    def frame(self, margin: float = 6.0) -> None:
        """The border."""
        low, right, top = margin, self.width_mm - margin, self.height_mm - margin
        self.line([(low, low), (right, low), (right, top), (low, top)], Layer.FRAME, closed=True)
