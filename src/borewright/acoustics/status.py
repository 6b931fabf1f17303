"""Whether a found resonance can be trusted, in words."""

from __future__ import annotations

import numpy as np

from borewright.acoustics.kernels import Solved

#: A residual angle (rad) that moves no pitch by 0.001 cent: slopes are 3 rad and more.
_SMALL = 1e-6
#: Below this |R| a peak hardly stands out of its surroundings.
_FAINT = 0.3

OK = "ok"
NOT_FOUND = "no such resonance below the highest frequency searched"
NOT_SETTLED = "the search did not settle on a resonance"
AMBIGUOUS = "several resonances crowd here; the lowest is given"
FAINT = "a faint resonance that may not speak"


def status_words(solved: Solved) -> list[str]:
    """One phrase per fingering, "ok" where nothing is wrong.

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
    return [_words(*row) for row in rows]


def _words(found: bool, crossings: int, residual: float, slope: float, modulus: float) -> str:
    if not found:
        return NOT_FOUND
    if not abs(residual) < _SMALL or not slope < 0:
        return NOT_SETTLED
    if crossings > 1:
        return AMBIGUOUS
    if modulus < _FAINT:
        return FAINT
    return OK
