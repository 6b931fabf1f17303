"""Lengths from a square-on photograph: a scale, the lens's distance, and clicked points.

A pinhole: a point k nearer to the lens than the scale's plane shows displaced from the picture's
middle by offset × k / (distance − k). Lens distortion is not corrected: keep to the middle third.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.errors import KeyworkError
from borewright.model.circles import fitted_circle
from borewright.words import say

#: A click is right within so many pixels (from memory).
CLICK_PX = 1.5


@dataclass(frozen=True)
class Photograph:
    """How pixels become millimetres: the scale's two clicked ends, and where the lens was.

    ``middle_px`` is the picture's middle, ``distance_mm`` from the lens to the scale's plane;
    ``along`` points down the instrument in pixels; a click is right within ``click_px``, more
    where the picture was shown smaller than it is.
    """

    scale_px: tuple[tuple[float, float], tuple[float, float]]
    scale_mm: float
    middle_px: tuple[float, float]
    distance_mm: float
    along: tuple[float, float] = (1.0, 0.0)
    click_px: float = CLICK_PX

    @property
    def mm_per_px(self) -> float:
        """Millimetres a pixel in the scale's plane; KeyworkError where its ends are one."""
        one, other = np.array(self.scale_px)
        apart = float(np.linalg.norm(other - one))
        if apart < 1.0 or self.scale_mm <= 0:
            raise KeyworkError(
                say("the scale's two ends are one and the same"),
                remedy=say("Click both ends of the scale, and give its length in mm."),
            )
        return self.scale_mm / apart

    def place_mm(self, pixel: tuple[float, float], nearer_mm: float = 0.0) -> tuple[float, float]:
        """Along and across (mm, from the picture's middle) of a clicked point.

        ``nearer_mm`` is how much nearer to the lens than the scale it stands; parallax is taken
        back by it. Raises KeyworkError where that would lie behind the lens.
        """
        if nearer_mm >= self.distance_mm:
            raise KeyworkError(
                say(
                    "a point {nearer_mm:g} mm over the scale lies behind the lens",
                    nearer_mm=nearer_mm,
                ),
                remedy=say("Give the distance from the lens to the scale in mm."),
            )
        shown = (np.array(pixel) - np.array(self.middle_px)) * self.mm_per_px
        true = shown * (self.distance_mm - nearer_mm) / self.distance_mm
        way = np.array(self.along) / np.linalg.norm(self.along)
        # In pictures rows run downwards: across is a quarter turn against the clock as seen.
        across = np.array([way[1], -way[0]])
        return float(true @ way), float(true @ across)

    def uncertainty_mm(
        self, pixel: tuple[float, float], nearer_mm: float, nearer_off_mm: float = 0.5
    ) -> float:
        """Standard uncertainty of such a point: clicks on it and the scale, and its height."""
        size = self.mm_per_px
        offset = float(np.linalg.norm(np.array(pixel) - np.array(self.middle_px))) * size
        click = self.click_px * size
        scale = offset * np.sqrt(2) * click / self.scale_mm
        height = offset * nearer_off_mm / self.distance_mm
        return float(np.sqrt(click**2 + scale**2 + height**2))


def parallax_mm(offset_mm: float, nearer_mm: float, distance_mm: float) -> float:
    """How far a point seems displaced that stands ``nearer_mm`` before the scale's plane.

    ``offset_mm`` is its distance from the middle of the picture: offset × k / (distance − k), by
    similar triangles.
    """
    return offset_mm * nearer_mm / (distance_mm - nearer_mm)


def circle_of(points_mm: np.ndarray) -> tuple[float, float, float]:
    """Middle and radius (mm) of a circle through three or more clicked points of a rim.

    KeyworkError for points in one line.
    """
    points = np.asarray(points_mm, dtype=float)
    matrix = np.column_stack([2 * points, np.ones(len(points))])
    if len(points) < 3 or np.linalg.matrix_rank(matrix, tol=1e-6) < 3:
        raise KeyworkError(
            say("a rim needs three points that are not in one line"),
            remedy=say("Click the rim at three places or more, well apart."),
        )
    (x, y), radius = fitted_circle(points)
    return float(x), float(y), radius
