"""One limit that ties dimensions together: a gap that must not become negative."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

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


class _Stacked(NamedTuple):
    """Spacings as arrays, [m] or [m, D]."""

    terms: np.ndarray
    radii: np.ndarray
    constant: np.ndarray
    wall: np.ndarray
    chord: np.ndarray  # 0 where there is none
    is_sum: np.ndarray  # booleans: no chord, so a sum of dimensions


class Spacings(tuple[Spacing, ...]):
    """Spacings that are evaluated together."""

    _stacked: _Stacked | None = None

    def __new__(cls, spacings: Iterable[Spacing]) -> Spacings:
        """Of any spacings, in their order."""
        return super().__new__(cls, tuple(spacings))

    def evaluate(self, values: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Gaps [m] (mm) and their gradients [m, D] in all dimensions."""
        if self._stacked is None or self._stacked.terms.shape[1] != len(values):
            self._stacked = self._stack(len(values))
        terms, radii, constant, wall, chord, is_sum = self._stacked
        along = constant + terms @ values
        distance = np.where(is_sum, along, np.hypot(along, chord))
        apart = np.where(distance == 0, 1.0, distance)
        slope = np.where(is_sum, 1.0, np.where(distance == 0, 0.0, along / apart))
        gaps, gradients = distance - radii @ values - wall, slope[:, None] * terms - radii
        for row, spacing in enumerate(self):
            if type(spacing) is not Spacing:  # a kind with a way of its own
                gaps[row], gradients[row] = spacing.evaluate(values)
        return gaps, gradients

    def _stack(self, count: int) -> _Stacked:
        terms, radii = (np.zeros((len(self), count)) for _ in range(2))
        for row, spacing in enumerate(self):
            for matrix, entries in ((terms, spacing.terms), (radii, spacing.radii)):
                for column, factor in entries:
                    matrix[row, column] += factor
        return _Stacked(
            terms,
            radii,
            np.array([each.constant for each in self]),
            np.array([each.wall for each in self]),
            np.array([each.chord or 0.0 for each in self]),
            np.array([each.chord is None for each in self], dtype=bool),
        )
