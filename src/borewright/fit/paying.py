"""A search for a body to make: reamers that are on the shelf, and nothing moved for nothing.

Both are choices, not slopes, so they come after a search and are followed by another one. Where
the maker names reamers, every cylinder and straight taper that is free goes to one of them
(:mod:`borewright.fit.reaming`). Where a
gain is stated that each moved thing must bring, those that bring less are sent home: to second
order, one programme each tells what its home costs once all others have moved to make up for it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.fit.freedom import Freedom
from borewright.fit.reaming import reamed
from borewright.fit.search import (
    Outcome,
    Problem,
    Progress,
    cost,
    held_at,
    is_worth,
    measure,
    programme,
    search,
)
from borewright.words import say

#: Away from home is what is further than this share of a moderate step.
_AWAY_STEPS = 0.005
_MOST_TIMES = 4
#: Rounding to hundredths may break a limit by so much (mm).
_ROUNDED_MM = 0.01


class Made(NamedTuple):
    """End of a search, and the problem with what it holds: its limits tell why."""

    problem: Problem
    outcome: Outcome


def search_to_make(
    problem: Problem,
    progress: Progress | None = None,
    most_rounds: int = 60,
    values: np.ndarray | None = None,
) -> Made:
    """As ``search``, with reamers from the shelf and what does not pay left at home.

    Raises
    ------
    FitError
        Where no reamer suits a cylinder or a taper.
    """
    least = problem.aims.least_gain
    shelf = bool(problem.reamers or problem.taper_reamers)
    if not least and not shelf:
        return Made(problem, search(problem, progress, most_rounds, values))
    begin = problem.start if values is None else values
    outcome = search(problem, progress, most_rounds, begin)
    if outcome.finished and shelf:
        problem = reamed(problem, outcome)
        outcome = _again(problem, outcome, most_rounds)
    for _ in range(_MOST_TIMES):
        idle = _idle(problem, outcome, least) if outcome.finished and least else []
        if not idle:
            break
        words = say("wins less than {least:g} cents²", least=least)
        problem = held_at(problem, {number: (_home(problem, number), words) for number in idle})
        outcome = _again(problem, outcome, most_rounds)
    if values is None and outcome.finished and _may_stay(problem, problem.start):
        given = measure(problem, problem.start)
        if not is_worth(cost(problem, given, _ROUNDED_MM), cost(problem, outcome.point)):
            outcome = outcome._replace(point=given)
    return Made(problem, outcome)


def _again(problem: Problem, outcome: Outcome, most_rounds: int) -> Outcome:
    again = search(problem, None, most_rounds, outcome.point.values)
    return again._replace(rounds=outcome.rounds + again.rounds)


def _may_stay(problem: Problem, start: np.ndarray) -> bool:
    """Whether a start keeps every range, the reamers' among them, hundredths apart."""
    here = problem.features(start)
    off = np.maximum(problem.low - here, here - problem.high)
    idle = np.array([not _is_cylinder(freedom) for freedom in problem.freedoms])
    # What was sent home may as well stay where it stands: the gain alone decides.
    held = (problem.low == problem.high) & idle
    return bool(np.max(np.where(held, 0.0, off), initial=0.0) < 1.01 * _ROUNDED_MM)


def _is_cylinder(freedom: Freedom) -> bool:
    return freedom.measure == "cylinder"


def _home(problem: Problem, number: int) -> float:
    freedom = problem.freedoms[number]
    return float(np.clip(freedom.drawn, freedom.low.value, freedom.high.value))


def _idle(problem: Problem, outcome: Outcome, least: float) -> list[int]:
    """Moved features whose home would cost less than they must win, the cheapest first.

    As many are sent home together as cost less than they must win together.
    """
    here = problem.features(outcome.point.values)
    home = np.array([_home(problem, number) for number in range(len(here))])
    free = problem.high - problem.low > 1e-9
    away = np.flatnonzero(free & (np.abs(here - home) / problem.scale > _AWAY_STEPS))
    rest = _predicted(problem, outcome, [])
    losses = {int(n): _predicted(problem, outcome, [int(n)]) - rest for n in away}
    ranked = sorted((n for n in losses if losses[n] < least), key=losses.__getitem__)
    while len(ranked) > 1 and _predicted(problem, outcome, ranked) - rest > least * len(ranked):
        ranked = ranked[: len(ranked) * 3 // 4]
    return ranked


def _predicted(problem: Problem, outcome: Outcome, at_home: list[int]) -> float:
    """Cost (cents²) of the best step with some features at home, to second order."""
    home = say("as drawn")
    kept = held_at(problem, {number: (_home(problem, number), home) for number in at_home})
    return programme(kept, outcome.point, kept.low, kept.high).cost
