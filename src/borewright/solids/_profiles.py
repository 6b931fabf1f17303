"""Outlines of a part's body and bore as (radius, station) points, tenons and sockets included.

Pure arithmetic on the model; the kernel turns the outlines into solids of revolution.
"""

from __future__ import annotations

import itertools
import math

from borewright.errors import SolidsError
from borewright.model import BodyFeatures, Part, Tenon
from borewright.words import say

Points = list[tuple[float, float]]

#: Points closer than this (mm) are one point: far above the kernel's 1e-7, far below a cut.
_SAME_MM = 1e-5
#: Straight pieces to a quarter round: of a 0.5 mm fillet none is 0.003 mm off the circle.
_FILLET_PIECES = 4
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
            say("the two sockets meet: nothing of the bore is left between them"),
            place=say("part '{part}'", part=part.name),
            remedy=say(
                "Make the sockets shallower than the part's {length_mm:g} mm together.",
                length_mm=part.length_mm,
            ),
        )
    return top, bottom


def outside_outline(part: Part, features: BodyFeatures | None = None) -> Points:
    """The body with its tenons, from the top end to the bottom end, as (radius, station).

    Seats of socket rings always show; fillets and broken edges only with ``features``.
    """
    edges = features or BodyFeatures.plain()
    points: Points = []
    if part.tenon_top:
        room = part.outside_diameter_at(0.0) / 2
        points += [(r, -s) for r, s in reversed(_tenon(part.tenon_top, edges, room))]
    points += _body(part)
    if part.tenon_bottom:
        room = part.outside_diameter_at(part.length_mm, -1) / 2
        points += [(r, part.length_mm + s) for r, s in _tenon(part.tenon_bottom, edges, room)]
    return _tidy(points)


def inside_outline(part: Part, features: BodyFeatures | None = None) -> Points:
    """The bore with its sockets, from the top end to the bottom end, as (radius, station).

    Where the bore's list ends before a tenon does, its last diameter goes on. The sockets'
    mouths are opened only with ``features``.
    """
    top, bottom = bore_limits_mm(part)
    open_by = features.socket_chamfer_mm if features else 0.0
    points: Points = []
    if part.socket_top:
        radius = part.socket_top.diameter_mm / 2
        wall = _body_radius(part, 0.0) - radius
        chamfer = min(open_by, wall / 3, top / 3)
        points += [(radius + chamfer, 0.0), (radius, chamfer), (radius, top)]
    points += _between(part, top, bottom, bore=True)
    if part.socket_bottom:
        radius = part.socket_bottom.diameter_mm / 2
        wall = _body_radius(part, part.length_mm) - radius
        chamfer = min(open_by, wall / 3, (part.length_mm - bottom) / 3)
        points += [
            (radius, bottom),
            (radius, part.length_mm - chamfer),
            (radius + chamfer, part.length_mm),
        ]
    return _tidy(points)


def _body(part: Part) -> Points:
    """The outside between the shoulders, turned down where socket rings sit."""
    low, high = 0.0, part.length_mm
    head: Points = []
    tail: Points = []
    if part.socket_top and part.socket_top.ring_length_mm:
        radius, low = part.socket_top.ring_inside_mm / 2, part.socket_top.ring_length_mm
        head = [(radius, 0.0), (radius, low)]
    if part.socket_bottom and part.socket_bottom.ring_length_mm:
        radius = part.socket_bottom.ring_inside_mm / 2
        high = part.length_mm - part.socket_bottom.ring_length_mm
        tail = [(radius, high), (radius, part.length_mm)]
    return [*head, *_between(part, low, high, bore=False), *tail]


def _body_radius(part: Part, station: float) -> float:
    """Radius (mm) at a shoulder, on a ring's seat where there is one."""
    socket = part.socket_top if station == 0.0 else part.socket_bottom
    if socket and socket.ring_inside_mm:
        return socket.ring_inside_mm / 2
    return part.outside_diameter_at(station, 1 if station == 0.0 else -1) / 2


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


def _tenon(tenon: Tenon, edges: BodyFeatures, body_radius: float) -> Points:
    """A tenon from its shoulder (station 0) outwards; the cork groove sits in the middle."""
    radius, length = tenon.diameter_mm / 2, tenon.length_mm
    grooved = bool(tenon.cork_length_mm and tenon.cork_depth_mm)
    margin = (length - tenon.cork_length_mm) / 2 if grooved else length / 2
    root = min(edges.tenon_fillet_mm, (body_radius - radius) / 2, margin / 2)
    end = min(edges.edge_mm, margin / 2)
    points = _hollow((radius, 0.0), (1, 1), root)
    if grooved:
        floor = radius - tenon.cork_depth_mm
        corner = min(edges.groove_fillet_mm, tenon.cork_depth_mm / 2)
        points += [(radius, margin)]
        points += reversed(_hollow((floor, margin), (1, 1), corner, first_along=True))
        points += _hollow((floor, length - margin), (1, -1), corner, first_along=True)
        points += [(radius, length - margin)]
    return [*points, (radius, length - end), (radius - end, length)]


def _hollow(
    corner: tuple[float, float], ways: tuple[int, int], radius: float, *, first_along: bool = False
) -> Points:
    """A hollow corner rounded off, from its radial side to its axial one (or the reverse).

    ``ways`` say in which directions of (radius, station) the two sides leave the corner.
    """
    r, s = corner
    if radius <= _SAME_MM:
        return [corner]
    out, along = ways
    centre = (r + out * radius, s + along * radius)
    angles = [math.pi / 2 * i / _FILLET_PIECES for i in range(_FILLET_PIECES + 1)]
    points = [
        (centre[0] - out * radius * math.sin(a), centre[1] - along * radius * math.cos(a))
        for a in angles
    ]
    return points[::-1] if first_along else points


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
