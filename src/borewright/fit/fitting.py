"""Fit an instrument to its fingerings within keywork, body and process."""

from __future__ import annotations

import math
import time

import numpy as np

from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import HoleProgress, SideHoles, hole_level, side_holes_of
from borewright.acoustics.tuning import tuning_at
from borewright.errors import FitError
from borewright.fit.aims import aims
from borewright.fit.checks import body_findings
from borewright.fit.freedom import freedoms
from borewright.fit.levels import search_at_level
from borewright.fit.reach import bindings, out_of_reach
from borewright.fit.search import Outcome, Problem, Progress
from borewright.fit.spacing import ROUNDING_MM, spacings
from borewright.model import (
    FingeringTable,
    FitResult,
    Instrument,
    KeyworkSurvey,
    Move,
    read_values,
    with_values,
)

_DIGITS = 2


def fit(
    instrument: Instrument,
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None = None,
    *,
    side_holes: SideHoles | str = SideHoles.CLOSED_FORMS,
    progress: Progress | None = None,
    hole_progress: HoleProgress | None = None,
    most_rounds: int = 60,
) -> tuple[Instrument, FitResult]:
    """Move the free dimensions so that the fingerings are in tune, within every limit.

    Parameters
    ----------
    instrument
        The start; ``instrument.fit`` says what is free, with which limits and weights.
    fingerings
        Standard fingerings count fully, alternates by their weight, those apart not at all.
    survey
        Keywork to respect.
    side_holes
        ``"closed forms"`` or ``"solved in 3-D"``: then the holes of what the search finds are
        solved and searched with again, until that moves no note by more than 0.5 cent.
    progress
        Called every round with its number, root mean square and worst cents.
    hole_progress
        Called while holes are solved, with how many are done and how many there are.
    most_rounds
        A ceiling on rounds.

    Returns
    -------
    tuple
        The fitted instrument, its dimensions rounded to 0.01 mm, and the result. Ctrl-C ends
        the search early: then ``finished`` is False and the best so far is returned.

    Raises
    ------
    FitError
        Where nothing is free, nothing is aimed at, or limits exclude each other.
    AcousticsError
        Where holes are to be solved in 3-D and cannot be.
    """
    begun = time.perf_counter()
    if survey is not None:
        survey.check_against(instrument)
    way = side_holes_of(side_holes)
    level = hole_level(instrument, way, hole_progress)
    before = tuning_at(instrument, fingerings, level)
    problem = Problem(
        request_of_table(instrument, fingerings, solved=level.terms),
        aims(instrument, fingerings),
        freedoms(instrument, survey),
        spacings(instrument, survey),
        np.array(read_values(instrument)),
        instrument.fit.keep_close,
    )
    if not np.any(problem.aims.weight > 0):
        raise FitError(
            "no fingering has any weight",
            place=fingerings.source or "fingering table",
            remedy="Mark fingerings as standard or alternate, or raise fit.weights.",
        )
    end = search_at_level(
        instrument,
        problem,
        level,
        way,
        _rounded,
        progress=progress,
        hole_progress=hole_progress,
        most_rounds=most_rounds,
    )
    problem, outcome = end.problem, end.outcome
    fitted = with_values(instrument, end.values)
    after = tuning_at(fitted, fingerings, end.level)
    reasons = out_of_reach(problem, outcome, fingerings) if outcome.finished else []
    result = FitResult(
        instrument=instrument.name,
        before=before,
        after=after,
        moved=_moves(instrument, fitted, problem, outcome),
        out_of_reach=reasons,
        findings=[*end.findings, *body_findings(fitted, survey)],
        finished=outcome.finished,
        rounds=outcome.rounds,
        hole_solutions=end.solutions,
        seconds=time.perf_counter() - begun,
    )
    return fitted, result


def _rounded(problem: Problem, outcome: Outcome) -> list[float]:
    """Values as a drawing gives them, to 0.01 mm, on the allowed side of every limit."""
    values: list[float] = outcome.point.values.tolist()
    unit = 10.0**-_DIGITS
    for freedom in problem.freedoms:
        value = round(values[freedom.column], _DIGITS)
        if value > freedom.high.value:
            value = math.floor(freedom.high.value / unit + 1e-9) * unit
        if value < freedom.low.value:
            value = math.ceil(freedom.low.value / unit - 1e-9) * unit
        values[freedom.column] = round(value, _DIGITS)
    return values


def _moves(before: Instrument, after: Instrument, problem: Problem, outcome: Outcome) -> list[Move]:
    """Every free dimension, with the limit that holds it."""
    held: dict[int, str] = {}
    if outcome.finished:
        for binding in bindings(problem, outcome):
            if binding.free >= 0:
                freedom = problem.freedoms[binding.free]
                side = freedom.low if binding.lower else freedom.high
                held.setdefault(binding.free, side.words)
    for number, freedom in enumerate(problem.freedoms):
        # A spacing holds the dimensions of its holes.
        for spacing in problem.spacings:
            gap, gradient = spacing.evaluate(outcome.point.values)
            if gap < ROUNDING_MM and gradient[freedom.column]:
                held.setdefault(number, spacing.words)
    old, new = read_values(before), read_values(after)
    return [
        Move(
            part=freedom.dimension.part,
            hole=freedom.dimension.hole,
            dimension=_dimension_words(freedom.dimension.measure, freedom.dimension.index),
            **{"from": old[freedom.column]},
            to=new[freedom.column],
            limit=held.get(number, ""),
        )
        for number, freedom in enumerate(problem.freedoms)
    ]


def _dimension_words(measure: str, index: int) -> str:
    words = measure.replace("_", " ")
    return f"{words} {index + 1}" if index >= 0 else words
