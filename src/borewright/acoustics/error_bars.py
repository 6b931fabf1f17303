"""Error bars: how far each note's pitch may lie from the prediction, and why.

Linear: independent causes add in squares; causes shared by many dimensions (a printer that
prints every hole small) add their sensitivities first. The Monte Carlo run over virtual
builds draws the same causes and solves every build anew; the two are compared in the tests.
"""

from __future__ import annotations

import math

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.builds import frequencies_of_builds
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.model_levels import ModelDoubt, model_doubt
from borewright.acoustics.parameters import PARAMETERS, read_parameters
from borewright.acoustics.request import Request, request_of_table
from borewright.acoustics.side_holes import HoleLevel, HoleProgress, hole_level
from borewright.model import (
    Doubts,
    ErrorBar,
    ErrorBars,
    FingeringTable,
    Instrument,
    SideHoles,
    dimensions,
)
from borewright.words import say

_CLIMATE = 6  # the first parameters are the climate's, the rest the player's


def error_bars(
    instrument: Instrument,
    fingerings: FingeringTable,
    doubts: Doubts | None = None,
    *,
    side_holes: SideHoles | str | None = None,
    progress: HoleProgress | None = None,
) -> ErrorBars:
    """Standard deviations (cents) of every note to first order, with their split.

    Parameters
    ----------
    instrument, fingerings, side_holes, progress
        As for :func:`borewright.acoustics.tuning`.
    doubts
        Standard deviations of dimensions, climate, player and model. Where they leave the
        model's own open, what is known of it is taken off and the rest counts: see
        :func:`borewright.acoustics.model_levels.model_doubt`.
    """
    level = hole_level(instrument, side_holes, progress)
    return error_bars_at(instrument, fingerings, level, doubts, progress)


def error_bars_at(
    instrument: Instrument,
    fingerings: FingeringTable,
    level: HoleLevel,
    doubts: Doubts | None = None,
    progress: HoleProgress | None = None,
) -> ErrorBars:
    """As :func:`error_bars`, with holes whose level is known already."""
    doubts = doubts or Doubts()
    request = request_of_table(instrument, fingerings, solved=level.terms)
    solved = kernels.resonances(*request)
    slopes = CENTS_PER_LOG * np.asarray(kernels.full_jacobian(*request[:5], solved))
    count = len(dimensions(instrument))
    sizes = _dimension_variance(instrument, slopes[:, :count], doubts)
    spread = _parameter_spread(doubts)
    others = (slopes[:, count:] * spread) ** 2
    climate, player = others[:, :_CLIMATE].sum(axis=1), others[:, _CLIMATE:].sum(axis=1)
    if doubts.model_cents is None:
        frequencies = np.asarray(solved.frequency)
        model = model_doubt(instrument, fingerings, level, frequencies, progress)
    else:
        given = np.full(len(slopes), doubts.model_cents)
        model = ModelDoubt(np.zeros(len(slopes)), given, level.words)
    return _bars(instrument, fingerings, sizes, climate, player, model)


def virtual_builds(
    instrument: Instrument,
    fingerings: FingeringTable,
    doubts: Doubts | None = None,
    *,
    builds: int = 10_000,
    seed: int = 1,
    side_holes: SideHoles | str | None = None,
) -> np.ndarray:
    """Cents of every fingering in many virtual builds, each solved anew.

    Parameters
    ----------
    instrument, fingerings, doubts
        As for :func:`error_bars`; ``doubts.model_cents`` plays no part.
    builds
        How many.
    seed
        Of the random numbers.
    side_holes
        As for :func:`borewright.acoustics.tuning`; scales are those of the design.

    Returns
    -------
    numpy.ndarray
        Cents against the pitch standard, [builds, F], right to 0.05 cent; NaN where a build has
        lost a resonance.
    """
    doubts = doubts or Doubts()
    terms = hole_level(instrument, side_holes).terms
    request = request_of_table(instrument, fingerings, solved=terms)
    generator = np.random.default_rng(seed)
    values, parameters = drawn_builds(instrument, request, doubts, builds, generator)
    target = np.array([instrument.pitch.target_hz(f.written) for f in fingerings.fingerings])
    found, _ = frequencies_of_builds(request, values, parameters)
    cents: np.ndarray = CENTS_PER_LOG * np.log(found / target)
    return cents


def _parameter_spread(doubts: Doubts) -> np.ndarray:
    return np.array([doubts.parameters.get(parameter.name, 0.0) for parameter in PARAMETERS])


def _dimension_variance(instrument: Instrument, slopes: np.ndarray, doubts: Doubts) -> np.ndarray:
    measures = [dimension.measure for dimension in dimensions(instrument)]
    variance = np.zeros(slopes.shape[0])
    for measure in sorted(set(measures)):
        columns = slopes[:, [m == measure for m in measures]]
        spread = doubts.of(measure)
        variance += (spread.common * columns.sum(axis=1)) ** 2
        variance += spread.each**2 * (columns**2).sum(axis=1)
    return variance


def drawn_builds(
    instrument: Instrument,
    request: Request,
    doubts: Doubts,
    builds: int,
    generator: np.random.Generator,
) -> tuple[np.ndarray, np.ndarray]:
    """Dimensions (mm), [builds, D], and parameters, [builds, P], scattered as in doubt."""
    measures = [dimension.measure for dimension in dimensions(instrument)]
    values = np.tile(np.asarray(request.numbers.values), (builds, 1))
    for measure in sorted(set(measures)):
        columns = np.flatnonzero([m == measure for m in measures])
        spread = doubts.of(measure)
        values[:, columns] += spread.common * generator.normal(size=(builds, 1))
        values[:, columns] += spread.each * generator.normal(size=(builds, len(columns)))
    parameters = np.asarray(read_parameters(request.numbers))
    scatter = _parameter_spread(doubts) * generator.normal(size=(builds, len(parameters)))
    return values, parameters + scatter


def _bars(
    instrument: Instrument,
    fingerings: FingeringTable,
    sizes: np.ndarray,
    climate: np.ndarray,
    player: np.ndarray,
    model: ModelDoubt,
) -> ErrorBars:
    variance = sizes + climate + player + model.deviation**2
    bars = [
        ErrorBar(
            fingering=fingering.name,
            total_cents=math.sqrt(variance[row]),
            dimensions_cents=math.sqrt(sizes[row]),
            climate_cents=math.sqrt(climate[row]),
            player_cents=math.sqrt(player[row]),
            model_cents=float(model.deviation[row]),
            departure_cents=float(model.departure[row]),
        )
        for row, fingering in enumerate(fingerings.fingerings)
    ]
    return ErrorBars(
        instrument=instrument.name, bars=bars, method=say("first order"), model_level=model.words
    )
