"""Circles through measured points: what rims in photographs and sections of meshes share."""

from __future__ import annotations

import numpy as np


def fitted_circle(points: np.ndarray) -> tuple[np.ndarray, float]:
    """Centre [2] and radius of the least-squares circle through points [n, 2].

    Least squares of x² + y² = 2ax + 2by + c (Kåsa 1976: linear, mild bias); the points must be
    three or more that are not in one line.
    """
    matrix = np.column_stack([2 * points, np.ones(len(points))])
    solution = np.linalg.lstsq(matrix, (points**2).sum(axis=1), rcond=None)[0]
    centre = solution[:2]
    return centre, float(np.sqrt(solution[2] + centre @ centre))
