"""How exact a study is: some of its builds solved anew, each by the counting sweep."""

from __future__ import annotations

import numpy as np

from borewright.acoustics.builds import solved_alone
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.studies.plan import Study


def largest_difference(
    study: Study, cents: np.ndarray, counted: np.ndarray, builds: int
) -> float | None:
    """Most cents [B, N] of counted notes differ from those of the double-precision sweep.

    Builds are taken evenly from those given; none of them is None, and so is a note that only one
    of both finds.
    """
    worst = 0.0
    if not builds:
        return None
    for row in np.unique(np.linspace(0, len(cents) - 1, builds).astype(int)):
        values, parameters = study.values(int(row), int(row) + 1)
        found = solved_alone(study.request, values[0], parameters[0])
        anew = (CENTS_PER_LOG * np.log(found / study.target_hz))[counted]
        both = np.isfinite(anew) & np.isfinite(cents[row])
        if (np.isfinite(anew) != np.isfinite(cents[row])).any():
            return None
        if both.any():
            worst = max(worst, float(np.max(np.abs(anew - cents[row])[both])))
    return worst
