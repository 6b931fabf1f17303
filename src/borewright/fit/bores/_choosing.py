"""Which shape the readings call for: shapes grow break by break, a criterion chooses.

The criterion is misfit + ln n (curves + 2 breaks), in the manner of the modified Bayesian
information criterion, in which a break costs 3 ln n in all (Zhang and Siegmund, Biometrics 63
(2007) 22; from memory): the plain criterion finds breaks in pure scatter too often.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from borewright.fit.bores._shapes import (
    CONE,
    CYLINDER,
    FLARE,
    Readings,
    Shape,
    possible,
    settle,
    solve,
)

MOST_BREAKS = 5
MOST_ORDER = 6
#: Shapes that are carried on to the next number of breaks.
_KEPT = 3
#: Places in a length where a new break is tried.
_PLACES = 13
#: Of those, so many best ones are settled.
_STARTS = 4
#: Of all places for one break more, so many kinds of place are followed up.
_FOLLOWED = 3


@dataclass(frozen=True)
class Candidate:
    """A shape with its best breaks."""

    shape: Shape
    breaks: tuple[float, ...]
    misfit: float

    @property
    def parameters(self) -> int:
        """Numbers that were fitted: curves and breaks."""
        return self.shape.curves + len(self.breaks)


class Chooser:
    """Tries shapes on readings, and remembers all of them.

    Attributes
    ----------
    inflation
        Variance of the readings over that of their gauge, at least 1; where the gauge's is
        unknown, weights are relative and this is not used.
    """

    def __init__(self, readings: Readings, *, known: bool, taken: int | None = None) -> None:
        self.readings = readings
        self.known = known
        self.count = len(readings.stations)
        self.taken = taken or self.count  # readings before slips were left out
        self.inflation = 1.0
        self.tried: dict[Shape, Candidate] = {}

    def criterion(self, candidate: Candidate, inflation: float | None = None) -> float:
        """Lower is better; ``inflation`` goes before the chooser's own."""
        shape = candidate.shape
        # A step has its place and its height to find: it costs as much as two bends' curves.
        numbers = shape.curves + 2 * len(candidate.breaks) + sum(shape.steps)
        cost = np.log(self.taken) * numbers
        if self.known:
            return float(candidate.misfit / (inflation or self.inflation) + cost)
        spread = max(candidate.misfit / self.taken, 1e-12)
        return float(self.taken * np.log(spread) + cost)

    def best(self) -> Candidate:
        """The shape that is taken."""
        return min(self.tried.values(), key=self.criterion)

    def run(self) -> Candidate:
        """Grow shapes until two more breaks bring nothing."""
        for kind in (CYLINDER, CONE, FLARE):
            self._try(Shape((kind,)), np.zeros((1, 0)))
        self._orders(0)
        best, idle = self.best(), 0
        for breaks in range(1, MOST_BREAKS + 1):
            self._grow(breaks - 1)
            self._orders(breaks)
            self._simplify(breaks)
            self._set_inflation()
            new = self.best()
            idle = 0 if new.shape != best.shape else idle + 1
            best = new
            if idle == 2:
                break
        return best

    def _set_inflation(self) -> None:
        ratios = [
            each.misfit / (self.count - each.parameters)
            for each in self.tried.values()
            if self.count - each.parameters >= 4
        ]
        self.inflation = max(1.0, min(ratios)) if self.known and ratios else 1.0

    def _try(self, shape: Shape, starts: np.ndarray) -> Candidate | None:
        """Settle a shape from several starts [G, K] and keep the best of them."""
        if not shape.is_sound:
            return None
        starts = starts[possible(shape, starts, self.readings)] if shape.steps else starts
        if not len(starts):
            return None
        if len(starts) > _STARTS:
            first = solve(shape, starts, self.readings).misfit
            starts = starts[np.argsort(first)[:_STARTS]]
        breaks, solution = settle(shape, starts, self.readings)
        breaks, found = self._settle_steps(shape, breaks, solution.misfit)
        number = int(np.argmin(found))
        if not np.isfinite(found[number]):
            return None
        candidate = Candidate(shape, tuple(breaks[number].tolist()), float(found[number]))
        old = self.tried.get(shape)
        if old is None or candidate.misfit < old.misfit:
            self.tried[shape] = candidate
        return self.tried[shape]

    def _settle_steps(
        self, shape: Shape, breaks: np.ndarray, misfit: np.ndarray
    ) -> tuple[np.ndarray, np.ndarray]:
        """Put each step of the best set into the gap where it fits best, then settle again."""
        if not any(shape.steps):
            return breaks, misfit
        best = breaks[[int(np.argmin(misfit))]]
        for number, step in enumerate(shape.steps):
            if step:
                trial = np.repeat(best, self.count - 1, axis=0)
                trial[:, number] = gaps(self.readings)
                found = solve(shape, trial, self.readings).misfit
                best = trial[[int(np.argmin(found))]]
        best, solution = settle(shape, best, self.readings)
        return best, solution.misfit

    def _grow(self, breaks: int) -> None:
        """One break more, in every length of the best shapes that have so many breaks."""
        rows = [each for each in self.tried.values() if len(each.breaks) == breaks]
        trials: list[tuple[float, Shape, np.ndarray]] = []
        for row in sorted(rows, key=self.criterion)[:_KEPT]:
            ends = [self.readings.low, *row.breaks, self.readings.high]
            for number, kind in enumerate(row.shape.kinds):
                places = np.linspace(ends[number], ends[number + 1], _PLACES + 2)[1:-1]
                starts = np.array([sorted([*row.breaks, place]) for place in places])
                halves = (CONE, FLARE) if kind is FLARE else (CONE, CONE)
                kinds = (*row.shape.kinds[:number], *halves, *row.shape.kinds[number + 1 :])
                loose = tuple(FLARE if each is FLARE else CONE for each in kinds)
                for step in (False, True):
                    steps = (*row.shape.steps[:number], step, *row.shape.steps[number:])
                    # A flare that is cut begins anew as a parabola; ``_orders`` frees it.
                    order = 0 if kind is FLARE else row.shape.order
                    shape = Shape(loose, steps, order)
                    if shape.is_sound:
                        misfit = solve(shape, starts, self.readings).misfit
                        cost = np.log(self.count) * (shape.curves + sum(shape.steps))
                        trials.append((float(np.min(misfit)) + cost, shape, starts))
        for _, shape, starts in sorted(trials, key=lambda trial: trial[0])[:_FOLLOWED]:
            self._try(shape, starts)

    def _orders(self, breaks: int) -> None:
        """A flare in place of the last cone, and flares with more and fewer knots."""
        for row in [each for each in self.tried.values() if len(each.breaks) == breaks]:
            start = np.array([row.breaks])
            if row.shape.kinds[-1] is CONE:
                kinds = (*row.shape.kinds[:-1], FLARE)
                self._try(replace(row.shape, kinds=kinds), start)
        for row in [each for each in self.tried.values() if len(each.breaks) == breaks]:
            if not row.shape.has_flare or row.shape.order:
                continue
            previous, starts = self.criterion(row), self._flare_starts(row)
            for order in range(1, MOST_ORDER + 1):
                made = self._try(replace(row.shape, order=order), starts)
                if made is None or (order > 1 and self.criterion(made) > previous):
                    break
                previous = self.criterion(made)
                starts = np.concatenate([starts, np.array([made.breaks])])

    def _flare_starts(self, row: Candidate) -> np.ndarray:
        """A flare may start anywhere after the break before it: one too stiff starts late."""
        start = np.array([row.breaks])
        if not row.breaks:
            return start
        low = row.breaks[-2] if len(row.breaks) > 1 else self.readings.low
        places = np.linspace(low, self.readings.high, _PLACES + 2)[1:-1]
        others = np.repeat(start, len(places), axis=0)
        others[:, -1] = places
        return np.concatenate([start, others])

    def _simplify(self, breaks: int) -> None:
        """Flares that may as well be cones, cones that may as well be cylinders, one by one."""
        rows = [each for each in self.tried.values() if len(each.breaks) == breaks]
        for row in sorted(rows, key=self.criterion)[: 2 * _KEPT]:
            current = row
            while True:
                simpler = [
                    self._try(shape, np.array([current.breaks]))
                    for shape in _simpler(current.shape)
                ]
                better = [each for each in simpler if each is not None]
                if not better:
                    break
                following = min(better, key=self.criterion)
                if self.criterion(following) >= self.criterion(current):
                    break
                current = following


def _simpler(shape: Shape) -> list[Shape]:
    kinds = shape.kinds
    found = [
        replace(shape, kinds=(*kinds[:number], CYLINDER, *kinds[number + 1 :]))
        for number, kind in enumerate(kinds)
        if kind is CONE
    ]
    return [*found, Shape((*kinds[:-1], CONE), shape.steps)] if shape.has_flare else found


def gaps(readings: Readings) -> np.ndarray:
    """Middles of the gaps between neighbouring readings, [n - 1]."""
    middles: np.ndarray = (readings.stations[1:] + readings.stations[:-1]) / 2
    return middles
