"""The piece of bore on either side of a hole, as the one-dimensional line it is compared with."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from borewright.acoustics.solved.shape import HoleShape


@dataclass(frozen=True)
class BoreSide:
    """Bore from the hole's station to one end, lengths in mm along the wall's direction.

    The wave fronts are planes of area ``area`` in a cylinder and spherical caps of area
    ``solid_angle`` times radius² in a cone.
    """

    start: float
    end: float
    area: float = 0.0
    solid_angle: float = 0.0

    def area_at(self, s: np.ndarray) -> np.ndarray:
        """Area (mm²) of the wave front at coordinate ``s``."""
        return self.solid_angle * s**2 if self.solid_angle else np.full_like(s, self.area)

    def volume_to(self, s: np.ndarray) -> np.ndarray:
        """Volume (mm³) between the hole's station and ``s``."""
        if self.solid_angle:
            return np.asarray(np.abs(self.solid_angle / 3.0 * (s**3 - self.start**3)))
        return np.asarray(self.area * np.abs(s - self.start))

    @property
    def volume(self) -> float:
        """Volume (mm³) of the whole side."""
        return float(self.volume_to(np.array(self.end)))

    @property
    def inertance(self) -> float:
        """Integral of length over area (1/mm): impedance over j w rho."""
        if self.solid_angle:
            return abs(1.0 / self.start - 1.0 / self.end) / self.solid_angle
        return abs(self.end - self.start) / self.area

    def moments(self) -> tuple[float, float]:
        """Integrals of volume/area and volume²/area along the side (mm², mm⁵).

        The kinetic energy of a flow f at the hole that takes up the side's own uniform source
        on its way to the end is f² inertance + 2 f first + second.
        """
        nodes, weights = np.polynomial.legendre.leggauss(24)
        half = (self.end - self.start) / 2
        s = self.start + half * (1 + nodes)
        per_area = weights * abs(half) / self.area_at(s)
        volume = self.volume_to(s)
        return float(np.sum(per_area * volume)), float(np.sum(per_area * volume**2))


@dataclass(frozen=True)
class BoreSection:
    """Both sides of a hole, and where the section's ends lie on the axis (mm)."""

    upper: BoreSide
    lower: BoreSide
    upper_mm: float
    lower_mm: float

    @property
    def is_conical(self) -> bool:
        """Whether the ends are spherical caps round the cone's apex."""
        return self.upper.solid_angle > 0


def bore_section(shape: HoleShape, bore_ends: float) -> BoreSection:
    """The section that ends ``bore_ends`` local bore radii beyond the hole's edge."""
    slope = shape.bore_slope if shape.is_conical else 0.0

    def end(direction: float) -> float:
        radius = shape.bore_radius_mm + slope * direction * shape.reach_mm
        # The same number of local radii in a cone: distances grow with the radius itself.
        growth = slope * direction
        beyond = bore_ends if growth == 0 else math.expm1(bore_ends * growth) / growth
        return direction * (shape.reach_mm + radius * beyond)

    upper_mm, lower_mm = end(-1.0), end(1.0)
    if not shape.is_conical:
        area = math.pi * shape.bore_radius_mm**2
        return BoreSection(
            BoreSide(0.0, upper_mm, area=area),
            BoreSide(0.0, lower_mm, area=area),
            upper_mm,
            lower_mm,
        )
    half_angle = math.atan(abs(slope))
    solid_angle = 4.0 * math.pi * math.sin(half_angle / 2) ** 2

    def along(x: float) -> float:
        """Distance from the apex to the wall at ``x`` on the axis."""
        return (shape.bore_radius_mm + slope * x) / math.sin(half_angle)

    upper, lower = (
        BoreSide(along(0.0), along(x), solid_angle=solid_angle) for x in (upper_mm, lower_mm)
    )
    return BoreSection(upper, lower, upper_mm, lower_mm)
