"""The sensitivity map: cents per 0.1 mm of every dimension on every note."""

from __future__ import annotations

import math

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.options import Air
from borewright.acoustics.request import climate_words, request_of_table
from borewright.acoustics.tuning import MODEL_LEVEL
from borewright.model import FingeringTable, Instrument, SensitivityMap, dimensions

CENTS_PER_LOG = 1200 / math.log(2)


def sensitivity(
    instrument: Instrument, fingerings: FingeringTable, air: Air | None = None
) -> SensitivityMap:
    """Exact derivatives of every note's pitch in every dimension.

    A dimension that cannot move the pitch (a bore point inside a socket, say) has zeros.

    Parameters
    ----------
    instrument, fingerings, air
        As for :func:`borewright.acoustics.tuning`.

    Returns
    -------
    SensitivityMap
        Cents per 0.1 mm, rows by fingering, columns by dimension.
    """
    request = request_of_table(instrument, fingerings, air)
    solved = kernels.resonances(*request)
    slopes = kernels.jacobian(*request[:5], solved)
    return SensitivityMap(
        instrument=instrument.name,
        fingerings=[fingering.name for fingering in fingerings.fingerings],
        dimensions=[dimension.label for dimension in dimensions(instrument)],
        cents_per_tenth_mm=(np.asarray(slopes) * (CENTS_PER_LOG * 0.1)).tolist(),
        model_level=MODEL_LEVEL,
        climate=climate_words(instrument.climate, air),
    )
