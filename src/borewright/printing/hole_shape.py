"""How a side hole is drawn so that it comes out round and at its place on an upright part."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.printing.calibration import Calibration
from borewright.printing.coupon_features import FeatureKind
from borewright.printing.lines import KindCalibration

#: A hole less oval than this (mm) is drawn round: finer than any slicer's path.
_ROUND_MM = 0.01


@dataclass(frozen=True)
class HoleShape:
    """Diameter of the drawn hollow, and what it is longer along the body than across (mm).

    Of a negative ``lift_mm`` it is longer across. ``rise_mm`` moves its middle away from the bed.
    ``across`` and ``upright`` are what width and height went by.
    """

    diameter_mm: float
    lift_mm: float
    rise_mm: float
    across: KindCalibration
    upright: KindCalibration

    @property
    def sides_mm(self) -> tuple[float, float]:
        """Across the body, and along it (mm)."""
        return (
            round(self.diameter_mm + max(0.0, -self.lift_mm), 4),
            round(self.diameter_mm + max(0.0, self.lift_mm), 4),
        )


def hole_shape(
    calibration: Calibration, diameter_mm: float, *, round_only: bool = False
) -> HoleShape | None:
    """The shape to draw for a wanted diameter (mm); None where holes were not measured well.

    The crown of a side hole is bridged over air and comes down: it is drawn higher by what was
    measured from a face above. Where that was not measured, the floor, which lies on printed
    layers, is taken to err as the sides do, and the crown has the rest.
    """
    across = calibration.of(FeatureKind.HOLE_ACROSS)
    upright = calibration.of(FeatureKind.HOLE_UPRIGHT)
    if across is None or upright is None:
        return None
    mean = _mean(across, upright)
    if round_only:
        return HoleShape(round(mean.drawn_mm(diameter_mm), 4), 0.0, 0.0, mean, mean)
    width = across.drawn_mm(diameter_mm)
    height_error = upright.error_mm(width)
    height = diameter_mm - height_error
    crown = calibration.of(FeatureKind.CROWN)
    drop = crown.error_mm(width) if crown else across.error_mm(width) / 2 - height_error
    rise = drop + height_error / 2
    if abs(height - width) < _ROUND_MM:
        return HoleShape(round((width + height) / 2, 4), 0.0, rise, mean, mean)
    lift = round(height - width, 4)
    return HoleShape(round(min(width, height), 4), lift, rise, across, upright)


def _mean(across: KindCalibration, upright: KindCalibration) -> KindCalibration:
    """The line of the mean diameter of both readings of a side hole."""
    offset = (across.error_mm(across.middle_mm) + upright.error_mm(across.middle_mm)) / 2
    return across.model_copy(
        update={
            "offset_mm": offset,
            "slope": (across.slope + upright.slope) / 2,
            # The mean of two independent readings scatters less than either.
            "scatter_mm": (across.scatter_mm**2 + upright.scatter_mm**2) ** 0.5 / 2,
            "least_mm": max(across.least_mm, upright.least_mm),
            "most_mm": min(across.most_mm, upright.most_mm),
        }
    )
