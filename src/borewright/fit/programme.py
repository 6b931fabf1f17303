"""One step of the fit: a convex quadratic programme, by a library's interior-point solver."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.errors import FitError
from borewright.words import say

#: What a millimetre of a broken spacing costs, in cents squared: far above any note.
_BROKEN = 1e5


class Step(NamedTuple):
    """Solution of one programme."""

    move: np.ndarray  # [n]
    low_price: np.ndarray  # [n] multipliers of the lower limits, cents² per mm
    high_price: np.ndarray  # [n]
    spacing_price: np.ndarray  # [m]
    cost: float  # what it comes to, over that of no move at home, cents²


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

    n, m = len(gradient), len(gaps)
    pay = np.zeros(n) if pay is None else pay
    home = np.zeros(n) if home is None else home
    # Unknowns: the step [n], how far each is away from home [n], breaks of spacings [m].
    quadratic = sparse.block_diag(
        [sparse.csc_matrix(np.triu(hessian)), sparse.csc_matrix((n, n)), 1e-6 * sparse.eye(m)],
        format="csc",
    )
    linear = np.concatenate([gradient, pay, np.full(m, _BROKEN)])
    one, breaks = sparse.eye(n), sparse.eye(m)
    rows = sparse.bmat(
        [
            [one, None, sparse.csc_matrix((n, m))],
            [-one, None, None],
            [sparse.csc_matrix(-slopes.reshape(m, n)), None, -breaks],
            [None, None, -breaks],
            [one, -one, None],
            [-one, -one, None],
        ],
        format="csc",
    )
    right = np.concatenate([high, -low, gaps, np.zeros(m), home, -home])
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    solution = clarabel.DefaultSolver(
        quadratic,
        linear,
        rows,
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
    return Step(
        move,
        price[n : 2 * n],
        price[:n],
        price[2 * n : 2 * n + m],
        float(solution.obj_val),
    )
