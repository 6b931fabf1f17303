"""Outlines of a part's body and bore as (radius, station) points, tenons and sockets included.

Pure arithmetic on the model; the kernel turns the outlines into solids of revolution.
"""

from __future__ import annotations

import itertools

from borewright.errors import SolidsError
from borewright.model import Part, Tenon

Points = list[tuple[float, float]]

#: Points closer than this (mm) are one point: far above the kernel's 1e-7, far below a cut.
_SAME_MM = 1e-5
#: How far (mm) the bore's tool reaches beyond the part, so that no faces coincide.
_BEYOND_MM = 1.0


def ends_mm(part: Part) -> tuple[float, float]:
    """Stations (mm) of the part's two ends, tenons included."""
    top = -part.tenon_top.length_mm if part.tenon_top else 0.0
    bottom = part.tenon_bottom.length_mm if part.tenon_bottom else 0.0
    return top, part.length_mm + bottom


def bore_limits_mm(part: Part) -> tuple[float, float]:
    """Stations (mm) between which the bore is real: socket floors, or the part's ends."""
    top, bottom = ends_mm(part)
    if part.socket_top:
        top = part.socket_top.depth_mm
    if part.socket_bottom:
        bottom = part.length_mm - part.socket_bottom.depth_mm
    if top >= bottom:
        raise SolidsError(
            "the two sockets meet: nothing of the bore is left between them",
            place=f"part '{part.name}'",
            remedy=f"Make the sockets shallower than the part's {part.length_mm:g} mm together.",
        )
    return top, bottom


def outside_outline(part: Part) -> Points:
    """The body with its tenons, from the top end to the bottom end, as (radius, station)."""
    points: Points = []
    if part.tenon_top:
        points += [(r, -s) for r, s in reversed(_tenon(part.tenon_top))]
    points += _between(part, 0.0, part.length_mm, bore=False)
    if part.tenon_bottom:
        points += [(r, part.length_mm + s) for r, s in _tenon(part.tenon_bottom)]
    return _tidy(points)


def inside_outline(part: Part) -> Points:
    """The bore with its sockets, from the top end to the bottom end, as (radius, station).

    Where the bore's list ends before a tenon does, its last diameter goes on.
    """
    top, bottom = bore_limits_mm(part)
    points: Points = []
    if part.socket_top:
        radius = part.socket_top.diameter_mm / 2
        points += [(radius, 0.0), (radius, top)]
    points += _between(part, top, bottom, bore=True)
    if part.socket_bottom:
        radius = part.socket_bottom.diameter_mm / 2
        points += [(radius, bottom), (radius, part.length_mm)]
    return _tidy(points)


def lengthened(points: Points) -> Points:
    """The same outline, its first and last slopes carried on a little beyond the part."""
    return [
        _carried_on(points[1], points[0]),
        *points,
        _carried_on(points[-2], points[-1]),
    ]


def radius_range(points: Points, low_mm: float, high_mm: float) -> tuple[float, float]:
    """Least and greatest radius (mm) of an outline between two stations (ends go on)."""
    low_mm, high_mm = max(low_mm, points[0][1]), min(high_mm, points[-1][1])
    found = [radius for radius, station in points if low_mm <= station <= high_mm]
    for (r0, s0), (r1, s1) in itertools.pairwise(points):
        for station in (low_mm, high_mm):
            if s0 < station < s1:
                found.append(r0 + (r1 - r0) * (station - s0) / (s1 - s0))
    return min(found), max(found)


def _tenon(tenon: Tenon) -> Points:
    """A tenon from its shoulder (station 0) outwards; the cork groove sits in the middle."""
    radius, length = tenon.diameter_mm / 2, tenon.length_mm
    if not (tenon.cork_length_mm and tenon.cork_depth_mm):
        return [(radius, 0.0), (radius, length)]
    margin = (length - tenon.cork_length_mm) / 2
    floor = radius - tenon.cork_depth_mm
    return [
        (radius, 0.0),
        (radius, margin),
        (floor, margin),
        (floor, length - margin),
        (radius, length - margin),
        (radius, length),
    ]


def _between(part: Part, top: float, bottom: float, *, bore: bool) -> Points:
    at = part.bore_diameter_at if bore else part.outside_diameter_at
    profile = part.bore if bore else part.outside
    inner = [(diameter / 2, station) for station, diameter in profile if top < station < bottom]
    return [(at(top, 1) / 2, top), *inner, (at(bottom, -1) / 2, bottom)]


def _tidy(points: Points) -> Points:
    kept = points[:1]
    for radius, station in points[1:]:
        if abs(radius - kept[-1][0]) > _SAME_MM or abs(station - kept[-1][1]) > _SAME_MM:
            kept.append((radius, station))
    return kept


def _carried_on(inner: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    run = end[1] - inner[1]
    slope = (end[0] - inner[0]) / abs(run) if abs(run) > _SAME_MM else 0.0
    radius = max(end[0] + slope * _BEYOND_MM, end[0] / 2)
    return radius, end[1] + (_BEYOND_MM if run >= 0 else -_BEYOND_MM)
