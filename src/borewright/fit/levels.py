"""A fit with side holes solved in 3-D: fit, solve what was found, fit again, until it rests.

The search itself works on closed forms scaled to the solved holes, since they are quick and
have derivatives; a scale and its slopes hold near the shape they were taken for, so they are
renewed until that changes nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from borewright.acoustics.side_holes import HoleLevel, HoleProgress, hole_level
from borewright.acoustics.structure import SolvedTerms
from borewright.errors import Stopped
from borewright.fit.paying import search_to_make
from borewright.fit.search import Outcome, Problem, Progress, measure
from borewright.model import Finding, Instrument, SideHoles, with_values
from borewright.model.kinds import Severity
from borewright.words import say

#: Solving anew ends at once when it moved no note by more than this (cents).
SETTLED_CENTS = 0.02
_MOST_SOLUTIONS = 6
_LEAST_ROUNDS = 10

Rounding = Callable[[Problem, Outcome], list[float]]


class Levelled(NamedTuple):
    """End of a fit, at the level it was asked for."""

    problem: Problem  # with the scales of the fitted instrument
    outcome: Outcome  # its point measured with them
    values: list[float]  # rounded
    level: HoleLevel
    solutions: int  # how often the holes of a fitted instrument were solved
    findings: list[Finding]


def search_at_level(
    instrument: Instrument,
    problem: Problem,
    level: HoleLevel,
    side_holes: SideHoles,
    rounding: Rounding,
    *,
    progress: Progress | None,
    hole_progress: HoleProgress | None,
    most_rounds: int,
) -> Levelled:
    """Search, and where holes are solved, repeat with the holes of what was found.

    Parameters
    ----------
    instrument, problem, level
        The start, with its scales in the request.
    side_holes
        Closed forms are searched once.
    rounding
        Makes the values of a drawing.
    progress, hole_progress
        Of the search and of the solver.
    most_rounds
        Of all searches together, apart from a few that each repetition may always take.
    """
    problem, outcome = search_to_make(problem, progress, most_rounds)
    values = rounding(problem, outcome)
    if side_holes is SideHoles.CLOSED_FORMS:
        return Levelled(problem, outcome, values, level, 0, [])
    for solutions in range(1, _MOST_SOLUTIONS + 1):
        if not outcome.finished:
            break
        try:
            level = hole_level(with_values(instrument, values), side_holes, hole_progress)
        except (KeyboardInterrupt, Stopped):
            outcome = outcome._replace(finished=False)
            break
        renewed = with_terms(problem, level.terms)
        shift = _shift(problem, renewed, np.array(values))
        problem = renewed
        if shift <= SETTLED_CENTS or solutions == _MOST_SOLUTIONS:
            outcome = outcome._replace(point=measure(problem, outcome.point.values))
            restless = [_restless(shift)] if shift > SETTLED_CENTS else []
            return Levelled(problem, outcome, values, level, solutions, restless)
        # From what would be saved, as a fit of the saved file begins: what that would leave alone,
        # since moving it wins too little, rests here.
        done = outcome.rounds
        saved = problem._replace(start=np.array(values))
        made, again = search_to_make(
            saved, _later(progress, done), max(most_rounds - done, _LEAST_ROUNDS)
        )
        outcome = again._replace(rounds=done + again.rounds)
        problem = made._replace(start=problem.start)
        if again.finished and np.array_equal(again.point.values, saved.start):
            return Levelled(problem, outcome, values, level, solutions, [])
        values = rounding(problem, outcome)
    return _as_it_stands(instrument, problem, outcome, values, side_holes, solutions - 1)


def _as_it_stands(
    instrument: Instrument,
    problem: Problem,
    outcome: Outcome,
    values: list[float],
    side_holes: SideHoles,
    solutions: int,
) -> Levelled:
    """The end of a search that was stopped, at once: who stopped it waits for no solution.

    What was never solved for the last moves is taken from the start, and the level says so.
    """
    level = hole_level(with_values(instrument, values), side_holes, like=instrument)
    problem = with_terms(problem, level.terms)
    outcome = outcome._replace(point=measure(problem, outcome.point.values))
    return Levelled(problem, outcome, values, level, solutions, [])


def with_terms(problem: Problem, terms: SolvedTerms) -> Problem:
    """The problem with other solutions beside its closed forms."""
    numbers = problem.request.numbers._replace(solved=terms)
    return problem._replace(request=problem.request._replace(numbers=numbers))


def _shift(problem: Problem, renewed: Problem, values: np.ndarray) -> float:
    """Greatest change (cents) of a fingering that counts, by the renewed scales alone."""
    before = measure(problem, values, with_slopes=False).cents
    after = measure(renewed, values, with_slopes=False).cents
    counted = np.abs(after - before)[problem.aims.weight > 0]
    # A note that was lost or came into being is a change beyond any limit.
    return float(np.max(np.where(np.isfinite(counted), counted, np.inf)))


def _later(progress: Progress | None, done: int) -> Progress | None:
    if progress is None:
        return None
    return lambda number, rms, worst: progress(done + number, rms, worst)


def _restless(shift: float) -> Finding:
    return Finding(
        severity=Severity.NOTICE,
        place="fit",
        what=say(
            "solving the side holes anew still moved a note by {shift_cents:.1f} cents after "
            "{times} times",
            shift_cents=shift,
            times=_MOST_SOLUTIONS,
        ),
        remedy=say("Run the fit once more from the saved instrument, or free fewer dimensions."),
    )
