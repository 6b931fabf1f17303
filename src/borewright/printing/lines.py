"""The straight line through one kind's errors, with intervals."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from borewright.model.base import Entity
from borewright.printing.coupon_features import FeatureKind

#: Readings of a kind below which it is not compensated: a scatter needs three.
FEWEST = 3
CONFIDENCE = 0.95


class KindCalibration(Entity):
    """The straight line through the errors of one kind (mm), by ordinary least squares.

    Error of a size x is ``offset_mm`` + ``slope`` · (x - ``middle_mm``): offset in the middle of
    the sizes measured. Bounds are 95 % confidence intervals by Student's t. With a single size
    the slope is 0 and its bounds are None. ``scatter_mm`` is the standard deviation that
    remains about the line; ``least_mm`` and ``most_mm`` say for which sizes it was measured.
    Of lengths the middle is 0: the offset is what the bed takes off a length that begins there.
    """

    kind: FeatureKind
    readings: int
    middle_mm: float
    offset_mm: float
    offset_low_mm: float
    offset_high_mm: float
    slope: float
    slope_low: float | None
    slope_high: float | None
    scatter_mm: float
    least_mm: float
    most_mm: float

    def error_mm(self, size_mm: float) -> float:
        """Expected printed size less drawn size (mm)."""
        return self.offset_mm + self.slope * (size_mm - self.middle_mm)

    def drawn_mm(self, wanted_mm: float) -> float:
        """The size to draw (mm) so that the wanted one is printed."""
        shift = self.offset_mm - self.slope * self.middle_mm
        return (wanted_mm - shift) / (1 + self.slope)

    def sure_mm(self, size_mm: float) -> float:
        """Half the 95 % interval (mm) of the expected error of a size."""
        return math.hypot(
            self.offset_high_mm - self.offset_mm, self.slope_sure * (size_mm - self.middle_mm)
        )

    @property
    def slope_sure(self) -> float:
        """Half the slope's 95 % interval; 0 where there is no slope."""
        return 0.0 if self.slope_high is None else self.slope_high - self.slope


def student(degrees: int) -> float:
    """Half-width of a 95 % interval in standard errors (Student's t)."""
    from scipy.stats import t

    return float(t.ppf((1 + CONFIDENCE) / 2, degrees))


def fitted_line(
    kind: FeatureKind, at_mm: Sequence[float], errors_mm: Sequence[float]
) -> KindCalibration:
    """The line of a kind from errors (mm) at sizes (mm), at least three of them."""
    sizes, errors = np.array(at_mm), np.array(errors_mm)
    count, middle = len(sizes), float(sizes.mean())
    spread = float(((sizes - middle) ** 2).sum())
    offset = float(errors.mean())
    # A slope through two sizes with one reading each left over would have no scatter to judge by.
    sloped = spread > 1e-9 and count > FEWEST
    slope = float(((sizes - middle) * errors).sum() / spread) if sloped else 0.0
    left = errors - offset - slope * (sizes - middle)
    degrees = count - (2 if sloped else 1)
    scatter = math.sqrt(float((left**2).sum()) / degrees)
    half = student(degrees) * scatter / math.sqrt(count)
    slope_half = student(degrees) * scatter / math.sqrt(spread) if sloped else None
    return KindCalibration(
        kind=kind,
        readings=count,
        middle_mm=middle,
        offset_mm=offset,
        offset_low_mm=offset - half,
        offset_high_mm=offset + half,
        slope=slope,
        slope_low=None if slope_half is None else slope - slope_half,
        slope_high=None if slope_half is None else slope + slope_half,
        scatter_mm=scatter,
        least_mm=float(sizes.min()),
        most_mm=float(sizes.max()),
    )
