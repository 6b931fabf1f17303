"""Errors along an upright part: shrinkage, what the bed takes off, crowns that come down."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from borewright.printing.lines import KindCalibration, student
from borewright.printing.measuring import MeasuredFeature


def length_line(readings: Sequence[MeasuredFeature]) -> KindCalibration:
    """Shrinkage along the part, and what the bed takes off lengths that begin there.

    Error of a length L is slope · L, and offset beside it where it begins on the bed: ordinary
    least squares in both, with their 95 % intervals. Where no reading tells one from the other,
    there is no offset.
    """
    lengths = np.array([one.feature.nominal_mm for one in readings])
    beds = np.array([float(one.feature.from_bed) for one in readings])
    errors = np.array([one.error_mm for one in readings])
    design = np.column_stack([beds, lengths])
    both = _apart(beds, lengths) and len(readings) > 3
    if not both:
        design = design[:, 1:]
    found, *_ = np.linalg.lstsq(design, errors, rcond=None)
    left = errors - design @ found
    degrees = len(readings) - design.shape[1]
    scatter = math.sqrt(float(left @ left) / degrees)
    halves = student(degrees) * scatter * np.sqrt(np.diag(np.linalg.inv(design.T @ design)))
    offset, offset_half = (float(found[0]), float(halves[0])) if both else (0.0, 0.0)
    slope, slope_half = float(found[-1]), float(halves[-1])
    return KindCalibration(
        kind=readings[0].feature.kind,
        readings=len(readings),
        middle_mm=0.0,
        offset_mm=offset,
        offset_low_mm=offset - offset_half,
        offset_high_mm=offset + offset_half,
        slope=slope,
        slope_low=slope - slope_half,
        slope_high=slope + slope_half,
        scatter_mm=scatter,
        least_mm=float(lengths.min()),
        most_mm=float(lengths.max()),
    )


def _apart(beds: np.ndarray, lengths: np.ndarray) -> bool:
    """Whether lengths tell what the bed takes off from what grows with length."""
    return bool(beds.any()) and (not beds.all() or float(np.ptp(lengths)) > lengths.max() / 4)


def crown_readings(
    readings: Sequence[MeasuredFeature], along: KindCalibration
) -> tuple[list[float], list[float]]:
    """Diameters of holes (mm), and how far the crown of each lies below where it was drawn (mm).

    Measured is the wall from the crown to a face above; what shrinkage changes between the hole's
    centre and that face is taken off.
    """
    diameters = [one.feature.hole_mm for one in readings]
    drops = [
        one.error_mm - along.slope * (one.feature.nominal_mm + one.feature.hole_mm / 2)
        for one in readings
    ]
    return diameters, drops
