"""Corrections: few, small steps in possible directions that bring most.

What the takes say is first judged by the joint model of causes: what the player adds is told
from the instrument, notes are carried by what moves them together, and how sure each is comes
out with it. ``staging`` then chooses the steps.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from borewright.acoustics.request import climate_words
from borewright.errors import PlayingError
from borewright.model import Doubts, FingeringTable, Instrument, Use
from borewright.model.results.advice import (
    Aim,
    CorrectionPlan,
    CorrectionStep,
    Leak,
    SideEffect,
)
from borewright.playing.causes.believed import believed
from borewright.playing.causes.evidence import NOTE_HABIT_CENTS, Observations, gauge_row
from borewright.playing.causes.sounding import Sounding
from borewright.playing.measured import MeasuredNote, check_measured
from borewright.playing.moves import BenchMove, moves, with_neutral_undercuts
from borewright.playing.readings import Reading
from borewright.playing.response import Response
from borewright.playing.staging import Problem, amount_errors, staged, stages_of
from borewright.playing.still_open import open_questions
from borewright.words import Message, say

MOST_STEPS = 8
#: A leak of unknown place that moves the notes by more than this (cents) hides the rest.
_HIDING_CENTS = 3.0
#: A note beside those recorded is told of where it moves by this (cents).
_BESIDE_CENTS = 3.0
_SEAL_FIRST = say(
    "a leak of unknown place hides the rest: seal it, record again, and ask again without it"
)


def corrections(
    instrument: Instrument,
    fingerings: FingeringTable,
    measured: Mapping[str, MeasuredNote],
    *,
    leaks: list[Leak] | None = None,
    aim: Aim = Aim.REWORK,
    common_error_cents: float = 0.0,
    readings: Sequence[Reading] = (),
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
    readings
        What was gauged of the instrument, which is as they say: so much is sure of it.
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
    check_measured(fingerings, measured)
    table = fingerings.model_copy(
        update={"fingerings": [f for f in fingerings.fingerings if f.name in measured]}
    )
    weight_of = {Use.STANDARD: 1.0, Use.ALTERNATE: instrument.fit.alternate_weight, Use.APART: 0.0}
    weight = np.array([weight_of[fingering.use] for fingering in table.fingerings])
    if not weight.any():
        raise PlayingError(
            say("no standard fingering was measured"),
            place=say("measured notes"),
            remedy=say("Record a scale."),
        )
    sounding = Sounding(instrument, fingerings)
    gauged = [gauge_row(sounding, instrument, each) for each in readings]
    observations = Observations(
        sounding, fingerings, measured, 0.0, [row for row in gauged if row is not None]
    )
    usual = sounding.unknowns.usual(Doubts(), common_error_cents, room_known=True)
    belief = believed(instrument, observations, usual, {leak.hole for leak in leaks or []})
    own, covariance = belief.own_cents(observations)
    ready = with_neutral_undercuts(instrument)
    found = moves(ready, leaks or [], aim, allow_building_up=allow_building_up)
    response = Response(ready, fingerings, found, observations.rows)
    predicted = response.cents(np.zeros(len(found)))
    scatter = np.hypot([measured[name].error for name in observations.names], NOTE_HABIT_CENTS)
    taken = observations.cents - belief.strange_cents(observations)
    problem = Problem(response, found, own, covariance, predicted, weight, taken, scatter)
    hiding = _hiding_leaks(problem, leaks or [])
    if hiding:
        amounts, reason = np.zeros(len(found)), _SEAL_FIRST
        amounts[hiding] = 1.0
    else:
        amounts, reason = staged(problem, most_steps, progress)
    others = [row for row in sounding.usable() if row not in observations.rows]
    beside = _beside(ready, fingerings, found, others, amounts)
    asked = open_questions(instrument, fingerings, observations, belief, measured, weight, readings)
    plan = _plan(instrument, table, problem, amounts, aim, reason, measured, beside)
    return plan.model_copy(update={"open_questions": [question for question, _ in asked]})


def _beside(
    ready: Instrument,
    fingerings: FingeringTable,
    found: list[BenchMove],
    rows: list[int],
    amounts: np.ndarray,
) -> list[SideEffect]:
    """What the steps do to fingerings that were not recorded."""
    if not rows or not amounts.any():
        return []
    response = Response(ready, fingerings, found, rows)
    moved = response.cents(amounts) - response.cents(np.zeros(len(found)))
    return [
        SideEffect(fingering=fingerings.fingerings[row].name, by_cents=float(by))
        for row, by in zip(rows, moved, strict=True)
        if abs(by) >= _BESIDE_CENTS
    ]


def _hiding_leaks(problem: Problem, leaks: list[Leak]) -> list[int]:
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


def _plan(
    instrument: Instrument,
    table: FingeringTable,
    problem: Problem,
    amounts: np.ndarray,
    aim: Aim,
    reason: Message,
    measured: Mapping[str, MeasuredNote],
    beside: list[SideEffect],
) -> CorrectionPlan:
    start = problem.predicted
    cents, slopes = problem.response.cents_and_slopes(amounts)
    chosen = [int(column) for column in np.flatnonzero(amounts)]
    errors = amount_errors(problem, slopes, chosen)
    # What can be undone comes first, then the step that brings most, each judged after those
    # before it.
    steps: list[CorrectionStep] = []
    stages = stages_of(problem, amounts, chosen)
    done, here = np.zeros_like(amounts), start
    left = list(chosen)
    while left:
        trials = []
        for column in left:
            trial = done.copy()
            trial[column] = amounts[column]
            there = problem.response.cents(trial)
            trials.append((stages[column], problem.loss(there), column, trial, there))
        stage, _, column, done, there = min(trials, key=lambda entry: entry[:2])
        move = problem.moves[column]
        steps.append(
            CorrectionStep(
                words=move.task(amounts[column]),
                stage=stage,
                kind=move.kind,
                part=move.part,
                hole=move.hole,
                by_mm=float(amounts[column]) if move.columns else 0.0,
                uncertainty_mm=errors.get(column, 0.0),
                limit_low_mm=move.low,
                limit_high_mm=move.high,
                rms_before_cents=problem.rms(here),
                rms_after_cents=problem.rms(there),
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
        measured_cents=[measured[each.name].cents for each in table.fingerings],
        uncertainty_cents=[measured[each.name].error for each in table.fingerings],
        believed_cents=problem.believed.tolist(),
        believed_error_cents=np.sqrt(np.diag(problem.covariance)).tolist(),
        after_cents=after.tolist(),
        rms_before_cents=problem.rms(start),
        rms_after_cents=problem.rms(cents),
        steps=steps,
        beside=beside,
        remaining=remaining,
        reason_for_stopping=reason,
        model_level=problem.response.model_level,
        climate=climate_words(instrument.climate, None),
    )
