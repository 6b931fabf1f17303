"""One limit that ties dimensions together: a gap that must not become negative."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from borewright.words import Said

#: Kept beyond every limit (mm), so that rounding the schedule to 0.01 mm cannot break it.
ROUNDING_MM = 0.02


@dataclass(frozen=True)
class Spacing:
    """sqrt(along² + chord²) less radii and wall, or a sum of dimensions where chord is None.

    ``terms`` hold (column, factor) of the distance along the axis, ``radii`` those of what is
    taken off. ``relax_mm`` is by how much less it is tried where it holds a note back; 0 where
    nobody would relax it.
    """

    words: Said
    terms: tuple[tuple[int, float], ...]
    radii: tuple[tuple[int, float], ...]
    constant: float
    wall: float
    chord: float | None = None
    holes: tuple[str, ...] = field(default=())
    relax_mm: float = 1.0

    def evaluate(self, values: np.ndarray) -> tuple[float, np.ndarray]:
        """Gap (mm) and its gradient in all dimensions."""
        along = self.constant + sum(factor * values[column] for column, factor in self.terms)
        taken = sum(factor * values[column] for column, factor in self.radii)
        gradient = np.zeros_like(values)
        for column, factor in self.radii:
            gradient[column] -= factor
        distance, slope = along, 1.0
        if self.chord is not None:
            distance = math.hypot(along, self.chord)
            slope = along / distance if distance else 0.0
        for column, factor in self.terms:
            gradient[column] += slope * factor
        return distance - taken - self.wall, gradient
