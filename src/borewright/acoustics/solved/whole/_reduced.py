"""A resonator's input impedance from a handful of solutions, at any frequency.

Galerkin projection on pressures and their derivatives in frequency at a few expansion points:
the matrices keep their symmetry, so that the impedance is right to twice the order to which
the pressure is.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from borewright.acoustics.solved.whole._waves import Waves

#: Directions that add less than this to a basis are left out.
_INDEPENDENT = 1e-10


@dataclass(frozen=True)
class Reduced:
    """Small matrices with the frequency behaviour of the large ones (mm)."""

    waves: Waves
    matrices: list[np.ndarray]
    load: np.ndarray

    def impedance(self, k: np.ndarray) -> np.ndarray:
        """Z / (rho c) in 1/mm², [K], at wavenumbers (1/mm) [K]."""
        k = np.asarray(k, dtype=float)
        stack = sum(
            np.multiply.outer(np.asarray(factor), matrix)
            for factor, matrix in zip(self.waves.coefficients(k), self.matrices, strict=True)
        )
        right = np.broadcast_to(self.load[:, None], (*k.shape, len(self.load), 1))
        found = np.linalg.solve(stack, right)[..., 0]
        return np.asarray(1j * k * (found @ self.load))


def reduced_on(waves: Waves, snapshots: np.ndarray) -> Reduced:
    """Project on complex snapshots [n, unknowns]."""
    columns = np.concatenate([snapshots.real, snapshots.imag]).T
    columns = columns / np.linalg.norm(columns, axis=0)
    left, sizes, _ = np.linalg.svd(columns, full_matrices=False)
    basis = np.ascontiguousarray(left[:, sizes > _INDEPENDENT * sizes[0]].T)
    return Reduced(waves, *waves.reduced(basis))


def maxima(
    admittance: Callable[[np.ndarray], np.ndarray], grid: np.ndarray, count: int
) -> np.ndarray:
    """First impedance maxima as the engine defines and numbers them.

    The angle of the reflection (1 - y) / (1 + y) falls through 0, -2 pi, -4 pi …; there the
    imaginary part of the admittance vanishes.

    Parameters
    ----------
    admittance
        Normalised by the characteristic admittance at the top, from an array of the variable.
    grid
        Rising values of the variable, fine enough to follow the angle.
    count
        How many are wanted; fewer are returned where the grid ends before.
    """
    y = admittance(grid)
    angle = np.unwrap(np.angle((1 - y) / (1 + y)))
    # The first maximum of air that can leave lies at 0: far below it the angle is near +pi.
    angle += 2 * math.pi * round((math.pi - angle[0]) / (2 * math.pi))
    found = []
    for number in range(count):
        goal = -2 * math.pi * number
        passed = np.nonzero((angle[:-1] > goal) & (angle[1:] <= goal))[0]
        if not len(passed):
            break
        at = passed[0]

        def excess(x: float) -> float:
            value = admittance(np.array([x]))[0]
            return float(np.angle((1 - value) / (1 + value)))

        found.append(brentq(excess, grid[at], grid[at + 1], xtol=1e-14, rtol=1e-13))
    return np.array(found)
