"""Least distances between holes, pads and posts, found in space by search, not by formula.

Every feature is a surface laid out by two numbers from 0 to 1. Two surfaces are sampled, and
around the closest pair the search narrows until it stands still. It knows nothing of the
closed forms by which a fit keeps its limits, so it can check them.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from borewright.model import Part, SurveyRow, ToneHole

#: Points (n, 3) in mm of a surface, for two arrays (n,) of numbers from 0 to 1.
Surface = Callable[[np.ndarray, np.ndarray], np.ndarray]

#: The search is exact to about this much (mm): see the tests against closed forms.
EXACT_MM = 1e-3

_COARSE = (7, 48)
_FINE = 5
_ROUNDS = 26
_SHRINK = 0.62
#: No point of a surface is further than this (mm) from a coarse sample, for holes up to 20 mm.
_COARSE_MM = 1.5


def distance_mm(first: Surface, second: Surface, *, enough_mm: float = math.inf) -> float:
    """Least distance (mm) between two surfaces; 0 where they cross.

    Where they are surely further apart than ``enough_mm``, the search stops early and the
    value is only about right.
    """
    grid = [np.linspace(0, 1, count) for count in _COARSE]
    u, v = (axis.ravel() for axis in np.meshgrid(*grid, indexing="ij"))
    points, others = first(u, v), second(u, v)
    # |p - q|² = p² + q² - 2 p·q: one matrix product, near enough for a first look.
    squares = np.sum(points**2, axis=1)[:, None] + np.sum(others**2, axis=1)[None, :]
    apart = np.sqrt(np.maximum(squares - 2 * points @ others.T, 0.0))
    best = float(np.min(apart))
    if best > enough_mm + 2 * _COARSE_MM:
        return best
    # A second start, on the other flank, in case two curved surfaces come close twice.
    one, other = np.unravel_index(int(np.argmin(apart)), apart.shape)
    best = _narrowed(first, second, (u[one], v[one], u[other], v[other]))
    flank = np.cos(2 * math.pi * (v - v[one])) < 0.5
    if flank.any():
        masked = np.where(flank[:, None], apart, math.inf)
        one, other = np.unravel_index(int(np.argmin(masked)), apart.shape)
        best = min(best, _narrowed(first, second, (u[one], v[one], u[other], v[other])))
    return best


def _narrowed(first: Surface, second: Surface, start: tuple[float, ...]) -> float:
    centre = np.array(start, dtype=float)
    reach = np.array([1 / (_COARSE[0] - 1), 1 / (_COARSE[1] - 1)] * 2)
    steps = np.linspace(-1, 1, _FINE)
    best = math.inf
    for _ in range(_ROUNDS):
        # The first number ends at 0 and 1; the second runs round and has no end.
        axes = [centre[i] + reach[i] * steps for i in range(4)]
        u1, u2 = np.clip(axes[0], 0, 1).repeat(_FINE), np.clip(axes[2], 0, 1).repeat(_FINE)
        v1, v2 = np.tile(axes[1], _FINE), np.tile(axes[3], _FINE)
        apart = _all_distances(first(u1, v1), second(u2, v2))
        one, other = np.unravel_index(int(np.argmin(apart)), apart.shape)
        best = min(best, float(apart[one, other]))
        centre = np.array([u1[one], v1[one], u2[other], v2[other]])
        reach *= _SHRINK
    return best


def _all_distances(points: np.ndarray, others: np.ndarray) -> np.ndarray:
    return np.asarray(np.linalg.norm(points[:, None, :] - others[None, :, :], axis=2))


def hole_surface(part: Part, hole: ToneHole) -> Surface:
    """Wall of a hole between the bore's surface and its rim, undercut included."""
    bore = part.bore_diameter_at(hole.station_mm) / 2
    rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
    mouth, radius = hole.mouth_diameter_mm / 2, hole.diameter_mm / 2
    cone_end = bore + (hole.undercut.depth_mm if hole.undercut else 0.0)

    def points(u: np.ndarray, v: np.ndarray) -> np.ndarray:
        angle = 2 * math.pi * v
        aside, along = mouth * np.sin(angle), mouth * np.cos(angle)
        inside = bore_radius_mm(part, hole.station_mm + along)
        edge = np.sqrt(np.maximum(inside**2 - aside**2, 0.0))
        height = edge + u * (rim - edge)
        if hole.undercut:
            width = np.interp(height, [bore, cone_end], [mouth, radius])
            aside, along = width * np.sin(angle), width * np.cos(angle)
        return _placed(hole.bearing_deg, hole.station_mm, height, aside, along)

    return points


def pad_surface(part: Part, hole: ToneHole) -> Surface:
    """The space a pad needs: its disc on the seat, swept outwards by its lift."""
    if hole.pad is None:
        raise ValueError("a hole without a pad", hole.name)
    seat = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
    return _can(
        hole.bearing_deg,
        hole.station_mm,
        hole.pad.diameter_mm / 2,
        seat,
        seat + hole.pad.lift_mm,
    )


def post_surface(part: Part, post: SurveyRow, radius: float, depth_mm: float) -> Surface:
    """The hole a post needs (radius and depth in mm), from the body's outside."""
    outside = part.outside_diameter_at(post.station_mm) / 2
    return _can(post.bearing_deg, post.station_mm, radius, outside - depth_mm, outside)


def inside_surface(part: Part, post: SurveyRow) -> Surface:
    """The bore or socket near a post, as the sound or the tenon meets it."""
    reach = (part.outside_diameter_at(post.station_mm)) / 2

    def points(u: np.ndarray, v: np.ndarray) -> np.ndarray:
        along = (2 * u - 1) * reach
        station = np.clip(post.station_mm + along, 0.0, part.length_mm)
        radius = inside_radius_mm(part, station)
        turn = math.pi * (v - 0.5)
        aside, height = radius * np.sin(turn), radius * np.cos(turn)
        return _placed(post.bearing_deg, post.station_mm, height, aside, station - post.station_mm)

    return points


def bore_radius_mm(part: Part, station: np.ndarray) -> np.ndarray:
    """Radius (mm) of the bore at stations (mm); the end values go on beyond its ends."""
    stations, diameters = zip(*part.bore, strict=True)
    return np.asarray(np.interp(station, stations, diameters)) / 2


def inside_radius_mm(part: Part, station: np.ndarray) -> np.ndarray:
    """Radius (mm) of the bore, and of the sockets where they are."""
    radius = bore_radius_mm(part, station)
    if part.socket_top:
        radius = np.where(
            station <= part.socket_top.depth_mm, part.socket_top.diameter_mm / 2, radius
        )
    if part.socket_bottom:
        floor = part.length_mm - part.socket_bottom.depth_mm
        radius = np.where(station >= floor, part.socket_bottom.diameter_mm / 2, radius)
    return radius


def _can(
    bearing_deg: float, station_mm: float, radius: float, bottom: float, top: float
) -> Surface:
    """A closed radial cylinder: first third the floor, second the wall, last the lid."""

    def points(u: np.ndarray, v: np.ndarray) -> np.ndarray:
        height = np.interp(u, [0, 1 / 3, 2 / 3, 1], [bottom, bottom, top, top])
        width = np.interp(u, [0, 1 / 3, 2 / 3, 1], [0.0, radius, radius, 0.0])
        angle = 2 * math.pi * v
        return _placed(
            bearing_deg, station_mm, height, width * np.sin(angle), width * np.cos(angle)
        )

    return points


def _placed(
    bearing_deg: float, station_mm: float, height: np.ndarray, aside: np.ndarray, along: np.ndarray
) -> np.ndarray:
    turn = math.radians(bearing_deg)
    return np.stack(
        [
            height * math.cos(turn) - aside * math.sin(turn),
            height * math.sin(turn) + aside * math.cos(turn),
            station_mm + along,
        ],
        axis=-1,
    )
