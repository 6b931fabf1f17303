"""Fit an instrument to its fingerings within keywork, body and process."""

from __future__ import annotations

import time

import numpy as np

from borewright.acoustics.side_holes import HoleLevel, HoleProgress, hole_level, side_holes_of
from borewright.acoustics.tuning import tuning_at
from borewright.fit.checks import body_findings
from borewright.fit.levels import Levelled, search_at_level
from borewright.fit.problems import problem_of, rounded
from borewright.fit.reach import Causes, bindings, causes_of
from borewright.fit.search import Outcome, Problem, Progress, measure
from borewright.fit.spacing import hole_spacings
from borewright.fit.spacing_class import ROUNDING_MM, Spacings
from borewright.fit.states import state_tunings
from borewright.fit.undercuts import begun, without_idle
from borewright.model import (
    Drawing,
    Finding,
    FingeringTable,
    FitResult,
    Instrument,
    KeyworkSurvey,
    Move,
    SideHoles,
    TuningTable,
    dimensions,
    drawn,
    read_values,
    remembering,
    with_values,
)
from borewright.model.kinds import Severity
from borewright.words import Said, say

#: A wall this much (mm) under its limit is measured where it is, and the search goes on.
_THIN_MM = 0.015
_MOST_MEASURED = 3
#: Digits (mm) of values that are sums of several: rounding noise goes, hundredths stay.
_FINE = 6


def fit(
    instrument: Instrument,
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None = None,
    *,
    side_holes: SideHoles | str | None = None,
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
        As for :func:`borewright.acoustics.tuning`. Solved holes of what the search finds are
        solved and searched with again, until that moves no note by more than 0.5 cent. The
        fitted instrument remembers the level.
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
    started, given = time.perf_counter(), instrument
    if survey is not None:
        survey.check_against(instrument)
    way = side_holes_of(side_holes, instrument)
    level = hole_level(instrument, way, hole_progress)
    before = tuning_at(instrument, fingerings, level)
    instrument = begun(given)
    drawing = drawn(instrument)
    problem = problem_of(instrument, fingerings, survey, level)
    if _is_tuned(instrument, problem, before):
        kept = given.model_copy(update={"side_holes": way})
        return kept, _untouched(kept, survey, before, started)
    end = _searched(
        instrument,
        survey,
        problem,
        level,
        way,
        progress=progress,
        hole_progress=hole_progress,
        most_rounds=most_rounds,
    )
    problem, outcome = end.problem, end.outcome
    made = with_values(instrument, end.values).model_copy(update={"side_holes": way})
    moves = _moves(instrument, made, drawing, problem, outcome)
    fitted = remembering(*without_idle(made, given, drawing))
    after = tuning_at(fitted, fingerings, end.level)
    causes = Causes([], [], [])
    if outcome.finished:
        causes = causes_of(instrument, survey, problem, outcome, fingerings)
    result = FitResult(
        instrument=instrument.name,
        before=before,
        after=after,
        moved=moves,
        out_of_reach=causes.out_of_reach,
        held_back=causes.held_back,
        at_limits=causes.at_limits,
        also=state_tunings(given, fitted, fingerings, [level, end.level]),
        findings=[*end.findings, *body_findings(fitted, survey)],
        finished=outcome.finished,
        rounds=outcome.rounds,
        hole_solutions=end.solutions,
        seconds=time.perf_counter() - started,
    )
    return fitted, result


def _is_tuned(instrument: Instrument, problem: Problem, before: TuningTable) -> bool:
    """Whether a drawing that no fit has touched is in tune and keeps its limits as it is."""
    if instrument.drawing != Drawing():
        return False
    point = measure(problem, problem.start, with_slopes=False)
    aims = problem.aims
    cents = aims.off(point.cents)[aims.weight > 0]
    if problem.further or not np.all(np.abs(cents) <= aims.tolerance[aims.weight > 0]):
        return False
    if before.summary.rms_cents > instrument.fit.tuned_cents:
        return False
    here = problem.features(problem.start)
    kept = np.all(here >= problem.low - ROUNDING_MM) and np.all(here <= problem.high + ROUNDING_MM)
    gaps, _ = problem.spacings.evaluate(problem.start)
    return bool(kept and np.min(gaps, initial=0.0) >= -_THIN_MM)


def _untouched(
    instrument: Instrument, survey: KeyworkSurvey | None, table: TuningTable, started: float
) -> FitResult:
    """The result of a fit that leaves a tuned drawing alone, and says so."""
    left = Finding(
        severity=Severity.NOTICE,
        place="fit",
        what=say(
            "the drawing is in tune already (rms {rms:.1f}, worst {worst:+.1f} cents at {note}): "
            "nothing was moved",
            rms=table.summary.rms_cents,
            worst=table.summary.worst_cents,
            note=table.summary.worst_note,
        ),
        remedy=say("Set fit.tuned_cents = 0 to fit it all the same."),
    )
    return FitResult(
        instrument=instrument.name,
        before=table,
        after=table,
        moved=[],
        out_of_reach=[],
        findings=[left, *body_findings(instrument, survey)],
        finished=True,
        rounds=0,
        seconds=time.perf_counter() - started,
    )


def _searched(
    instrument: Instrument,
    survey: KeyworkSurvey | None,
    problem: Problem,
    level: HoleLevel,
    way: SideHoles,
    *,
    progress: Progress | None,
    hole_progress: HoleProgress | None,
    most_rounds: int,
) -> Levelled:
    """Search, and once more with walls measured where they ended, if one came out too thin."""
    for attempt in range(_MOST_MEASURED):
        end = search_at_level(
            instrument,
            problem,
            level,
            way,
            rounded,
            progress=progress,
            hole_progress=hole_progress,
            most_rounds=most_rounds,
        )
        values = np.array(end.values)
        measured = hole_spacings(with_values(instrument, end.values), survey)
        walls = {str(each.words): each for each in measured if each.chord is not None}
        thin = {w for w, each in walls.items() if each.evaluate(values)[0] < -_THIN_MM}
        if not thin or not end.outcome.finished or attempt == _MOST_MEASURED - 1:
            break
        renewed = Spacings(
            walls[str(each.words)] if str(each.words) in thin else each for each in problem.spacings
        )
        problem, level = end.problem._replace(spacings=renewed), end.level
    return end


def _moves(
    before: Instrument,
    after: Instrument,
    drawing: Instrument,
    problem: Problem,
    outcome: Outcome,
) -> list[Move]:
    """Every free dimension, with the limit that holds it."""
    held: dict[int, Said] = {
        number: freedom.low.words
        for number, freedom in enumerate(problem.freedoms)
        if freedom.low == freedom.high
    }
    for taper, reamer in problem.tapers:
        if reamer is None:
            continue
        for number, freedom in enumerate(problem.freedoms):
            if freedom.measure != "cylinder" and taper.columns & {c for c, _ in freedom.moves}:
                held.setdefault(number, reamer.words)
    if outcome.finished:
        for binding in bindings(problem, outcome):
            if binding.free >= 0:
                freedom = problem.freedoms[binding.free]
                side = freedom.low if binding.lower else freedom.high
                held.setdefault(binding.free, side.words)
    moves = problem.moves
    gaps, rates = problem.spacings.evaluate(outcome.point.values)
    for row in np.flatnonzero(gaps < ROUNDING_MM):
        # A spacing holds the dimensions of its holes.
        for touched in np.flatnonzero(np.abs(rates[row] @ moves) > 1e-9):
            held.setdefault(int(touched), problem.spacings[row].words)
    old, new, home = (np.array(read_values(each)) for each in (before, after, drawing))
    names = dimensions(before)
    found = []
    for number, freedom in enumerate(problem.freedoms):
        rows: list[tuple[str, float, float, float]]
        if freedom.measure == "chimney":
            rows = [(names[c].hole, old[c], new[c], home[c]) for c, _ in freedom.moves]
        else:
            hole = freedom.dimension.hole
            rows = [(hole, freedom.value(old), freedom.value(new), freedom.value(home))]
        found += [
            Move(
                part=freedom.dimension.part,
                hole=hole,
                dimension=freedom.name,
                measure=freedom.measure,
                **{"from": round(start, _FINE)},
                to=round(end, _FINE),
                drawn=round(base, _FINE),
                limit=held.get(number),
            )
            for hole, start, end, base in rows
        ]
    return found
