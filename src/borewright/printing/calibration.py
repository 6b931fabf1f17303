"""What a printer and a material really do: errors by kind and size, with their confidence."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from borewright.errors import PrintingError
from borewright.model.base import Entity
from borewright.printing.coupon import FeatureKind
from borewright.printing.measuring import MeasuredFeature
from borewright.words import Said, say

#: Readings of a kind below which it is not compensated: a scatter needs three.
FEWEST = 3
_TOO_FEW = (
    say(
        "none measured; at least three are needed to know offset and scatter, so sizes of this "
        "kind are not compensated"
    ),
    say(
        "one measured; at least three are needed to know offset and scatter, so sizes of this "
        "kind are not compensated"
    ),
    say(
        "two measured; at least three are needed to know offset and scatter, so sizes of this "
        "kind are not compensated"
    ),
)
CONFIDENCE = 0.95


class KindCalibration(Entity):
    """The straight line through the errors of one kind (mm), by ordinary least squares.

    Error of a size x is ``offset_mm`` + ``slope`` · (x - ``middle_mm``): offset in the middle of
    the sizes measured. Bounds are 95 % confidence intervals by Student's t. With a single size
    the slope is 0 and its bounds are None. ``scatter_mm`` is the standard deviation that
    remains about the line; ``least_mm`` and ``most_mm`` say for which sizes it was measured.
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


class Calibration(Entity):
    """All kinds that were measured well enough, and those that were not, with the reason."""

    printer: str
    material: str
    kinds: list[KindCalibration]
    refused: dict[FeatureKind, Said]

    def of(self, kind: FeatureKind) -> KindCalibration | None:
        """The line of a kind; None where it was refused."""
        return next((one for one in self.kinds if one.kind is kind), None)


def calibrate(
    readings: Sequence[MeasuredFeature], printer: str = "", material: str = ""
) -> Calibration:
    """Lines of every kind with at least three readings; the others are refused by name.

    Raises PrintingError where no kind has three readings.
    """
    kinds: list[KindCalibration] = []
    refused: dict[FeatureKind, Said] = {}
    for kind in FeatureKind:
        own = [one for one in readings if one.feature.kind is kind]
        if len(own) < FEWEST:
            refused[kind] = _TOO_FEW[len(own)]
        else:
            kinds.append(_line(kind, own))
    if not kinds:
        raise PrintingError(
            say("no kind of feature has three readings"),
            place=say("coupon"),
            remedy=say("Measure at least three features of a kind; more make it surer."),
        )
    return Calibration(printer=printer, material=material, kinds=kinds, refused=refused)


def _line(kind: FeatureKind, readings: Sequence[MeasuredFeature]) -> KindCalibration:
    from scipy.stats import t as student

    sizes = np.array([one.feature.nominal_mm for one in readings])
    errors = np.array([one.error_mm for one in readings])
    count, middle = len(sizes), float(sizes.mean())
    spread = float(((sizes - middle) ** 2).sum())
    offset = float(errors.mean())
    # A slope through two sizes with one reading each left over would have no scatter to judge by.
    sloped = spread > 1e-9 and count > FEWEST
    slope = float(((sizes - middle) * errors).sum() / spread) if sloped else 0.0
    left = errors - offset - slope * (sizes - middle)
    degrees = count - (2 if sloped else 1)
    scatter = math.sqrt(float((left**2).sum()) / degrees)
    times = float(student.ppf((1 + CONFIDENCE) / 2, degrees))
    half = times * scatter / math.sqrt(count)
    slope_half = times * scatter / math.sqrt(spread) if sloped else None
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
