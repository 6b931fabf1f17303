"""Why a note is out of reach: which limit stops it, and what relaxing it would bring."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.fit.search import Outcome, Problem, programme, search
from borewright.model import FingeringTable, OutOfReach, Relaxation

#: Multiplier (cents² per mm) from which a limit counts as binding.
_BINDS = 1e-3
_RELAX_MM = 1.0
_MOST_TRIED = 3


class Binding(NamedTuple):
    """A limit that holds the fit back."""

    words: str
    free: int  # index into problem.freedoms, or -1 for a spacing
    spacing: int
    lower: bool
    price: float


def bindings(problem: Problem, outcome: Outcome) -> list[Binding]:
    """Limits with a price at the end of a search, dearest first.

    The prices come from one more programme at the end point, without a trust region.
    """
    boost = np.ones_like(outcome.point.cents)
    step = programme(problem, outcome.point, boost, problem.low, problem.high)
    found = []
    for number, freedom in enumerate(problem.freedoms):
        for side, price, lower in (
            (freedom.low, step.low_price[number], True),
            (freedom.high, step.high_price[number], False),
        ):
            if price > _BINDS:
                words = f"{freedom.dimension.label}: {side.words}"
                found.append(Binding(words, number, -1, lower, float(price)))
    for number, spacing in enumerate(problem.spacings):
        if step.spacing_price[number] > _BINDS:
            price = float(step.spacing_price[number])
            found.append(Binding(spacing.words, -1, number, True, price))
    return sorted(found, key=lambda binding: -binding.price)


def out_of_reach(
    problem: Problem, outcome: Outcome, fingerings: FingeringTable
) -> list[OutOfReach]:
    """Every weighted note beyond its tolerance, with the limits whose relaxing helps it most.

    Candidates are ranked by the linear programme with the limit relaxed by 1 mm; the best few
    are then fitted anew, so that the figures given are those of a real fit.
    """
    cents = outcome.point.cents
    late = [
        row
        for row in range(len(cents))
        if problem.aims.weight[row] > 0
        and (not np.isfinite(cents[row]) or abs(cents[row]) > problem.aims.tolerance[row] + 1e-6)
    ]
    if not late:
        return []
    binding = bindings(problem, outcome)
    linear = {limit: _linear(problem, outcome, limit) for limit in binding}
    refitted: dict[Binding, np.ndarray] = {}
    found = []
    for row in late:
        helpful = sorted(binding, key=lambda limit: abs(linear[limit][row]))[:_MOST_TRIED]
        relaxations = []
        for limit in helpful:
            if limit not in refitted:
                relaxed = _relaxed(problem, limit)
                refitted[limit] = search(
                    relaxed, most_rounds=12, values=outcome.point.values
                ).point.cents
            after = float(refitted[limit][row])
            if np.isfinite(after) and abs(after) < abs(cents[row]) - 0.05:
                relaxations.append(Relaxation(limit=limit.words, cents_after=after))
        relaxations.sort(key=lambda relaxation: abs(relaxation.cents_after))
        found.append(
            OutOfReach(
                fingering=fingerings.fingerings[row].name,
                cents=float(np.nan_to_num(cents[row])),
                tolerance_cents=float(problem.aims.tolerance[row]),
                relaxations=relaxations,
                advice=_advice(relaxations, float(problem.aims.tolerance[row])),
            )
        )
    return found


def _linear(problem: Problem, outcome: Outcome, limit: Binding) -> np.ndarray:
    """Cents predicted to first order with one limit relaxed."""
    relaxed = _relaxed(problem, limit)
    boost = np.ones_like(outcome.point.cents)
    step = programme(relaxed, outcome.point, boost, relaxed.low, relaxed.high)
    predicted: np.ndarray = outcome.point.cents + outcome.point.slopes @ step.move
    return predicted


def _relaxed(problem: Problem, limit: Binding) -> Problem:
    if limit.free < 0:
        spacings = list(problem.spacings)
        old = spacings[limit.spacing]
        spacings[limit.spacing] = type(old)(**{**vars(old), "wall": old.wall - _RELAX_MM})
        return problem._replace(spacings=spacings)
    freedoms = list(problem.freedoms)
    old_freedom = freedoms[limit.free]
    side = old_freedom.low if limit.lower else old_freedom.high
    moved = type(side)(side.value + (-_RELAX_MM if limit.lower else _RELAX_MM), side.words)
    name = "low" if limit.lower else "high"
    freedoms[limit.free] = type(old_freedom)(**{**vars(old_freedom), name: moved})
    return problem._replace(freedoms=freedoms)


def _advice(relaxations: list[Relaxation], tolerance: float) -> str:
    if not relaxations:
        return (
            "No single limit holds this note: its dimensions also serve other notes. Free more "
            "dimensions (bore, barrel, chimneys), or lower the weight of notes that pull "
            "against it."
        )
    best = relaxations[0]
    reached = "brings it within tolerance" if abs(best.cents_after) <= tolerance else "helps"
    return (
        f"Relaxing '{best.limit}' by {_RELAX_MM:g} mm {reached}: "
        f"{best.cents_after:+.1f} cents after a new fit."
    )
