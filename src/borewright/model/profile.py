"""Profiles: lists of (station, diameter) in mm, joined by straight lines."""

from __future__ import annotations

import bisect
from typing import Annotated

from pydantic import Field

from borewright.model.base import Finite, Positive

#: A profile that a file may hold; a bore measured every tenth of a millimetre fits in.
Profile = Annotated[list[tuple[Finite, Positive]], Field(min_length=2, max_length=10_000)]


def _station(point: tuple[float, float]) -> float:
    return point[0]


def diameter_at(profile: list[tuple[float, float]], station_mm: float, side: int = 1) -> float:
    """Diameter on a (station, diameter) polyline; the end values go on beyond its ends.

    At a repeated station ``side`` -1 gives the value above the step, 1 the value below.
    """
    find = bisect.bisect_left if side < 0 else bisect.bisect_right
    index = find(profile, station_mm, key=_station)
    if index == 0:
        return profile[0][1]
    if index == len(profile):
        return profile[-1][1]
    (s0, d0), (s1, d1) = profile[index - 1], profile[index]
    return d0 + (d1 - d0) * (station_mm - s0) / (s1 - s0)
