"""The search: Gauss-Newton steps under all limits, with exact derivatives.

What is lowered is one fixed cost, in cents²: for each fingering c² + c⁴ / (2 t²), with c its
weighted cents and t its tolerance, so that notes near or beyond their tolerance count more;
squares of the intervals' errors and of what further aims are off by; and for each feature a
price per mm away from the drawing. The price is on the distance itself, not on its square: a
feature whose move would not win its price stays exactly where it is drawn. Each round
linearises the cents and the spacings, and solves a quadratic programme inside a trust region.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.request import Request
from borewright.errors import Stopped
from borewright.fit.aims import Aims
from borewright.fit.freedom import Freedom
from borewright.fit.further import FurtherAim, Seen
from borewright.fit.programme import Step, best_step, broken_cost
from borewright.fit.shelf import StraightTaper
from borewright.fit.spacing_class import Spacings
from borewright.model.reamers import TaperReamer
from borewright.words import Said

_TRUST_START, _TRUST_MOST, _TRUST_LEAST = 1.5, 4.0, 1e-3
#: The search is done where a round gains less than this (cents²), a thousandth of a cent of rms …
_LEAST_GAIN = 0.1
#: … and nothing is moved at all for less than this in all: rounding to 0.01 mm costs one or two,
#: and more where notes stay far out, so that each hundredth weighs more: then this share of all.
_WORTH_CENTS2, _WORTH_SHARE = 3.0, 0.005
#: A note that was lost counts as so many cents off, so that no step can gain by losing one.
_LOST_CENTS = 100.0
#: The price of a mm grows by this share with every moderate step, which settles ties.
_GROWS = 0.05
_BROKEN = 1e4
#: Rounding to hundredths may break a limit by so much (mm); walls keep twice that in hand.
_ROUNDED_MM = 0.01

Progress = Callable[[int, float, float], None]


class Point(NamedTuple):
    """A state of the search."""

    values: np.ndarray  # [D] mm
    cents: np.ndarray  # [F]; NaN where no resonance was found
    slopes: np.ndarray  # [F, n] cents per mm of the free features
    jacobian: np.ndarray  # [F, D] cents per mm of all dimensions
    more: np.ndarray  # [M] what further aims are off by; their squares are cents²
    more_jacobian: np.ndarray  # [M, D] per mm of all dimensions


class Outcome(NamedTuple):
    """Where a search ended."""

    point: Point
    step: Step | None  # the last programme, whose prices tell what binds
    finished: bool
    rounds: int


class Problem(NamedTuple):
    """All that a search needs."""

    request: Request
    aims: Aims
    freedoms: list[Freedom]
    spacings: Spacings
    start: np.ndarray  # [D]
    further: tuple[FurtherAim, ...] = ()
    reamers: tuple[float, ...] = ()  # mm; a free cylinder ends at one of them
    taper_reamers: tuple[TaperReamer, ...] = ()
    tapers: tuple[tuple[StraightTaper, TaperReamer | None], ...] = ()  # and what each is held to

    @property
    def moves(self) -> np.ndarray:
        """[D, n] mm of every dimension per mm of a feature."""
        found = np.zeros((len(self.start), len(self.freedoms)))
        for number, freedom in enumerate(self.freedoms):
            for column, factor in freedom.moves:
                found[column, number] = factor
        return found

    def features(self, values: np.ndarray) -> np.ndarray:
        """[n] values (mm) of the features."""
        return np.array([sum(f * values[c] for c, f in freedom.reads) for freedom in self.freedoms])

    @property
    def low(self) -> np.ndarray:
        """Lower limits (mm)."""
        return np.array([freedom.low.value for freedom in self.freedoms])

    @property
    def high(self) -> np.ndarray:
        """Upper limits (mm)."""
        return np.array([freedom.high.value for freedom in self.freedoms])

    @property
    def drawn(self) -> np.ndarray:
        """Drawn values (mm)."""
        return np.array([freedom.drawn for freedom in self.freedoms])

    @property
    def scale(self) -> np.ndarray:
        """Moderate steps (mm)."""
        return np.array([freedom.scale for freedom in self.freedoms])


def held_at(problem: Problem, at: dict[int, tuple[float, Said]]) -> Problem:
    """The problem with some features held at a value (mm), and why."""
    freedoms = list(problem.freedoms)
    for number, (value, words) in at.items():
        freedom = freedoms[number]
        side = type(freedom.low)(value, words)
        freedoms[number] = type(freedom)(**{**vars(freedom), "low": side, "high": side})
    return problem._replace(freedoms=freedoms)


def measure(problem: Problem, values: np.ndarray, with_slopes: bool = True) -> Point:
    """Cents of all fingerings, and their derivatives in the free features."""
    request = problem.request._replace(numbers=problem.request.numbers._replace(values=values))
    solved = kernels.resonances(*request)
    usable = np.asarray(solved.found) & (np.abs(np.asarray(solved.residual)) < 1e-6)
    ratio = np.asarray(solved.frequency) / problem.aims.target_hz
    cents = np.where(usable, CENTS_PER_LOG * np.log(ratio), np.nan)
    nothing = np.zeros((0, len(values)))
    if not with_slopes:
        return Point(values, cents, np.zeros((0, 0)), nothing, np.zeros(0), nothing)
    slopes = np.asarray(kernels.jacobian(*request[:5], solved))
    jacobian = np.where(usable[:, None], CENTS_PER_LOG * slopes, 0.0)
    more = [aim.off(Seen(request, solved, slopes, cents, jacobian)) for aim in problem.further]
    return Point(
        values,
        cents,
        jacobian @ problem.moves,
        jacobian,
        np.concatenate([np.zeros(0), *(each.by for each in more)]),
        np.concatenate([nothing, *(each.slopes for each in more)]),
    )


def tuning_cost(problem: Problem, cents: np.ndarray) -> float:
    """What out-of-tune notes and intervals cost, in cents²."""
    aims = problem.aims
    known = np.where(np.isfinite(cents), aims.off(cents), _LOST_CENTS)
    weighted = aims.weight * known
    share = known / aims.tolerance
    first, second = aims.intervals[:, 0], aims.intervals[:, 1]
    uneven = aims.interval_weight * (known[second] - known[first] - aims.wanted)
    return float(np.sum(weighted**2 * (1 + share**2 / 2)) + np.sum(uneven**2))


def move_cost(problem: Problem, values: np.ndarray) -> float:
    """What the distance from the drawing costs, in cents²."""
    steps = np.abs(problem.features(values) - problem.drawn) / problem.scale
    return float(problem.aims.price * np.sum(steps + _GROWS / 2 * steps**2))


def cost(problem: Problem, point: Point, slack_mm: float = 0.0) -> float:
    """What the search lowers, in cents²; limits broken by less than the slack count as kept."""
    gaps, _ = problem.spacings.evaluate(point.values)
    broken = float(np.sum(np.minimum(gaps + slack_mm, 0.0)))
    return (
        tuning_cost(problem, point.cents)
        + float(point.more @ point.more)
        + move_cost(problem, point.values)
        + _BROKEN * abs(broken)
    )


class Nearby(NamedTuple):
    """What the cost and the limits are near a point, to second order, by the free features."""

    here: np.ndarray  # [n] mm
    hessian: np.ndarray  # [n, n]
    gradient: np.ndarray  # [n]
    gaps: np.ndarray  # [m] mm
    rates: np.ndarray  # [m, n]
    price: np.ndarray  # [n] cents² per mm from home
    home: np.ndarray  # [n] from here, mm

    def step(self, low: np.ndarray, high: np.ndarray) -> Step:
        """The best step inside [low, high] (mm)."""
        return best_step(
            self.hessian,
            self.gradient,
            low - self.here,
            high - self.here,
            self.gaps,
            self.rates,
            self.price,
            self.home,
        )

    def gain(self, step: Step) -> float:
        """What a step is foretold to win (cents²)."""
        return float(self.price @ np.abs(self.home)) + broken_cost(self.gaps) - step.cost


def programme(problem: Problem, point: Point, low: np.ndarray, high: np.ndarray) -> Step:
    """The best step from a point, inside [low, high] (mm, of the free features)."""
    return nearby(problem, point).step(low, high)


def nearby(problem: Problem, point: Point) -> Nearby:
    """Cost and limits near a point, to second order."""
    aims = problem.aims
    known = np.isfinite(point.cents)
    cents = np.where(known, aims.off(point.cents), 0.0)
    square = (aims.weight * known) ** 2
    share = (cents / aims.tolerance) ** 2
    pull = square * (1 + share) * cents
    bend = square * (1 + 3 * share)
    first, second = aims.intervals[:, 0], aims.intervals[:, 1]
    strength = (aims.interval_weight * (known[first] & known[second]))[:, None]
    uneven = strength * (point.slopes[second] - point.slopes[first])
    error = strength[:, 0] * (cents[second] - cents[first] - aims.wanted)
    here = problem.features(point.values)
    away = here - problem.drawn
    price = aims.price / problem.scale
    growth = price * _GROWS / problem.scale
    # Half of the cost's Hessian and gradient: the programme takes the other half itself.
    moves = problem.moves
    more = point.more_jacobian @ moves
    hessian = 2 * (point.slopes.T @ (bend[:, None] * point.slopes) + uneven.T @ uneven)
    hessian += 2 * more.T @ more + np.diag(growth + 1e-6)
    gradient = 2 * (point.slopes.T @ pull + uneven.T @ error + more.T @ point.more) + growth * away
    gaps, rates = problem.spacings.evaluate(point.values)
    return Nearby(here, hessian, gradient, gaps, rates @ moves, price, -away)


def search(
    problem: Problem,
    progress: Progress | None = None,
    most_rounds: int = 60,
    values: np.ndarray | None = None,
) -> Outcome:
    """Lower the cost until nothing more is gained.

    Parameters
    ----------
    problem
        What may move, what is aimed at.
    progress
        Called with round, root mean square and worst cents of the weighted fingerings.
    most_rounds
        A ceiling; ordinary fits take 10 to 30.
    values
        Where to begin (mm, all dimensions), the start by default.

    Returns
    -------
    Outcome
        The start itself, untouched, where it keeps all limits and all moves together would
        win less than they are worth.
    """
    given = np.array(problem.start if values is None else values, dtype=float)
    here = problem.features(given)
    begin = given + problem.moves @ (np.clip(here, problem.low, problem.high) - here)
    point = began = measure(problem, begin)
    now, first = cost(problem, point), cost(problem, point, _ROUNDED_MM)
    trust, step, quiet, rounds = _TRUST_START, None, 0, 0
    try:
        while rounds < most_rounds and quiet < 2 and trust > _TRUST_LEAST:
            rounds += 1
            _report(problem, point, rounds, progress)
            here = problem.features(point.values)
            room = trust * problem.scale
            near = nearby(problem, point)
            step = near.step(
                np.maximum(problem.low, here - room), np.minimum(problem.high, here + room)
            )
            if near.gain(step) < _LEAST_GAIN:
                break  # not worth hearing
            trial = measure(problem, point.values + problem.moves @ step.move)
            after = cost(problem, trial)
            if after < now:
                quiet = quiet + 1 if now - after < _LEAST_GAIN else 0
                point, now, trust = trial, after, min(trust * 2, _TRUST_MOST)
            else:
                trust /= 4
    except (KeyboardInterrupt, Stopped):
        return Outcome(point, step, False, rounds)
    if values is None and _same(begin, given) and not is_worth(first, now):
        point = began if np.array_equal(begin, given) else measure(problem, given)
    return Outcome(point, step, True, rounds)


def is_worth(before: float, after: float) -> bool:
    """Whether it pays to move from a body of one cost to one of another (cents²)."""
    return before - after >= max(_WORTH_CENTS2, _WORTH_SHARE * after)


def _same(begin: np.ndarray, given: np.ndarray) -> bool:
    """Whether the start keeps its own ranges, hundredths of rounding apart."""
    return bool(np.max(np.abs(begin - given), initial=0.0) < 1.01 * _ROUNDED_MM)


def _report(problem: Problem, point: Point, rounds: int, progress: Progress | None) -> None:
    if progress is None:
        return
    off = problem.aims.off(point.cents)
    counted: Sequence[float] = off[(problem.aims.weight > 0) & np.isfinite(off)]
    if len(counted):
        progress(
            rounds,
            float(np.sqrt(np.mean(np.square(counted)))),
            float(np.max(np.abs(counted))),
        )
