"""95 % intervals: of breaks by likelihood profiles, of diameters and tapers by covariance.

A break's interval holds every place at which the misfit, all else fitted anew, is no larger
than chance allows (likelihood ratio; for known uncertainties the chi-square rule, otherwise
its F form; Seber and Wild, Nonlinear Regression, 1989, chapter 5; from memory).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.fit.bores._choosing import Candidate, Chooser, gaps
from borewright.fit.bores._shapes import (
    CONE,
    FLARE,
    Readings,
    Shape,
    break_curves,
    curves,
    possible,
    settle,
    solve,
)
from borewright.model.bores.features import WIDENS
from borewright.model.results.campaign import Interval

LEVEL = 0.95
_POINTS = 61
#: Shapes whose criterion is within this of the best are not told apart by the readings: only
#: beyond it is the evidence strong (Kass and Raftery, J. Am. Stat. Assoc. 90 (1995) 773; from
#: memory).
_AS_GOOD = 6.0


class Spread(NamedTuple):
    """What turns misfit and covariance into intervals."""

    allowed: float  # rise of the misfit
    variance: float  # factor on the covariance
    quantile: float  # standard deviations of a 95 % interval


def spread_of(chooser: Chooser, candidate: Candidate) -> Spread:
    """Quantiles for a candidate, its gauge's uncertainty known or estimated."""
    from scipy import stats

    left = max(chooser.count - candidate.parameters, 1)
    ratio = candidate.misfit / left
    if chooser.known:
        variance = max(1.0, ratio)
        return Spread(
            float(stats.chi2.ppf(LEVEL, 1)) * variance,
            variance,
            float(stats.norm.ppf(0.5 + LEVEL / 2)),
        )
    return Spread(
        float(stats.f.ppf(LEVEL, 1, left)) * ratio,
        ratio,
        float(stats.t.ppf(0.5 + LEVEL / 2, left)),
    )


class Linear:
    """The candidate and its covariance, for any station."""

    def __init__(self, candidate: Candidate, readings: Readings, spread: Spread) -> None:
        self.shape = candidate.shape
        self.breaks = np.array([candidate.breaks])
        self.readings = readings
        self.spread = spread
        self.factors = solve(self.shape, self.breaks, readings).factors
        rows = self.rows(readings.stations) * readings.weights[:, None]
        self.covariance = np.linalg.pinv(rows.T @ rows, hermitian=True) * spread.variance

    def rows(self, stations: np.ndarray) -> np.ndarray:
        """Derivatives of the diameters in all that was fitted, [n, p + K]."""
        low, high = self.readings.low, self.readings.high
        made = curves(self.shape, self.breaks, stations, low, high)
        free = np.arange(self.breaks.shape[1])
        moved = break_curves(self.shape, self.breaks, self.factors, free, stations, low, high)
        both: np.ndarray = np.concatenate([made, moved], axis=2)[0]
        return both

    def diameters(self, stations: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Diameters and half widths of their 95 % intervals."""
        rows = self.rows(stations)
        made = rows[:, : self.factors.shape[1]] @ self.factors[0]
        return made, self._half(rows)

    def interval(self, row: np.ndarray, value: float) -> Interval:
        """Interval of a value whose derivatives are ``row``."""
        half = float(self._half(row[None, :])[0])
        return Interval(value=value, low=value - half, high=value + half)

    def _half(self, rows: np.ndarray) -> np.ndarray:
        variance = np.einsum("np,pq,nq->n", rows, self.covariance, rows)
        half: np.ndarray = self.spread.quantile * np.sqrt(np.maximum(variance, 0.0))
        return half

    def break_deviation(self, number: int) -> float:
        """Standard deviation (mm) of a break by covariance; a start for its profile."""
        place = self.factors.shape[1] + number
        return float(np.sqrt(max(self.covariance[place, place], 0.0)))


def flare_break(linear: Linear) -> int | None:
    """Number of the break where the bore begins to widen down to its end; None without one.

    A flare may begin with a cone: what counts is the first length of the widening run, if
    the one above it does not widen; otherwise the flare of free form itself.
    """
    kinds = linear.shape.kinds
    cones = [number for number, kind in enumerate(kinds) if kind is CONE]
    span = linear.readings.high - linear.readings.low
    tapers = {n: float(linear.factors[0, 1 + i]) / span for i, n in enumerate(cones)}
    first = len(kinds)
    while first > 0 and (kinds[first - 1] is FLARE or tapers.get(first - 1, 0.0) >= WIDENS):
        first -= 1
        if first and linear.shape.steps[first - 1]:
            break
    if 0 < first < len(kinds):
        return first - 1
    return len(kinds) - 2 if linear.shape.has_flare and len(kinds) > 1 else None


def break_interval(chooser: Chooser, candidate: Candidate, number: int) -> Interval:
    """95 % interval (mm) of a break, over all shapes with as many breaks that will do as well.

    Whether a length is a cylinder or a slight cone, and how free the flare is, is a choice:
    an interval that took it for certain would be too narrow.
    """
    value = candidate.breaks[number]
    low, high = _profile(chooser, candidate, number)
    limit = chooser.criterion(candidate) + _AS_GOOD
    for each in list(chooser.tried.values()):
        alike = (each.shape.steps, each.shape.has_flare) == (
            candidate.shape.steps,
            candidate.shape.has_flare,
        )
        if alike and each.shape != candidate.shape and chooser.criterion(each) <= limit:
            other = _profile(chooser, each, number)
            low, high = min(low, other[0]), max(high, other[1])
    return Interval(value=value, low=min(low, value), high=max(high, value))


def _profile(chooser: Chooser, candidate: Candidate, number: int) -> tuple[float, float]:
    readings, shape = chooser.readings, candidate.shape
    spread = spread_of(chooser, candidate)
    if shape.steps[number]:
        return _step_range(readings, shape, candidate, number, spread)
    deviation = Linear(candidate, readings, spread).break_deviation(number)
    span = readings.high - readings.low
    half = min(max(5 * deviation, 0.02 * span / 10), span)
    ends = [readings.low, *candidate.breaks, readings.high]
    below, above = ends[number], ends[number + 2]
    value = candidate.breaks[number]
    for _ in range(3):
        places = np.linspace(max(value - half, below), min(value + half, above), _POINTS)
        inside = np.append(places, value)
        rise = _rises(readings, shape, candidate, number, np.sort(inside))
        places = np.sort(inside)
        allowed = rise <= spread.allowed
        at_edge = (allowed[0] and places[0] > below) or (allowed[-1] and places[-1] < above)
        if not at_edge or half >= span:
            break
        half = min(half * 3, span)
    where = np.flatnonzero(allowed)
    if not len(where):
        return value, value
    return (
        _crossing(places, rise, spread.allowed, int(where[0]), -1),
        _crossing(places, rise, spread.allowed, int(where[-1]), 1),
    )


def _rises(
    readings: Readings, shape: Shape, candidate: Candidate, number: int, places: np.ndarray
) -> np.ndarray:
    """Rise of the misfit with one break held at each place, the others settled again."""
    breaks = np.repeat(np.array([candidate.breaks]), len(places), axis=0)
    breaks[:, number] = places
    others = np.array([n for n in range(len(candidate.breaks)) if n != number], dtype=int)
    # A neighbour in the way is moved along, so that it has room to settle.
    good = possible(shape, breaks, readings)
    found = np.full(len(places), np.inf)
    if np.any(good):
        _, solution = settle(shape, breaks[good], readings, others, rounds=6)
        found[good] = solution.misfit
    rise: np.ndarray = found - candidate.misfit
    return rise


def _crossing(places: np.ndarray, rise: np.ndarray, allowed: float, inner: int, way: int) -> float:
    """Where the rise passes what is allowed, between an allowed place and the next one."""
    outer = inner + way
    if not 0 <= outer < len(places):
        return float(places[inner])
    if not np.isfinite(rise[outer]):
        return float(places[outer])
    share = (allowed - rise[inner]) / max(rise[outer] - rise[inner], 1e-12)
    return float(places[inner] + min(max(share, 0.0), 1.0) * (places[outer] - places[inner]))


def _step_range(
    readings: Readings, shape: Shape, candidate: Candidate, number: int, spread: Spread
) -> tuple[float, float]:
    """From the reading above the first gap that a step may lie in to that below the last."""
    middles = gaps(readings)
    rise = _rises(readings, shape, candidate, number, middles)
    allowed = np.flatnonzero(rise <= spread.allowed)
    if not len(allowed):
        allowed = np.array([int(np.argmin(np.abs(middles - candidate.breaks[number])))])
    return float(readings.stations[allowed[0]]), float(readings.stations[allowed[-1] + 1])
