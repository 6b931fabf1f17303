"""One step of the fit: a convex quadratic programme, by a library's interior-point solver."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.errors import FitError
from borewright.words import say

#: What a millimetre of a broken spacing costs, in cents squared: far above any note.
_BROKEN = 1e5
#: Room for rounding (mm) where a spacing is judged out of reach.
_SURE_MM = 1e-6


class Step(NamedTuple):
    """Solution of one programme."""

    move: np.ndarray  # [n]
    low_price: np.ndarray  # [n] multipliers of the lower limits, cents² per mm
    high_price: np.ndarray  # [n]
    spacing_price: np.ndarray  # [m]
    cost: float  # what it comes to, over that of no move at home, cents²


def broken_cost(gaps: np.ndarray) -> float:
    """What spacings that are broken cost (cents²)."""
    return float(_BROKEN * np.sum(np.maximum(-gaps, 0.0)))


def best_step(
    hessian: np.ndarray,
    gradient: np.ndarray,
    low: np.ndarray,
    high: np.ndarray,
    gaps: np.ndarray,
    slopes: np.ndarray,
    pay: np.ndarray | None = None,
    home: np.ndarray | None = None,
) -> Step:
    """Minimise x'Hx/2 + g'x + pay'|x - home| with low <= x <= high and gaps + slopes x >= 0.

    Spacings may be broken at a steep price, so that a start that breaks one is mended and no
    step is impossible.

    Parameters
    ----------
    hessian, gradient
        [n, n] positive definite, [n].
    low, high
        [n] limits of the step, low <= high.
    gaps, slopes
        [m] and [m, n].
    pay, home
        [n] price of each mm away from home, and where home is, counted from here; free and
        here by default.

    Raises
    ------
    FitError
        If the solver gives up.
    """
    import clarabel
    from scipy import sparse

    slopes = slopes.reshape(len(gaps), len(gradient))
    # What no step inside the limits can break needs no row.
    near = gaps + np.sum(np.minimum(slopes * low, slopes * high), axis=1) < _SURE_MM
    every, gaps, slopes = len(gaps), gaps[near], slopes[near]
    n, m = len(gradient), len(gaps)
    pay = np.zeros(n) if pay is None else pay
    home = np.zeros(n) if home is None else home
    # Unknowns: the step [n], how far each is away from home [n], breaks of spacings [m].
    quadratic = np.zeros((2 * n + m, 2 * n + m))
    quadratic[:n, :n] = np.triu(hessian)
    quadratic[2 * n :, 2 * n :] = 1e-6 * np.eye(m)
    linear = np.concatenate([gradient, pay, np.full(m, _BROKEN)])
    one, breaks, none = np.eye(n), np.eye(m), np.zeros((n, m))
    nothing = np.zeros((n, n))
    rows = np.block(
        [
            [one, nothing, none],
            [-one, nothing, none],
            [-slopes, none.T, -breaks],
            [none.T, none.T, -breaks],
            [one, -one, none],
            [-one, -one, none],
        ]
    )
    right = np.concatenate([high, -low, gaps, np.zeros(m), home, -home])
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    solution = clarabel.DefaultSolver(
        sparse.csc_matrix(quadratic),
        linear,
        sparse.csc_matrix(rows),
        right,
        [clarabel.NonnegativeConeT(len(right))],
        settings,
    ).solve()
    if str(solution.status) not in ("Solved", "AlmostSolved"):
        raise FitError(
            say("the quadratic programme ended with '{status}'", status=str(solution.status)),
            place="fit",
            remedy=say("Check for limits that exclude each other, or free more dimensions."),
        )
    move = np.clip(np.array(solution.x)[:n], low, high)
    price = np.array(solution.z)
    spacing_price = np.zeros(every)
    spacing_price[near] = price[2 * n : 2 * n + m]
    return Step(
        move,
        price[n : 2 * n],
        price[:n],
        spacing_price,
        float(solution.obj_val),
    )
