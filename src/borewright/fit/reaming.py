"""The shelf in a search: free cylinders and tapers held at what reamers cut.

Which reamer is a choice, not a slope, so it is made after a search and followed by another one.
A cylinder goes to the nearest of the straight reamers. For a taper, each reamer is tried: to
second order, one programme tells what the tuning comes to with the taper's slope and ends held
to it, all else fitted around it; the cheapest is taken.
"""

from __future__ import annotations

import numpy as np

from borewright.errors import FitError
from borewright.fit.search import Outcome, Problem, held_at, programme
from borewright.fit.shelf import Form, StraightTaper, misfit, nearest, not_cut
from borewright.fit.spacing_class import Spacing, Spacings
from borewright.model.reamers import TaperReamer
from borewright.words import Said, say

#: A taper keeps its reamer's slope to this over its length, and its ends within it (mm).
_SAME_MM = 0.004


def reamed(problem: Problem, outcome: Outcome) -> Problem:
    """Every free cylinder and straight taper held at a reamer that cuts it.

    Raises
    ------
    FitError
        Where none on the shelf does; it names the nearest.
    """
    if problem.reamers:
        problem = _cylinders_held(problem, outcome)
    return _tapers_held(problem, outcome) if problem.taper_reamers else problem


def _cylinders_held(problem: Problem, outcome: Outcome) -> Problem:
    """Every free cylinder held at the reamer nearest to where the search left it."""
    here = problem.features(outcome.point.values)
    at: dict[int, tuple[float, Said]] = {}
    for number, freedom in enumerate(problem.freedoms):
        if freedom.measure != "cylinder":
            continue
        low, high = freedom.low.value, freedom.high.value
        suited = [d for d in problem.reamers if low - 1e-9 <= d <= high + 1e-9]
        if not suited:
            raise FitError(
                say(
                    "no reamer cuts between {low_mm:.2f} and {high_mm:.2f} mm; there are {reamers}",
                    low_mm=low,
                    high_mm=high,
                    reamers=", ".join(f"{d:g}" for d in problem.reamers),
                ),
                place=("fit.reamers", freedom.words),
                remedy=say("Name one that does, hold this cylinder, or widen its range."),
            )
        closest = min(suited, key=lambda d: abs(d - here[number]))
        at[number] = (closest, say("reamer of {diameter_mm:g} mm", diameter_mm=closest))
    return held_at(problem, at)


def _tapers_held(problem: Problem, outcome: Outcome) -> Problem:
    moved = {column for column in np.flatnonzero(np.any(np.abs(problem.moves) > 1e-9, axis=1))}
    for number, (taper, chosen) in enumerate(problem.tapers):
        if chosen is not None or not taper.columns & moved:
            continue
        tried = [_with_reamer(problem, number, reamer) for reamer in problem.taper_reamers]
        costs = [_cost(each, outcome, number) for each in tried]
        if not np.any(np.isfinite(costs)):
            raise _no_reamer(problem, taper, outcome)
        problem = tried[int(np.argmin(costs))]
    return problem


def _with_reamer(problem: Problem, number: int, reamer: TaperReamer) -> Problem:
    """The problem with one taper held to a reamer, its slope and both ends."""
    taper, _ = problem.tapers[number]
    slope = taper.grown.plus(taper.length, -reamer.taper)
    none = Form(())
    limits = (
        slope._replace(constant=slope.constant + _SAME_MM),
        none.plus(slope, -1.0)._replace(constant=_SAME_MM - slope.constant),
        taper.narrow._replace(constant=taper.narrow.constant - reamer.small_mm),
        none.plus(taper.wide, -1.0).plus(Form((), reamer.widest_mm), 1.0),
    )
    added = [
        Spacing(reamer.words, form.terms, (), form.constant, 0.0, relax_mm=0.0) for form in limits
    ]
    tapers = list(problem.tapers)
    tapers[number] = (taper, reamer)
    return problem._replace(spacings=Spacings([*problem.spacings, *added]), tapers=tuple(tapers))


def _cost(tried: Problem, outcome: Outcome, number: int) -> float:
    """What it comes to with a taper's reamer, to second order; infinite where it cannot cut."""
    step = programme(tried, outcome.point, tried.low, tried.high)
    values = outcome.point.values + tried.moves @ step.move
    taper, reamer = tried.tapers[number]
    assert reamer is not None
    return np.inf if misfit(reamer, taper, list(values)).said else step.cost


def _no_reamer(problem: Problem, taper: StraightTaper, outcome: Outcome) -> FitError:
    values = list(outcome.point.values)
    cause = not_cut(taper.described(values), nearest(problem.taper_reamers, taper, values))
    return FitError(
        cause,
        place=("fit.taper_reamers", taper.part),
        remedy=say(
            "Name a reamer that does, hold this taper, or give it more freedom (its ends, where "
            "it ends, or bore_window_mm)."
        ),
    )
