"""From an instrument and its wishes to a problem for the search, and from its end to a drawing."""

from __future__ import annotations

import math

import numpy as np

from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import HoleLevel
from borewright.errors import FitError
from borewright.fit.aims import aims
from borewright.fit.freedom import freedoms
from borewright.fit.further_wishes import further_aims
from borewright.fit.search import Outcome, Problem
from borewright.fit.shelf import straight_tapers
from borewright.fit.spacing import spacings
from borewright.fit.spacing_class import Spacings
from borewright.fit.states import also_in_tune
from borewright.model import FingeringTable, Instrument, KeyworkSurvey, drawn, read_values
from borewright.words import say

_DIGITS = 2


def problem_of(
    instrument: Instrument,
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None,
    level: HoleLevel,
) -> Problem:
    """The problem that an instrument's wishes pose, its limits counted from the drawing.

    Raises
    ------
    FitError
        Where nothing is free, nothing is aimed at, or limits exclude each other.
    """
    problem = Problem(
        request_of_table(instrument, fingerings, solved=level.terms),
        aims(instrument, fingerings),
        freedoms(instrument, survey),
        Spacings(spacings(drawn(instrument), survey)),
        np.array(read_values(instrument)),
        (*further_aims(instrument, fingerings), *also_in_tune(instrument, fingerings)),
        tuple(instrument.fit.reamers),
        tuple(instrument.fit.taper_reamers),
        tuple((taper, None) for taper in straight_tapers(drawn(instrument))),
    )
    if not np.any(problem.aims.weight > 0):
        raise FitError(
            say("no fingering has any weight"),
            place=fingerings.source or say("fingering table"),
            remedy=say("Mark fingerings as standard or alternate, or raise fit.weights."),
        )
    return problem


def rounded(problem: Problem, outcome: Outcome) -> list[float]:
    """Values as a drawing gives them, to 0.01 mm, on the allowed side of every limit.

    Features are rounded, so that a cylinder's two ends stay alike; what did not move stays as
    it stands.
    """
    features = problem.features(outcome.point.values)
    start = problem.features(problem.start)
    unit = 10.0**-_DIGITS
    for number, freedom in enumerate(problem.freedoms):
        if abs(features[number] - start[number]) < unit / 2:
            features[number] = start[number]
            continue
        value = round(features[number], _DIGITS)
        if value > freedom.high.value:
            value = math.floor(freedom.high.value / unit + 1e-9) * unit
        if value < freedom.low.value:
            value = math.ceil(freedom.low.value / unit - 1e-9) * unit
        features[number] = value
    values = problem.start + problem.moves @ (features - start)
    return [
        float(old) if abs(new - old) < 1e-9 else round(float(new), _DIGITS)
        for new, old in zip(values, problem.start, strict=True)
    ]
