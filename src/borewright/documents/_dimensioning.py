"""Sizes of a view as dimensions: the view's own scale, the reader's numbers, tolerances."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.documents.sheet import Dimension, Layer, Point, Sheet
from borewright.words import Reader


def size_words(words: Reader, value_mm: float) -> str:
    """A size as drawings write it: hundredths, no idle zeros, the reader's decimal sign."""
    return words.number(round(value_mm, 2), "g")


@dataclass(frozen=True)
class View:
    """One view: where its station 0 on the axis lies on paper, its scale, and what it draws on."""

    sheet: Sheet
    origin: Point
    scale: float
    words: Reader

    def at(self, station_mm: float, height_mm: float) -> Point:
        """A place of the part on the paper."""
        return (
            self.origin[0] + station_mm * self.scale,
            self.origin[1] + height_mm * self.scale,
        )

    def line(
        self, points: list[Point], layer: Layer = Layer.OUTLINE, *, closed: bool = False
    ) -> None:
        """A polyline in the part's millimetres."""
        self.sheet.line([self.at(*point) for point in points], layer, closed=closed)

    def level(
        self,
        start: Point,
        end: Point,
        line_at: float,
        *,
        before: str = "",
        tolerance_mm: float | None = None,
        after: str = "",
    ) -> None:
        """Dimension a length; ``line_at`` is on the paper."""
        self._add(start, end, line_at, False, abs(end[0] - start[0]), before, tolerance_mm, after)

    def upright(
        self,
        start: Point,
        end: Point,
        line_at: float,
        *,
        before: str = "",
        tolerance_mm: float | None = None,
        after: str = "",
    ) -> None:
        """Dimension a height; ``line_at`` is on the paper."""
        self._add(start, end, line_at, True, abs(end[1] - start[1]), before, tolerance_mm, after)

    def diameter(
        self, station: float, diameter: float, line_at: float, tolerance_mm: float | None = None
    ) -> None:
        """Dimension a diameter about the axis at a station."""
        half = diameter / 2
        ends = (station, -half), (station, half)
        self.upright(*ends, line_at, before="⌀", tolerance_mm=tolerance_mm)

    def _add(
        self,
        start: Point,
        end: Point,
        line_at: float,
        upright: bool,
        size: float,
        before: str,
        tolerance_mm: float | None,
        after: str,
    ) -> None:
        if tolerance_mm is not None:
            after = f" ±{size_words(self.words, tolerance_mm)}{after}"
        self.sheet.dimensions.append(
            Dimension(
                self.at(*start),
                self.at(*end),
                line_at,
                f"{before}{size_words(self.words, size)}{after}",
                upright,
                1 / self.scale,
                before,
                after,
            )
        )
