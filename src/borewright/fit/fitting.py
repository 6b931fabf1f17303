"""Fit an instrument to its fingerings within keywork, body and process."""

from __future__ import annotations

import math
import time

import numpy as np

from borewright.acoustics import tuning
from borewright.acoustics.request import request_of_table
from borewright.errors import FitError
from borewright.fit.aims import aims
from borewright.fit.checks import body_findings
from borewright.fit.freedom import freedoms
from borewright.fit.reach import bindings, out_of_reach
from borewright.fit.search import Outcome, Problem, Progress, search
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
    progress: Progress | None = None,
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
    progress
        Called every round with its number, root mean square and worst cents.
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
    """
    begun = time.perf_counter()
    if survey is not None:
        survey.check_against(instrument)
    before = tuning(instrument, fingerings)
    problem = Problem(
        request_of_table(instrument, fingerings),
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
    outcome = search(problem, progress, most_rounds)
    fitted = with_values(instrument, _rounded(problem, outcome))
    after = tuning(fitted, fingerings)
    reasons = out_of_reach(problem, outcome, fingerings) if outcome.finished else []
    result = FitResult(
        instrument=instrument.name,
        before=before,
        after=after,
        moved=_moves(instrument, fitted, problem, outcome),
        out_of_reach=reasons,
        findings=body_findings(fitted, survey),
        finished=outcome.finished,
        rounds=outcome.rounds,
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
