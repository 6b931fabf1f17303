"""A profile between two profiles, stretch by stretch."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from borewright.model.profile import diameter_at

Point = tuple[float, float]
#: Two stations this close (mm) are one; a point this close (mm) to a line lies on it.
_SAME = 1e-7
_DIGITS = 4


class Stretch(NamedTuple):
    """A stretch of both parents between two landmarks (mm).

    ``fraction`` is the second parent's share of the diameters; with ``anchored`` "top" or
    "bottom" that of their growth from that end, where the neighbour's diameter is kept.
    """

    first: tuple[float, float]
    second: tuple[float, float]
    to: tuple[float, float]
    fraction: float
    anchored: str = ""


class _Made(NamedTuple):
    station: float
    diameter: float
    needless: bool  # comes only from a parent without a share here


def mix(first: float, second: float, fraction: float) -> float:
    """Between two numbers; exactly one of them at 0 and at 1."""
    if fraction in (0.0, 1.0):
        return second if fraction else first
    return first + fraction * (second - first)


def morph(first: list[Point], second: list[Point], stretches: Sequence[Stretch]) -> list[Point]:
    """Profile made of stretches, the steps and points of both parents kept.

    Points that only a parent without a share brings in are left out again where they lie on a
    straight line: at fractions 0 and 1 the parents come back as they are.
    """
    made: list[list[_Made]] = [_stretch(first, second, each) for each in stretches]
    for number, each in enumerate(stretches):
        if each.anchored == "bottom":
            made[number] = _shifted(made[number], made[number + 1][0].diameter)
        elif each.anchored == "top":
            made[number] = _shifted(made[number], made[number - 1][-1].diameter)
    points = [point for part in made for point in part]
    kept: list[_Made] = []
    for point in points:
        if kept and abs(point.station - kept[-1].station) < _SAME:
            if abs(point.diameter - kept[-1].diameter) < _SAME:
                # One point of two: needed if either is.
                kept[-1] = point._replace(needless=point.needless and kept[-1].needless)
                continue
            if len(kept) > 1 and abs(kept[-2].station - point.station) < _SAME:
                kept[-1] = point  # a step has two points
                continue
        kept.append(point)
    return [(round(s, _DIGITS), round(d, _DIGITS)) for s, d, _ in _pruned(kept)]


def _stretch(first: list[Point], second: list[Point], part: Stretch) -> list[_Made]:
    ours, theirs = _shares(first, part.first), _shares(second, part.second)
    anchor = None
    if part.anchored:
        end = 1.0 if part.anchored == "bottom" else 0.0
        side = -1 if part.anchored == "bottom" else 1
        anchor = [
            _at(profile, span, end, side)
            for profile, span in ((first, part.first), (second, part.second))
        ]
    made = []
    for share in sorted({*ours, *theirs}):
        own = share in (ours if part.fraction == 0.0 else theirs)
        needless = part.fraction in (0.0, 1.0) and not own
        sides = (1,) if share == 0.0 else (-1,) if share == 1.0 else (-1, 1)
        for side in sides:
            pair = [
                _at(first, part.first, share, side),
                _at(second, part.second, share, side),
            ]
            if anchor is not None:
                pair = [value - base for value, base in zip(pair, anchor, strict=True)]
            made.append(
                _Made(_place(part.to, share), mix(pair[0], pair[1], part.fraction), needless)
            )
    return made


def _shares(profile: list[Point], span: tuple[float, float]) -> set[float]:
    """Places of a profile's points between two landmarks, as shares of the way, ends too."""
    low, high = span
    if high - low < _SAME:
        return {0.0, 1.0}
    inner = {
        (station - low) / (high - low)
        for station, _ in profile
        if low + _SAME < station < high - _SAME
    }
    return {0.0, 1.0} | inner


def _place(span: tuple[float, float], share: float) -> float:
    return mix(span[0], span[1], share)


def _at(profile: list[Point], span: tuple[float, float], share: float, side: int) -> float:
    station = _place(span, share)
    # A point's own station may be missed by a rounding error, and a step with it.
    near = [s for s, _ in profile if abs(s - station) < _SAME]
    return diameter_at(profile, near[0] if near else station, side)


def _shifted(points: list[_Made], by: float) -> list[_Made]:
    return [point._replace(diameter=point.diameter + by) for point in points]


def _pruned(points: list[_Made]) -> list[_Made]:
    kept = list(points)
    number = 1
    while number < len(kept) - 1:
        before, here, after = kept[number - 1 : number + 2]
        if here.needless and after.station - before.station > _SAME:
            share = (here.station - before.station) / (after.station - before.station)
            line = before.diameter + share * (after.diameter - before.diameter)
            if abs(here.diameter - line) < _SAME:
                del kept[number]
                number = max(number - 1, 1)
                continue
        number += 1
    return kept
