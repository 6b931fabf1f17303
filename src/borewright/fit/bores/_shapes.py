"""Shapes of a bore that are linear in everything but the places of their breaks.

A shape is a row of lengths: cylinders, cones, and last perhaps a flare. For given breaks the
diameter is a sum of fixed curves, so weighted least squares gives the rest at once, here for
many sets of breaks together.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from borewright.model.bores import SegmentKind

CYLINDER, CONE, FLARE = SegmentKind.CYLINDER, SegmentKind.CONE, SegmentKind.FLARE


@dataclass(frozen=True)
class Shape:
    """Kinds of the lengths from the top down; ``steps[i]`` says whether break i is a step.

    ``order`` says how free the flare is: 0 a parabola, 1 a cubic, from 2 on a cubic spline with
    one inner knot less than the order.
    """

    kinds: tuple[SegmentKind, ...]
    steps: tuple[bool, ...] = ()
    order: int = 0

    @property
    def has_flare(self) -> bool:
        """Whether the last length is a flare."""
        return self.kinds[-1] is FLARE

    @property
    def curves(self) -> int:
        """How many curves are added up."""
        cones = sum(kind is CONE for kind in self.kinds)
        return 1 + cones + sum(self.steps) + (2 + self.order if self.has_flare else 0)

    @property
    def is_sound(self) -> bool:
        """Two cylinders meet at a step, a flare comes last and without one."""
        pairs = zip(self.kinds, self.kinds[1:], self.steps, strict=False)
        meet = all(
            other is not FLARE if step else (one, other) != (CYLINDER, CYLINDER)
            for one, other, step in pairs
        )
        return meet and FLARE not in self.kinds[:-1]

    @property
    def words(self) -> str:
        """As ``cylinder, flare of 2``; a step is a stroke."""
        said = [
            f"flare of {self.order}" if kind is FLARE else str(kind.value) for kind in self.kinds
        ]
        text = said[0]
        for step, each in zip(self.steps, said[1:], strict=True):
            text += (" | " if step else ", ") + each
        return text


class Readings(NamedTuple):
    """Stations, diameters and weights (1 / standard deviation) of n readings."""

    stations: np.ndarray
    diameters: np.ndarray
    weights: np.ndarray

    @property
    def low(self) -> float:
        """First station."""
        return float(self.stations[0])

    @property
    def high(self) -> float:
        """Last station."""
        return float(self.stations[-1])


def curves(
    shape: Shape, breaks: np.ndarray, stations: np.ndarray, low: float, high: float
) -> np.ndarray:
    """The curves that make a bore, [G, n, p], for breaks [G, K] (mm)."""
    count = len(breaks)
    ends = np.concatenate([np.full((count, 1), low), breaks, np.full((count, 1), high)], axis=1)
    s = stations[None, :]
    span = high - low
    columns = [np.ones((count, len(stations)))]
    for number, kind in enumerate(shape.kinds):
        top, bottom = ends[:, number, None], ends[:, number + 1, None]
        # The outermost lengths go straight on beyond the readings.
        floor = s if number == 0 else np.maximum(s, top)
        if kind is CONE:
            reach = floor if number == len(shape.kinds) - 1 else np.minimum(floor, bottom)
            columns.append((reach - top) / span)
        elif kind is FLARE:
            u = (np.maximum(s, top) - top) / np.maximum(bottom - top, 1e-9)
            columns += [u, u**2]
            if shape.order:
                columns.append(u**3)
            for knot in range(1, shape.order):
                columns.append(np.maximum(u - knot / shape.order, 0.0) ** 3)
    for number, step in enumerate(shape.steps):
        if step:
            columns.append((s >= ends[:, number + 1, None]).astype(float))
    return np.stack(columns, axis=2)


def possible(shape: Shape, breaks: np.ndarray, readings: Readings) -> np.ndarray:
    """Which sets of breaks [G, K] are in order and leave readings enough in every length."""
    count = len(breaks)
    ends = np.concatenate(
        [np.full((count, 1), -np.inf), breaks, np.full((count, 1), np.inf)], axis=1
    )
    places = np.searchsorted(readings.stations, ends, side="left")
    needed = np.array(
        [{CYLINDER: 2, CONE: 3, FLARE: 4 + shape.order}[kind] for kind in shape.kinds]
    )
    enough = np.all(np.diff(places, axis=1) >= needed, axis=1)
    inside = np.all((breaks > readings.low) & (breaks < readings.high), axis=1)
    good: np.ndarray = enough & inside & np.all(np.diff(ends, axis=1) > 0, axis=1)
    return good


class Solution(NamedTuple):
    """Weighted least squares for G sets of breaks."""

    misfit: np.ndarray  # [G] sum of squared weighted deviations
    factors: np.ndarray  # [G, p] of the curves


def solve(shape: Shape, breaks: np.ndarray, readings: Readings) -> Solution:
    """The best sum of curves for every set of breaks; the misfit of impossible ones is inf."""
    made = curves(shape, breaks, readings.stations, readings.low, readings.high)
    weighted = made * readings.weights[None, :, None]
    wanted = readings.diameters * readings.weights
    normal = np.einsum("gnp,gnq->gpq", weighted, weighted)
    right = np.einsum("gnp,n->gp", weighted, wanted)
    factors = np.linalg.solve(_kept_regular(normal), right[:, :, None])[:, :, 0]
    left = wanted[None, :] - np.einsum("gnp,gp->gn", weighted, factors)
    misfit = np.einsum("gn,gn->g", left, left)
    good = possible(shape, breaks, readings)
    if shape.has_flare:
        good &= _flares(shape, factors)
    return Solution(np.where(good, misfit, np.inf), factors)


#: How far (share of its widest taper) a flare's taper may fall short of growing downwards.
_UNEVEN = 0.15


def _flares(shape: Shape, factors: np.ndarray) -> np.ndarray:
    """Whether the last length widens, and ever more so: what makers call a flare."""
    first = 1 + sum(kind is CONE for kind in shape.kinds)
    places = np.linspace(0.0, 1.0, 2 * max(shape.order, 1) + 1)
    tapers = factors[:, first, None] + 2 * factors[:, first + 1, None] * places
    for number in range(shape.order):
        bend = factors[:, first + 2 + number, None]
        tapers = tapers + 3 * bend * np.maximum(places - number / shape.order, 0.0) ** 2
    short = _UNEVEN * np.max(tapers, axis=1)
    grows = np.all(np.diff(tapers, axis=1) >= -short[:, None], axis=1)
    good: np.ndarray = grows & (short > 0) & (np.min(tapers, axis=1) >= -short)
    return good


def _kept_regular(normal: np.ndarray) -> np.ndarray:
    """Normal matrices with a trifle added, so that a curve without readings does no harm."""
    size = normal.shape[-1]
    trifle = 1e-12 * np.einsum("gii->g", normal)[:, None, None]
    regular: np.ndarray = normal + trifle * np.eye(size)
    return regular


_NUDGE_MM = 0.01


def break_curves(
    shape: Shape,
    breaks: np.ndarray,
    factors: np.ndarray,
    free: np.ndarray,
    stations: np.ndarray,
    low: float,
    high: float,
) -> np.ndarray:
    """How the bore changes with each free break, [G, n, F] mm per mm (steps: zero)."""
    made = []
    for number in free:
        if shape.steps[number]:
            made.append(np.zeros((len(breaks), len(stations))))
            continue
        nudge = np.zeros(breaks.shape[1])
        nudge[number] = _NUDGE_MM
        both = [
            np.einsum("gnp,gp->gn", curves(shape, breaks + way, stations, low, high), factors)
            for way in (nudge, -nudge)
        ]
        made.append((both[0] - both[1]) / (2 * _NUDGE_MM))
    if not made:
        return np.zeros((len(breaks), len(stations), 0))
    return np.stack(made, axis=2)


def settle(
    shape: Shape,
    breaks: np.ndarray,
    readings: Readings,
    free: np.ndarray | None = None,
    rounds: int = 8,
) -> tuple[np.ndarray, Solution]:
    """Move the free breaks of every set [G, K] to where the misfit is least (Gauss-Newton).

    A step lies in the gap between two readings and is not moved here.
    """
    breaks = breaks.copy()
    found = solve(shape, breaks, readings)
    free = np.arange(breaks.shape[1]) if free is None else free
    free = np.array([n for n in free if not shape.steps[n]], dtype=int)
    if not len(free):
        return breaks, found
    for _ in range(rounds):
        move = _gauss_newton(shape, breaks, found, free, readings)
        best_breaks, best = breaks, found
        for share in (1.0, 0.4, 0.1):
            trial = breaks.copy()
            trial[:, free] += share * move
            tried = solve(shape, trial, readings)
            better = tried.misfit < best.misfit
            best_breaks = np.where(better[:, None], trial, best_breaks)
            best = Solution(
                np.where(better, tried.misfit, best.misfit),
                np.where(better[:, None], tried.factors, best.factors),
            )
        known = np.isfinite(found.misfit)
        gained = found.misfit[known] - best.misfit[known]
        breaks, found = best_breaks, best
        if np.all(gained < 1e-3):
            break
    return breaks, found


def _gauss_newton(
    shape: Shape, breaks: np.ndarray, found: Solution, free: np.ndarray, readings: Readings
) -> np.ndarray:
    made = curves(shape, breaks, readings.stations, readings.low, readings.high)
    moved = break_curves(
        shape, breaks, found.factors, free, readings.stations, readings.low, readings.high
    )
    both = np.concatenate([made, moved], axis=2) * readings.weights[None, :, None]
    left = (readings.diameters - np.einsum("gnp,gp->gn", made, found.factors)) * readings.weights
    normal = _kept_regular(np.einsum("gnp,gnq->gpq", both, both))
    right = np.einsum("gnp,gn->gp", both, left)
    step: np.ndarray = np.linalg.solve(normal, right[:, :, None])[:, made.shape[2] :, 0]
    most = (readings.high - readings.low) / 6
    clipped: np.ndarray = np.clip(step, -most, most)
    return clipped
