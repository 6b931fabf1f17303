"""Volumes of a hole by quadrature, without a mesh: also to notice a wrong solid."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from borewright.acoustics.solved._air import closing_height_mm
from borewright.acoustics.solved.shape import HoleCover, HoleShape

_RADII, _TURNS = 40, 128


class HoleVolume(NamedTuple):
    """Air (mm³) in the tube, and bore air that a lining takes away (tube and wall)."""

    tube: float
    displaced: float

    @property
    def added(self) -> float:
        """What the plain bore gains."""
        return self.tube - self.displaced


def hole_volume(shape: HoleShape, state: str) -> HoleVolume:
    """Volumes of a hole from its inner end to what ends its tube.

    The inner end is the bore's wall, or the plane of a lining's end. ``state`` "closed" with
    a finger ends at its flesh, anything else at the rim plane. The error is below 1e-4 of the
    result (steep walls at the sides of wide holes).
    """
    finger = shape.cover == HoleCover.FINGER and state == "closed"
    radius, mouth, end = shape.radius_mm, shape.mouth_radius_mm, shape.inner_end_mm

    def ring(
        inner: float, outer: float, column: Callable[[np.ndarray, np.ndarray], np.ndarray]
    ) -> float:
        """Integral over a ring about the hole's axis of a column from radius and bore wall."""
        nodes, weights = np.polynomial.legendre.leggauss(_RADII)
        r = inner + (outer - inner) * (nodes + 1) / 2
        turn = np.arange(_TURNS) * 2 * np.pi / _TURNS
        grid, angle = np.meshgrid(r, turn, indexing="ij")
        local = shape.bore_radius_mm + (
            shape.bore_slope * grid * np.cos(angle) if shape.is_conical else 0.0
        )
        wall = np.sqrt(local**2 - (grid * np.sin(angle)) ** 2)
        mean = np.mean(column(grid, wall), axis=1)
        return float(np.sum(weights * (outer - inner) / 2 * 2 * np.pi * r * mean))

    def ceiling(r: np.ndarray) -> np.ndarray:
        if not finger:
            return np.full_like(r, shape.rim_mm)
        height, depth = closing_height_mm(shape), shape.flesh_mm
        if depth == 0:
            return np.full_like(r, height)
        curvature = (radius**2 + depth**2) / (2 * depth)
        return np.asarray(height - depth + curvature - np.sqrt(curvature**2 - r**2))

    def cone(r: np.ndarray) -> np.ndarray:
        share = (mouth - r) / (mouth - radius)
        straight = shape.undercut_straight_mm
        return np.asarray(end + straight + (shape.undercut_depth_mm - straight) * share)

    added = ring(0.0, radius, lambda r, wall: ceiling(r) - wall)
    if mouth > radius:
        # Below a conical bore's wall there is no hole yet, but a lining's wall.
        least = -np.inf if shape.into_bore_mm else 0.0
        added += ring(radius, mouth, lambda r, wall: np.maximum(cone(r) - wall, least))
    displaced = 0.0
    if shape.into_bore_mm:

        def taken(_: np.ndarray, wall: np.ndarray) -> np.ndarray:
            return np.maximum(wall - end, 0.0)

        displaced = ring(0.0, shape.lining_radius_mm, taken)
        added -= ring(mouth, shape.lining_radius_mm, taken)
    return HoleVolume(added + displaced, displaced)
