"""Whether a found resonance can be trusted."""

from __future__ import annotations

import numpy as np

from borewright.acoustics.kernels import Solved
from borewright.model.results.tuning import ResonanceStatus

#: A residual angle (rad) that moves no pitch by 0.001 cent: slopes are 3 rad and more.
_SMALL = 1e-6
#: Below this |R| a peak hardly stands out of its surroundings.
_FAINT = 0.3


def statuses(solved: Solved) -> list[ResonanceStatus]:
    """One per fingering, OK where nothing is wrong.

    A row that is not found or not settled has no usable frequency.
    """
    rows = zip(
        np.asarray(solved.found),
        np.asarray(solved.crossings),
        np.asarray(solved.residual),
        np.asarray(solved.slope),
        np.asarray(solved.modulus),
        strict=True,
    )
    return [_status(*row) for row in rows]


def _status(
    found: bool, crossings: int, residual: float, slope: float, modulus: float
) -> ResonanceStatus:
    if not found:
        return ResonanceStatus.NOT_FOUND
    if not abs(residual) < _SMALL or not slope < 0:
        return ResonanceStatus.NOT_SETTLED
    if crossings > 1:
        return ResonanceStatus.AMBIGUOUS
    if modulus < _FAINT:
        return ResonanceStatus.FAINT
    return ResonanceStatus.OK
