"""The search: Gauss-Newton steps under all limits, with exact derivatives.

Each round linearises the cents of all fingerings and the spacings, and solves a quadratic
programme inside a trust region. Notes beyond their tolerance gain weight from round to round
(iteratively reweighted least squares), which trims the worst notes without giving up the
smooth sum of squares.
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
from borewright.fit.programme import Step, best_step
from borewright.fit.spacing import Spacing

_TRUST_START_MM = 1.5
_TRUST_LEAST_MM = 1e-3
#: The fit is done when a round gains less than this share, with no note newly in tolerance.
_GAIN = 1e-4

Progress = Callable[[int, float, float], None]


class Point(NamedTuple):
    """A state of the search."""

    values: np.ndarray  # [D] mm
    cents: np.ndarray  # [F]; NaN where no resonance was found
    slopes: np.ndarray  # [F, n] cents per mm of the free dimensions


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
    spacings: list[Spacing]
    start: np.ndarray  # [D]
    keep_close: float

    @property
    def columns(self) -> np.ndarray:
        """Columns of the free dimensions."""
        return np.array([freedom.column for freedom in self.freedoms])

    @property
    def low(self) -> np.ndarray:
        """Lower limits (mm)."""
        return np.array([freedom.low.value for freedom in self.freedoms])

    @property
    def high(self) -> np.ndarray:
        """Upper limits (mm)."""
        return np.array([freedom.high.value for freedom in self.freedoms])


def measure(problem: Problem, values: np.ndarray, with_slopes: bool = True) -> Point:
    """Cents of all fingerings, and their derivatives in the free dimensions."""
    request = problem.request._replace(numbers=problem.request.numbers._replace(values=values))
    solved = kernels.resonances(*request)
    usable = np.asarray(solved.found) & (np.abs(np.asarray(solved.residual)) < 1e-6)
    ratio = np.asarray(solved.frequency) / problem.aims.target_hz
    cents = np.where(usable, CENTS_PER_LOG * np.log(ratio), np.nan)
    slopes = np.zeros((0, 0))
    if with_slopes:
        jacobian = np.asarray(kernels.jacobian(*request[:5], solved))[:, problem.columns]
        slopes = np.where(usable[:, None], CENTS_PER_LOG * jacobian, 0.0)
    return Point(values, cents, slopes)


def residuals(problem: Problem, point: Point, boost: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Weighted residuals and their derivatives: notes, then evenness."""
    weight = problem.aims.weight * boost * np.isfinite(point.cents)
    cents = np.nan_to_num(point.cents)
    first, second = problem.aims.neighbours[:, 0], problem.aims.neighbours[:, 1]
    even = problem.aims.evenness * np.minimum(weight[first], weight[second])
    rows = np.concatenate([weight * cents, even * (cents[second] - cents[first])])
    slopes = np.concatenate(
        [
            weight[:, None] * point.slopes,
            even[:, None] * (point.slopes[second] - point.slopes[first]),
        ]
    )
    return rows, slopes


def cost(problem: Problem, point: Point, boost: np.ndarray) -> float:
    """What the search lowers: squares of all residuals, and a small pull to the start."""
    weight = problem.aims.weight * boost
    # A note that was lost counts as a semitone off, so that no step can gain by losing one.
    cents = np.where(np.isfinite(point.cents), point.cents, 100.0)
    first, second = problem.aims.neighbours[:, 0], problem.aims.neighbours[:, 1]
    even = problem.aims.evenness * np.minimum(weight[first], weight[second])
    away = _away(problem, point.values)
    broken = sum(min(s.evaluate(point.values)[0], 0.0) for s in problem.spacings)
    return float(
        np.sum((weight * cents) ** 2)
        + np.sum((even * (cents[second] - cents[first])) ** 2)
        + problem.keep_close**2 * np.sum(away**2)
        + 1e4 * broken**2
    )


def _away(problem: Problem, values: np.ndarray) -> np.ndarray:
    scale = np.array([freedom.scale for freedom in problem.freedoms])
    moved: np.ndarray = (values - problem.start)[problem.columns] / scale
    return moved


def programme(
    problem: Problem, point: Point, boost: np.ndarray, low: np.ndarray, high: np.ndarray
) -> Step:
    """The best step from a point, inside [low, high] (mm, of the free dimensions)."""
    rows, slopes = residuals(problem, point, boost)
    scale = np.array([freedom.scale for freedom in problem.freedoms])
    pull = problem.keep_close**2 / scale**2
    hessian = slopes.T @ slopes + np.diag(pull + 1e-9)
    gradient = slopes.T @ rows + pull * scale * _away(problem, point.values)
    here = point.values[problem.columns]
    evaluated = [spacing.evaluate(point.values) for spacing in problem.spacings]
    gaps = np.array([gap for gap, _ in evaluated])
    rates = np.array([gradient[problem.columns] for _, gradient in evaluated])
    return best_step(hessian, gradient, low - here, high - here, gaps, rates.reshape(len(gaps), -1))


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
    """
    begin = np.array(problem.start if values is None else values, dtype=float)
    begin[problem.columns] = np.clip(begin[problem.columns], problem.low, problem.high)
    point = measure(problem, begin)
    boost = np.ones_like(point.cents)
    trust, step, quiet, rounds = _TRUST_START_MM, None, 0, 0
    try:
        while rounds < most_rounds and quiet < 3 and trust > _TRUST_LEAST_MM:
            rounds += 1
            _report(problem, point, rounds, progress)
            here = point.values[problem.columns]
            before = cost(problem, point, boost)
            step = programme(
                problem,
                point,
                boost,
                np.maximum(problem.low, here - trust),
                np.minimum(problem.high, here + trust),
            )
            trial_values = point.values.copy()
            trial_values[problem.columns] = np.clip(here + step.move, problem.low, problem.high)
            trial = measure(problem, trial_values)
            after = cost(problem, trial, boost)
            if after < before:
                gained = (before - after) / max(before, 1e-12)
                point, trust = trial, min(trust * 2, 4.0)
                quiet = quiet + 1 if gained < _GAIN else 0
                boost = _boost(problem.aims, point.cents)
            else:
                trust /= 4
    except (KeyboardInterrupt, Stopped):
        return Outcome(point, step, False, rounds)
    return Outcome(point, step, True, rounds)


def _boost(aims: Aims, cents: np.ndarray) -> np.ndarray:
    """More weight for notes near or beyond their tolerance (a norm above two, by reweighting)."""
    share = np.nan_to_num(np.abs(cents)) / aims.tolerance
    boosted: np.ndarray = np.sqrt(1.0 + share**2)
    return boosted


def _report(problem: Problem, point: Point, rounds: int, progress: Progress | None) -> None:
    if progress is None:
        return
    counted: Sequence[float] = point.cents[(problem.aims.weight > 0) & np.isfinite(point.cents)]
    if len(counted):
        progress(
            rounds,
            float(np.sqrt(np.mean(np.square(counted)))),
            float(np.max(np.abs(counted))),
        )
