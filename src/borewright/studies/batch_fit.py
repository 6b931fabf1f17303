"""The design whose batch is best, not whose nominal is.

A fit lowers the squares of cents of one instrument; what a batch loses are the notes that scatter
over the edge. Fits are therefore repeated with the fingerings that fail most often weighing more
(multiplicative weights), each within every limit of the fit. The yield of each is foretold by
derivatives, on the same draws; the best is solved by the engine on draws that had no say.
"""

from __future__ import annotations

import math
import tempfile
from collections.abc import Callable
from pathlib import Path

import numpy as np

from borewright.acoustics.side_holes import side_holes_of
from borewright.fit import fit
from borewright.model import (
    Doubts,
    FingeringTable,
    Instrument,
    KeyworkSurvey,
    SideHoles,
)
from borewright.model.results.yields import BatchDesign, BatchFitResult
from borewright.studies.chunks import read_chunk
from borewright.studies.judging import Judge, Rule
from borewright.studies.plan import Study, study_of
from borewright.studies.running import run_study
from borewright.studies.shares import Z95, share_of

#: Fits after the first; how sharply weights follow failures, and how far they may go.
ROUNDS, _RATE, _LEAST, _MOST = 8, 0.7, 0.2, 12.0
#: Builds that weights are chosen by; those that judge come from another seed.
_CHOOSING = 8192
#: Called with the number of the fit and its yield, by derivatives.
BatchProgress = Callable[[int, float], None]


def fit_for_batch(
    instrument: Instrument,
    table: FingeringTable,
    survey: KeyworkSurvey | None,
    making: Doubts,
    rule: Rule,
    *,
    builds: int = 2048,
    seed: int = 1,
    rounds: int = ROUNDS,
    side_holes: SideHoles | str | None = None,
    told: BatchProgress | None = None,
) -> tuple[Instrument, BatchFitResult]:
    """Fit an instrument so that most of a batch will do.

    Parameters
    ----------
    instrument, table, survey, side_holes
        As for a fit; the weights of its wishes are where the search begins.
    making, rule
        What the workshop scatters, and what is asked of each instrument.
    builds, seed
        Virtual instruments that judge both designs, and the seed of all random numbers.
    rounds
        Fits after the first.
    told
        Called after each fit; it may raise to stop.

    Returns
    -------
    tuple
        The design to build, whose wishes keep the weights it was fitted with, and the result:
        the nominal design where the other is not surely better.

    Raises
    ------
    FitError, ModelError, AcousticsError
        As a fit and a study do.
    """
    way = side_holes_of(side_holes, instrument)

    def fitted(weights: dict[str, float]) -> Instrument:
        wishes = instrument.fit.model_copy(update={"note_weights": weights, "tuned_cents": 0.0})
        made, _ = fit(instrument.model_copy(update={"fit": wishes}), table, survey, side_holes=way)
        kept = made.fit.model_copy(update={"tuned_cents": instrument.fit.tuned_cents})
        return made.model_copy(update={"fit": kept})

    weights, rate = dict(instrument.fit.note_weights), _RATE
    nominal = chosen = fitted(weights)
    best, off, names = _foretold(nominal, table, making, rule, seed, way)
    yields = [best]
    for number in range(rounds + 1):
        if told is not None:
            told(number, yields[-1])
        if best >= 1.0 or number == rounds:
            break
        tried = _weighed(weights, names, off, rate)
        design = fitted(tried)
        share, failing, _ = _foretold(design, table, making, rule, seed, way)
        yields.append(share)
        if share > best:
            best, off, weights, chosen = share, failing, tried, design
        else:
            rate /= 2  # too far: from the best so far, half as sharply
    studies = [
        study_of(one, table, making, builds=builds, seed=seed + 1, side_holes=way)
        for one in (nominal, chosen)
    ]
    good = [_good(study, rule) for study in studies]
    gained, sure = _paired(*good)
    better = chosen is not nominal and gained > sure
    result = BatchFitResult(
        instrument=instrument.name,
        within_cents=rule.within_cents,
        builds=builds,
        nominal=_design(studies[0], rule, good[0]),
        batch=_design(studies[1], rule, good[1]),
        gained=gained,
        sure=sure,
        better=better,
        weights={name: w for name, w in chosen.fit.note_weights.items() if w != 1.0},
        rounds=yields,
        model_level=studies[0].level,
    )
    return (chosen if better else nominal), result


def _foretold(
    design: Instrument,
    table: FingeringTable,
    making: Doubts,
    rule: Rule,
    seed: int,
    way: SideHoles,
) -> tuple[float, np.ndarray, list[str]]:
    """Yield by derivatives, how often each counted note is off, and their names."""
    study = study_of(design, table, making, builds=_CHOOSING, seed=seed, side_holes=way)
    judge = Judge(study, rule)
    values, _ = study.values(0, _CHOOSING)
    middle = np.asarray(study.request.numbers.values)
    cents = judge.nominal_cents + (values - middle) @ judge.slopes.T
    outside = judge.off(judge.deviations(cents))
    return float((~outside.any(axis=1)).mean()), outside.mean(axis=0), judge.names


def _weighed(
    weights: dict[str, float], names: list[str], off: np.ndarray, rate: float
) -> dict[str, float]:
    """Weights that follow failures: the mean stays, a note that never fails gives way."""
    before = np.array([weights.get(name, 1.0) for name in names])
    share = off / max(float(off.max()), 1e-9)
    after = before * np.exp(rate * (2 * share - 0.5))
    after = np.clip(after / after.mean() * before.mean(), _LEAST, _MOST)
    found = {name: round(float(w), 2) for name, w in zip(names, after, strict=True)}
    return {**weights, **found}


def _good(study: Study, rule: Rule) -> np.ndarray:
    """Which builds will do, by the engine."""
    judge = Judge(study, rule)
    with tempfile.TemporaryDirectory(prefix="borewright-") as name:
        folder = run_study(study, Path(name))
        chunks = [read_chunk(study, number, folder) for number in range(study.chunks)]
    cents = np.concatenate([chunk.cents for chunk in chunks if chunk is not None])
    return judge.good(cents[:, judge.counted].astype(float))


def _paired(one: np.ndarray, other: np.ndarray) -> tuple[float, float]:
    """How many more of the other will do (share), and half the 95 % interval of that."""
    won, lost, builds = int((other & ~one).sum()), int((one & ~other).sum()), len(one)
    more, less = (won + 1) / (builds + 2), (lost + 1) / (builds + 2)
    error = math.sqrt((more + less - (more - less) ** 2) / builds)
    return (won - lost) / builds, Z95 * error


def _design(study: Study, rule: Rule, good: np.ndarray) -> BatchDesign:
    judge = Judge(study, rule)
    cents = judge.nominal_cents
    worst = int(np.argmax(np.abs(cents)))
    return BatchDesign(
        rms_cents=float(np.sqrt(np.mean(cents**2))),
        worst_cents=float(cents[worst]),
        worst_note=judge.names[worst],
        share=share_of(int(good.sum()), len(good)),
    )
