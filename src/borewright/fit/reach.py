"""Why a note is out of reach: what stops it, and what would pay most, fitted anew.

Two things hold a fit back: limits that bind, and whatever the maker holds. Both are tried: first
to first order, then the best few as a real fit, so that the figures given are those of a fit.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.fit.held import Candidate, held_candidates
from borewright.fit.search import Outcome, Problem, nearby, programme, search, tuning_cost
from borewright.fit.spacing_class import Spacings
from borewright.model import (
    AtLimit,
    FingeringTable,
    HeldBack,
    Instrument,
    KeyworkSurvey,
    OutOfReach,
    Relaxation,
    Use,
)
from borewright.words import Said, say

#: Multiplier (cents² per mm) from which a limit counts as binding.
_BINDS = 1e-3
_MOST_TRIED = 2
#: Dearest limits that are looked at.
_MOST_LIMITS = 8
_REFIT_ROUNDS = 12
#: So far (mm) a cup, ring or finger hole is tried beyond its window: bending, or another key.
_CUP_MM = 3.0
#: A limit whose step cannot take more than this (cents) off the rms is not looked at closely.
_LITTLE_CENTS = 0.02
#: Something held is worth naming where it takes off this share of what the tuning costs.
_PAYS = 0.15


class Binding(NamedTuple):
    """A limit that holds the fit back."""

    words: Said
    free: int  # index into problem.freedoms, or -1 for a spacing
    spacing: int
    lower: bool
    price: float


class Causes(NamedTuple):
    """Notes out of reach, what would pay if it were freed, and what limits cost."""

    out_of_reach: list[OutOfReach]
    held_back: list[HeldBack]
    at_limits: list[AtLimit]


class _Tried(NamedTuple):
    """A candidate after a fit."""

    candidate: Candidate
    cents: np.ndarray
    cost: float


def bindings(problem: Problem, outcome: Outcome) -> list[Binding]:
    """Limits with a price at the end of a search, dearest first.

    The prices come from one more programme at the end point, without a trust region.
    """
    step = programme(problem, outcome.point, problem.low, problem.high)
    found = []
    for number, freedom in enumerate(problem.freedoms):
        for side, price, lower in (
            (freedom.low, step.low_price[number], True),
            (freedom.high, step.high_price[number], False),
        ):
            if price > _BINDS:
                words = say("{what}: {limit}", what=freedom.words, limit=side.words)
                found.append(Binding(words, number, -1, lower, float(price)))
    for number, spacing in enumerate(problem.spacings):
        if step.spacing_price[number] > _BINDS:
            price = float(step.spacing_price[number])
            found.append(Binding(spacing.words, -1, number, True, price))
    return sorted(found, key=lambda binding: -binding.price)


def causes_of(
    instrument: Instrument,
    survey: KeyworkSurvey | None,
    problem: Problem,
    outcome: Outcome,
    fingerings: FingeringTable,
) -> Causes:
    """Every weighted note beyond its tolerance with what would help it most, and what pays.

    Parameters
    ----------
    instrument, survey
        Of the fit; they tell what is held.
    problem, outcome
        A finished search.
    fingerings
        Rows of the problem's cents.
    """
    cents = outcome.point.cents
    off = problem.aims.off(cents)
    late = [
        row
        for row in range(len(off))
        if problem.aims.weight[row] > 0
        and (not np.isfinite(off[row]) or abs(off[row]) > problem.aims.tolerance[row] + 1e-6)
    ]
    held = held_candidates(instrument, survey, problem)
    every = bindings(problem, outcome)
    limits = [_of_binding(problem, each) for each in every[:_MOST_LIMITS]] if late else []
    both = [*held, *(limit for limit in limits if limit is not None)]
    predicted = [_linear(candidate, outcome) for candidate in both]
    chosen = _paying(problem, outcome, held, predicted)
    for row in late:
        ranked = sorted(
            range(len(both)), key=lambda number: abs(problem.aims.off(predicted[number])[row])
        )
        chosen += [both[n] for n in ranked[:_MOST_TRIED] if both[n] not in chosen]
    tried = [_refitted(candidate, outcome) for candidate in chosen]
    standard = np.array([f.use is Use.STANDARD for f in fingerings.fingerings])
    reach = [_late(problem, outcome, fingerings, row, tried, standard) for row in late]
    back = [each for each in tried if each.candidate.is_held]
    back = [each for each in back if each.cost < (1 - _PAYS) * tuning_cost(problem, cents)]
    back.sort(key=lambda each: each.cost)
    return Causes(
        reach,
        [_held_back(outcome, fingerings, each, standard) for each in back],
        _at_limits(problem, outcome, every, fingerings, standard),
    )


def _at_limits(
    problem: Problem,
    outcome: Outcome,
    every: list[Binding],
    fingerings: FingeringTable,
    standard: np.ndarray,
) -> list[AtLimit]:
    """What a moderate step beyond each limit would buy, to second order, the dearest first.

    Limits that nobody would relax (a wall, a slope) are left out.
    """
    now = outcome.point.cents
    rms = _summary(now, standard)[0]
    near = nearby(problem, outcome.point)
    little = _LITTLE_CENTS * 2 * rms * np.count_nonzero(standard)  # as cents²
    found = []
    for binding in every:
        by = _step_mm(problem, binding)
        if not by:
            continue
        after = now
        # Its price is the most that a step can win: where that is little, nothing is solved.
        if binding.price * by > little:
            low, high, gaps = problem.low, problem.high, near.gaps.copy()
            if binding.free < 0:
                gaps[binding.spacing] += by
            elif binding.lower:
                low[binding.free] -= by
            else:
                high[binding.free] += by
            move = near._replace(gaps=gaps).step(low, high).move
            after = now + outcome.point.slopes @ move
        found.append(
            AtLimit(
                what=binding.words,
                by_mm=by,
                gain_cents=max(rms - _summary(after, standard)[0], 0.0),
                notes=_gaining(now, after, fingerings, standard, 0.5)[:2],
            )
        )
    return sorted(found, key=lambda each: -each.gain_cents)


def _paying(
    problem: Problem, outcome: Outcome, held: list[Candidate], predicted: list[np.ndarray]
) -> list[Candidate]:
    """Held things that better the tuning as a whole, to first order; the best few."""
    now = tuning_cost(problem, outcome.point.cents)
    costs = [tuning_cost(problem, cents) for cents in predicted[: len(held)]]
    ranked = sorted(range(len(held)), key=lambda number: costs[number])
    return [held[number] for number in ranked[:_MOST_TRIED] if costs[number] < (1 - _PAYS) * now]


def _of_binding(problem: Problem, binding: Binding) -> Candidate | None:
    """The problem with one binding limit relaxed by a moderate step."""
    if binding.free < 0:
        spacings = list(problem.spacings)
        old = spacings[binding.spacing]
        if not old.relax_mm:
            return None
        spacings[binding.spacing] = type(old)(**{**vars(old), "wall": old.wall - old.relax_mm})
        change = say("'{limit}' relaxed by {by_mm:g} mm", limit=old.words, by_mm=old.relax_mm)
        relaxed = problem._replace(spacings=Spacings(spacings))
        return Candidate(binding.words, change, relaxed, False)
    freedoms = list(problem.freedoms)
    freedom = freedoms[binding.free]
    side = freedom.low if binding.lower else freedom.high
    by = _step_mm(problem, binding)
    moved = type(side)(side.value + (-by if binding.lower else by), side.words)
    name = "low" if binding.lower else "high"
    freedoms[binding.free] = type(freedom)(**{**vars(freedom), name: moved})
    change = say("'{limit}' relaxed by {by_mm:g} mm", limit=binding.words, by_mm=by)
    return Candidate(binding.words, change, problem._replace(freedoms=freedoms), False)


def _step_mm(problem: Problem, binding: Binding) -> float:
    """How far (mm) beyond a limit is tried."""
    if binding.free < 0:
        return problem.spacings[binding.spacing].relax_mm
    freedom = problem.freedoms[binding.free]
    return _CUP_MM if freedom.measure == "station" else freedom.scale


def _gaining(
    before: np.ndarray,
    after: np.ndarray,
    fingerings: FingeringTable,
    standard: np.ndarray,
    least: float,
) -> list[tuple[str, float, float]]:
    """The three standard fingerings that gain most, each by more than ``least`` cents."""
    gains = np.where(standard, np.nan_to_num(np.abs(before) - np.abs(after)), 0.0)
    best = [int(row) for row in np.argsort(-gains)[:3] if gains[row] > least]
    return [
        (fingerings.fingerings[row].name, float(before[row]), float(after[row])) for row in best
    ]


def _linear(candidate: Candidate, outcome: Outcome) -> np.ndarray:
    """Cents predicted to first order with a candidate's problem."""
    problem = candidate.problem
    point = outcome.point
    point = point._replace(slopes=point.jacobian @ problem.moves)
    step = programme(problem, point, problem.low, problem.high)
    predicted: np.ndarray = point.cents + point.slopes @ step.move
    return predicted


def _refitted(candidate: Candidate, outcome: Outcome) -> _Tried:
    end = search(candidate.problem, None, _REFIT_ROUNDS, outcome.point.values)
    return _Tried(candidate, end.point.cents, tuning_cost(candidate.problem, end.point.cents))


def _summary(cents: np.ndarray, standard: np.ndarray) -> tuple[float, float]:
    counted = cents[standard & np.isfinite(cents)]
    if not len(counted):
        return 0.0, 0.0
    return float(np.sqrt(np.mean(counted**2))), float(counted[np.argmax(np.abs(counted))])


def _late(
    problem: Problem,
    outcome: Outcome,
    fingerings: FingeringTable,
    row: int,
    tried: list[_Tried],
    standard: np.ndarray,
) -> OutOfReach:
    now = float(np.nan_to_num(outcome.point.cents[row]))
    wish = float(problem.aims.wish[row])
    found = []
    for each in tried:
        after = float(each.cents[row])
        if np.isfinite(after) and abs(after - wish) < abs(now - wish) - 0.05:
            rms, worst = _summary(each.cents, standard)
            found.append(
                (
                    abs(after - wish),
                    Relaxation(
                        limit=each.candidate.words,
                        change=each.candidate.change,
                        cents_after=after,
                        rms_after=rms,
                        worst_after=worst,
                    ),
                )
            )
    found.sort(key=lambda pair: pair[0])
    # The best few, and the best of the limits in any case: it is what stops the note today.
    limits = {each.candidate.words for each in tried if not each.candidate.is_held}
    chosen = found[: _MOST_TRIED + 1]
    if not any(relaxation.limit in limits for _, relaxation in chosen):
        chosen += [pair for pair in found[len(chosen) :] if pair[1].limit in limits][:1]
    relaxations = [relaxation for _, relaxation in chosen]
    tolerance = float(problem.aims.tolerance[row])
    return OutOfReach(
        fingering=fingerings.fingerings[row].name,
        cents=now,
        tolerance_cents=tolerance,
        relaxations=relaxations,
        advice=_advice(relaxations, wish, tolerance, _summary(outcome.point.cents, standard)[0]),
    )


def _advice(relaxations: list[Relaxation], wish: float, tolerance: float, rms: float) -> Said:
    if not relaxations:
        return say(
            "No single limit holds this note, and nothing that is held would help it: its "
            "dimensions also serve other notes. Lower the weight of notes that pull against it."
        )
    best = relaxations[0]
    if abs(best.cents_after - wish) <= tolerance:
        return say(
            "{change} brings it within tolerance: {cents:+.1f} cents after a new fit, and all "
            "standard fingerings from rms {rms:.1f} to {after:.1f}.",
            change=best.change,
            cents=best.cents_after,
            rms=rms,
            after=best.rms_after,
        )
    return say(
        "{change} helps: {cents:+.1f} cents after a new fit, and all standard fingerings from "
        "rms {rms:.1f} to {after:.1f}.",
        change=best.change,
        cents=best.cents_after,
        rms=rms,
        after=best.rms_after,
    )


def _held_back(
    outcome: Outcome, fingerings: FingeringTable, tried: _Tried, standard: np.ndarray
) -> HeldBack:
    before, after = outcome.point.cents, tried.cents
    rms, worst = _summary(after, standard)
    return HeldBack(
        what=tried.candidate.change,
        held=tried.candidate.words,
        rms_after=rms,
        worst_after=worst,
        notes=_gaining(before, after, fingerings, standard, 1.0),
    )
