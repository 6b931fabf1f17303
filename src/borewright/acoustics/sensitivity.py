"""The sensitivity map: cents per 0.1 mm of every dimension on every note."""

from __future__ import annotations

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.options import Air
from borewright.acoustics.request import climate_words, request_of_table
from borewright.acoustics.side_holes import HoleProgress, hole_level
from borewright.model import FingeringTable, Instrument, SensitivityMap, SideHoles
from borewright.model.bores.dimension_words import dimension_words


def sensitivity(
    instrument: Instrument,
    fingerings: FingeringTable,
    air: Air | None = None,
    *,
    side_holes: SideHoles | str | None = None,
    progress: HoleProgress | None = None,
) -> SensitivityMap:
    """Exact derivatives of every note's pitch in every dimension.

    A dimension that cannot move the pitch (a bore point inside a socket, say) has zeros.

    Parameters
    ----------
    instrument, fingerings, air, side_holes, progress
        As for :func:`borewright.acoustics.tuning`. Solved holes scale the closed forms; a
        scale follows its hole's dimensions where the surrogate covers the hole, else it is held.

    Returns
    -------
    SensitivityMap
        Cents per 0.1 mm, rows by fingering, columns by dimension.
    """
    level = hole_level(instrument, side_holes, progress)
    request = request_of_table(instrument, fingerings, air, level.terms)
    solved = kernels.resonances(*request)
    slopes = kernels.jacobian(*request[:5], solved)
    return SensitivityMap(
        instrument=instrument.name,
        fingerings=[fingering.name for fingering in fingerings.fingerings],
        dimensions=list(dimension_words(instrument)),
        cents_per_tenth_mm=(np.asarray(slopes) * (CENTS_PER_LOG * 0.1)).tolist(),
        model_level=level.words,
        climate=climate_words(instrument.climate, air),
    )
