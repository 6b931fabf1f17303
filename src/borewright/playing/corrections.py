"""Corrections: few, small steps in possible directions that bring most.

Steps are chosen one at a time. Each round solves, for every move not yet chosen, the bounded
least squares of chosen moves plus that one, with exact derivatives; the best is taken and all
amounts are solved anew on the full model. A step must lower chi-square by more than chance
would over all candidate moves (Bonferroni), so nothing is advised on differences smaller than
the scatter.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

import numpy as np

from borewright.acoustics.request import climate_words
from borewright.errors import PlayingError
from borewright.model import FingeringTable, Instrument, Use
from borewright.model.results.advice import Aim, CorrectionPlan, CorrectionStep, Leak
from borewright.playing.moves import BenchMove, moves, with_neutral_undercuts
from borewright.playing.response import Response
from borewright.words import Message, say

MOST_STEPS = 8
#: What an ear and this model leave open about any note (cents); adds to the scatter.
_FLOOR_CENTS = 1.5
_CHANCE = 0.05
#: A step that lowers the root mean square by less than this (cents) is not worth a tool.
_LEAST_GAIN_CENTS = 0.1
#: Amounts are given in steps of this (mm), as a reamer or a gauge can follow.
_GRAIN_MM = 0.05
_ROUNDS = 3
#: A leak of unknown place that moves the notes by more than this (cents) hides the rest.
_HIDING_CENTS = 3.0
_SEAL_FIRST = say(
    "a leak of unknown place hides the rest: seal it, record again, and ask again without it"
)


class MeasuredNote(NamedTuple):
    """Cents of one fingering against the pitch standard, and their standard error."""

    cents: float
    error: float


class _Problem(NamedTuple):
    response: Response
    moves: list[BenchMove]
    measured: np.ndarray  # [F]
    predicted: np.ndarray  # [F] at the start
    whitener: np.ndarray  # [G, F] of the fingerings that count
    weight: np.ndarray  # [F]

    def after(self, cents: np.ndarray) -> np.ndarray:
        """Measured cents, moved by what the model says the moves do."""
        moved: np.ndarray = self.measured + cents - self.predicted
        return moved


def corrections(
    instrument: Instrument,
    fingerings: FingeringTable,
    measured: Mapping[str, MeasuredNote],
    *,
    leaks: list[Leak] | None = None,
    aim: Aim = Aim.REWORK,
    common_error_cents: float = 0.0,
    allow_building_up: bool = False,
    most_steps: int = MOST_STEPS,
    progress: Callable[[int, int], None] | None = None,
) -> CorrectionPlan:
    """Advise what to change so that the measured notes come into tune.

    Parameters
    ----------
    instrument, fingerings
        The instrument that was measured, as built as far as it is known.
    measured
        By fingering name; fingerings that were not measured do not count.
    leaks
        Leaks of the as-built instrument, which may be sealed.
    aim
        Rework of this instrument, or a changed design for the next print.
    common_error_cents
        Standard error of what all notes share, as a player's own pitch.
    allow_building_up
        Allow filler and tape in a rework.
    most_steps
        Never advise more.
    progress
        Called before each step is looked for, with how many are found and the most there can be.

    Raises
    ------
    PlayingError
        Where nothing was measured, or a fingering is unknown or has no resonance.
    """
    _check(fingerings, measured)
    instrument = with_neutral_undercuts(instrument)
    table = fingerings.model_copy(
        update={"fingerings": [f for f in fingerings.fingerings if f.name in measured]}
    )
    found = moves(instrument, leaks or [], aim, allow_building_up=allow_building_up)
    rows = [i for i, each in enumerate(fingerings.fingerings) if each.name in measured]
    response = Response(instrument, fingerings, found, rows)
    problem = _problem(instrument, table, response, measured, found, common_error_cents)
    hiding = _hiding_leaks(problem, leaks or [])
    if hiding:
        amounts, reason = np.zeros(len(found)), _SEAL_FIRST
        amounts[hiding] = 1.0
    else:
        amounts, reason = _choose(problem, most_steps, progress)
    return _plan(instrument, table, problem, amounts, aim, reason, measured)


def _check(fingerings: FingeringTable, measured: Mapping[str, MeasuredNote]) -> None:
    known = {fingering.name for fingering in fingerings.fingerings}
    for name, value in measured.items():
        if name not in known:
            raise PlayingError(
                say("'{name}' is not in the fingering table", name=name),
                place=say("measured notes"),
                remedy=say("Name notes as the table does, such as B3 or B3 (sliver)."),
            )
        if not (np.isfinite(value.cents) and value.error > 0):
            raise PlayingError(
                say("'{name}' has no standard error", name=name),
                place=say("measured notes"),
                remedy=say("Give one above 0."),
            )
    if len(measured) < 3:
        raise PlayingError(
            say("only {notes} notes were measured", notes=len(measured)),
            place=say("measured notes"),
            remedy=say("Record at least a scale: single notes say little about an instrument."),
        )


def _problem(
    instrument: Instrument,
    table: FingeringTable,
    response: Response,
    measured: Mapping[str, MeasuredNote],
    found: list[BenchMove],
    common: float,
) -> _Problem:
    weight_of = {Use.STANDARD: 1.0, Use.ALTERNATE: instrument.fit.alternate_weight, Use.APART: 0.0}
    weight = np.array([weight_of[fingering.use] for fingering in table.fingerings])
    if not weight.any():
        raise PlayingError(
            say("no standard fingering was measured"),
            place=say("measured notes"),
            remedy=say("Record a scale."),
        )
    error = np.array([measured[fingering.name].error for fingering in table.fingerings])
    counted = np.flatnonzero(weight > 0)
    spread = error[counted] ** 2 + _FLOOR_CENTS**2
    covariance = np.diag(spread / weight[counted] ** 2) + common**2
    whitener = np.zeros((len(counted), len(weight)))
    whitener[:, counted] = np.linalg.inv(np.linalg.cholesky(covariance))
    return _Problem(
        response,
        found,
        np.array([measured[fingering.name].cents for fingering in table.fingerings]),
        response.cents(np.zeros(len(found))),
        whitener,
        weight,
    )


def _choose(
    problem: _Problem, most_steps: int, progress: Callable[[int, int], None] | None
) -> tuple[np.ndarray, Message]:
    """Amounts [n] of all moves (most of them 0), and why it stopped."""
    from scipy.stats import chi2

    amounts = np.zeros(len(problem.moves))
    chosen: list[int] = []
    threshold = float(chi2.ppf(1 - _CHANCE / max(len(problem.moves), 1), 1))
    reason = say("{steps} steps were asked for at most", steps=most_steps)
    while len(chosen) < most_steps:
        if progress is not None:
            progress(len(chosen), most_steps)
        cents, slopes = problem.response.cents_and_slopes(amounts)
        before = _chi_square(problem, cents)
        candidates = [column for column in range(len(amounts)) if column not in chosen]
        trials = [
            (_linear(problem, cents, slopes, amounts, [*chosen, column])[1], column)
            for column in candidates
        ]
        if not trials:
            reason = say("nothing is left that may be done")
            break
        _, best = min(trials)
        trial = _settle(problem, amounts, [*chosen, best])
        after_cents = problem.response.cents(trial)
        gain = before - _chi_square(problem, after_cents)
        rms = _rms(problem, cents) - _rms(problem, after_cents)
        if gain < threshold:
            reason = say("what is left is smaller than the scatter of the takes")
            break
        if rms < _LEAST_GAIN_CENTS:
            reason = say("no further step would bring a tenth of a cent")
            break
        amounts, chosen = trial, [*chosen, best]
    return _rounded(problem, amounts, chosen), reason


def _hiding_leaks(problem: _Problem, leaks: list[Leak]) -> list[int]:
    """Columns of leaks whose unknown place makes any other advice a guess."""
    unknown = {leak.hole for leak in leaks if not leak.place_known}
    columns = []
    for column, move in enumerate(problem.moves):
        if move.columns or move.hole not in unknown:
            continue
        sealed = np.zeros(len(problem.moves))
        sealed[column] = 1.0
        effect = problem.response.cents(sealed) - problem.predicted
        if np.sqrt(np.mean(effect[problem.weight > 0] ** 2)) > _HIDING_CENTS:
            columns.append(column)
    return columns


def _chi_square(problem: _Problem, cents: np.ndarray) -> float:
    return float(np.sum((problem.whitener @ problem.after(cents)) ** 2))


def _rms(problem: _Problem, cents: np.ndarray) -> float:
    standard = problem.weight >= 1.0
    return float(np.sqrt(np.mean(problem.after(cents)[standard] ** 2)))


def _linear(
    problem: _Problem,
    cents: np.ndarray,
    slopes: np.ndarray,
    amounts: np.ndarray,
    columns: list[int],
) -> tuple[np.ndarray, float]:
    """Bounded least squares over some moves: their amounts, and the chi-square expected."""
    from scipy.optimize import lsq_linear

    matrix = problem.whitener @ slopes[:, columns]
    right = matrix @ amounts[columns] - problem.whitener @ problem.after(cents)
    low = np.array([problem.moves[column].low for column in columns])
    high = np.array([problem.moves[column].high for column in columns])
    sealing = np.array([not problem.moves[column].columns for column in columns])
    if sealing.any():
        # A leak is sealed or not: what is chosen is sealed.
        low = np.where(sealing, high - 1e-9, low)
    solved = lsq_linear(matrix, right, (low, high), method="bvls")
    return solved.x, float(2 * solved.cost)


def _settle(problem: _Problem, amounts: np.ndarray, chosen: list[int]) -> np.ndarray:
    """Amounts of the chosen moves on the full model, by repeated linearisation."""
    current = amounts.copy()
    for _ in range(_ROUNDS):
        cents, slopes = problem.response.cents_and_slopes(current)
        following = current.copy()
        following[chosen] = _linear(problem, cents, slopes, current, chosen)[0]
        done = np.abs(following - current).max() < 0.005
        current = following
        if done:
            break
    return current


def _rounded(problem: _Problem, amounts: np.ndarray, chosen: list[int]) -> np.ndarray:
    rounded = np.zeros_like(amounts)
    for column in chosen:
        move = problem.moves[column]
        grain = _GRAIN_MM if move.columns else 1.0
        value = round(amounts[column] / grain) * grain
        # Never beyond a limit for the sake of a round figure.
        if move.columns:
            value = min(max(value, move.low), move.high)
        rounded[column] = value
    return rounded


def _plan(
    instrument: Instrument,
    table: FingeringTable,
    problem: _Problem,
    amounts: np.ndarray,
    aim: Aim,
    reason: Message,
    measured: Mapping[str, MeasuredNote],
) -> CorrectionPlan:
    start = problem.predicted
    cents, slopes = problem.response.cents_and_slopes(amounts)
    chosen = [int(column) for column in np.flatnonzero(amounts)]
    errors = _errors(problem, slopes, chosen)
    # The step that brings most comes first, each judged after those before it.
    steps: list[CorrectionStep] = []
    done, here = np.zeros_like(amounts), start
    left = list(chosen)
    while left:
        trials = []
        for column in left:
            trial = done.copy()
            trial[column] = amounts[column]
            there = problem.response.cents(trial)
            trials.append((_chi_square(problem, there), column, trial, there))
        _, column, done, there = min(trials, key=lambda entry: entry[0])
        move = problem.moves[column]
        steps.append(
            CorrectionStep(
                words=move.task(amounts[column]),
                kind=move.kind,
                part=move.part,
                hole=move.hole,
                by_mm=float(amounts[column]) if move.columns else 0.0,
                uncertainty_mm=errors.get(column, 0.0),
                limit_low_mm=move.low,
                limit_high_mm=move.high,
                rms_before_cents=_rms(problem, here),
                rms_after_cents=_rms(problem, there),
                effects_cents=(there - here).tolist(),
            )
        )
        here = there
        left.remove(column)
    after = problem.after(cents)
    remaining = [
        fingering.name
        for fingering, value in zip(table.fingerings, after, strict=True)
        if fingering.use is not Use.APART
        and abs(value)
        > (
            instrument.fit.tolerance_cents
            if fingering.use is Use.STANDARD
            else instrument.fit.alternate_tolerance_cents
        )
    ]
    return CorrectionPlan(
        instrument=instrument.name,
        aim=aim,
        fingerings=[fingering.name for fingering in table.fingerings],
        predicted_cents=start.tolist(),
        measured_cents=problem.measured.tolist(),
        uncertainty_cents=[measured[each.name].error for each in table.fingerings],
        after_cents=after.tolist(),
        rms_before_cents=_rms(problem, start),
        rms_after_cents=_rms(problem, cents),
        steps=steps,
        remaining=remaining,
        reason_for_stopping=reason,
        model_level=problem.response.model_level,
        climate=climate_words(instrument.climate, None),
    )


def _errors(problem: _Problem, slopes: np.ndarray, chosen: list[int]) -> dict[int, float]:
    """One standard error (mm) of each chosen amount, from the scatter of the notes."""
    columns = [column for column in chosen if problem.moves[column].columns]
    if not columns:
        return {}
    matrix = problem.whitener @ slopes[:, columns]
    covariance = np.linalg.pinv(matrix.T @ matrix)
    return dict(zip(columns, np.sqrt(np.diag(covariance)).tolist(), strict=True))
