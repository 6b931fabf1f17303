"""One step of the fit: a convex quadratic programme, by a library's interior-point solver."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.errors import FitError

#: What a millimetre of a broken spacing costs, in cents squared: far above any note.
_BROKEN = 1e5


class Step(NamedTuple):
    """Solution of one programme."""

    move: np.ndarray  # [n]
    low_price: np.ndarray  # [n] multipliers of the lower limits, cents² per mm
    high_price: np.ndarray  # [n]
    spacing_price: np.ndarray  # [m]


def best_step(
    hessian: np.ndarray,
    gradient: np.ndarray,
    low: np.ndarray,
    high: np.ndarray,
    gaps: np.ndarray,
    slopes: np.ndarray,
) -> Step:
    """Minimise x'Hx/2 + g'x with low <= x <= high and gaps + slopes x >= 0.

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

    Raises
    ------
    FitError
        If the solver gives up.
    """
    import clarabel
    from scipy import sparse

    n, m = len(gradient), len(gaps)
    quadratic = sparse.csc_matrix(
        np.triu(
            np.block(
                [
                    [hessian, np.zeros((n, m))],
                    [np.zeros((m, n)), 1e-6 * np.eye(m)],
                ]
            )
        )
    )
    linear = np.concatenate([gradient, np.full(m, _BROKEN)])
    identity = np.eye(n)
    rows = np.block(
        [
            [identity, np.zeros((n, m))],
            [-identity, np.zeros((n, m))],
            [-slopes.reshape(m, n), -np.eye(m)],
            [np.zeros((m, n)), -np.eye(m)],
        ]
    )
    right = np.concatenate([high, -low, gaps, np.zeros(m)])
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    solution = clarabel.DefaultSolver(
        quadratic,
        linear,
        sparse.csc_matrix(rows),
        right,
        [clarabel.NonnegativeConeT(len(right))],
        settings,
    ).solve()
    if str(solution.status) not in ("Solved", "AlmostSolved"):
        raise FitError(
            f"the quadratic programme ended with '{solution.status}'",
            place="fit",
            remedy="Check for limits that exclude each other, or free more dimensions.",
        )
    move = np.clip(np.array(solution.x)[:n], low, high)
    price = np.array(solution.z)
    return Step(move, price[n : 2 * n], price[:n], price[2 * n : 2 * n + m])
