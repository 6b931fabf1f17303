"""All fingerings of a table as resonators ready to be blown."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.acoustics.blowing.modes import Modes, fit_modes
from borewright.acoustics.blowing.player import Blowing
from borewright.acoustics.blowing.reed import ReedModel
from borewright.acoustics.blowing.response import Response, response
from borewright.acoustics.blowing.thresholds import Onset, thresholds
from borewright.acoustics.options import Air
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import hole_level
from borewright.errors import AcousticsError
from borewright.model import FingeringTable, Instrument
from borewright.words import Said, say

#: Frequencies (Hz) of the common grid: 2 Hz apart, so that half a second of ringing fits.
STEP_HZ, TOP_HZ = 2.0, 10_000.0
#: Resonances whose thresholds are told.
RESONANCES = 4


class Resonators(NamedTuple):
    """N fingerings with everything that blowing needs."""

    answers: Response
    modes: Modes
    onset: Onset
    reed: ReedModel
    wanted: np.ndarray  # [N] number of the wanted resonance, from 1
    wanted_hz: np.ndarray  # [N] its frequency; NaN where it is not there
    level: Said  # how side holes are computed


def resonators(
    instrument: Instrument,
    fingerings: FingeringTable,
    blowing: Blowing,
    air: Air | None = None,
) -> Resonators:
    """Answers, modes and thresholds of every fingering.

    Raises
    ------
    AcousticsError
        For an instrument without a reed, a way of blowing that no player has, an empty table,
        or a lossless bore (its resonances are infinitely high).
    """
    blowing.checked()
    reed = blowing.reed_of(instrument)
    if not fingerings.fingerings:
        raise AcousticsError(
            say("there is no fingering to blow"),
            place=fingerings.source or "fingering table",
            remedy=say("Give at least one."),
        )
    level = hole_level(instrument)
    request = request_of_table(instrument, fingerings, air, level.terms)
    grid = np.arange(STEP_HZ, TOP_HZ + STEP_HZ / 2, STEP_HZ)
    answers = response(request, grid, blowing.distance_m)
    modes = fit_modes(grid, answers.impedance)
    wanted = request.order.astype(int)
    count = max(RESONANCES, int(wanted.max()))
    onset = thresholds(request, answers, reed, blowing.embouchure, count)
    wanted_hz = onset.resonance_hz[np.arange(len(wanted)), wanted - 1]
    return Resonators(answers, modes, onset, reed, wanted, wanted_hz, level.words)
