"""Slices of a body to try keys on: a thin shell with its seats, and ribs where posts stand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from borewright.errors import SolidsError
from borewright.model import Instrument, Part
from borewright.solids.axes import bearing_direction
from borewright.solids.body import part_body
from borewright.solids.posts import PostPlan
from borewright.words import say

if TYPE_CHECKING:
    from build123d import Solid

#: Wall beside a post's hole (mm).
_BESIDE_HOLE_MM = 1.6
#: A bonded joint's wall goes on so far beyond its socket's floor (mm).
_BELOW_SOCKET_MM = 2.0


def thin_slice(
    instrument: Instrument,
    name: str,
    posts: Sequence[PostPlan],
    shell_mm: float,
    middle_deg: float = 0.0,
    arc_deg: float = 360.0,
) -> Solid:
    """A part's outside, ``shell_mm`` thick, over an arc, as thick as it is below every post.

    Ribs below posts rise from the shell at 45 degrees, so that a printer needs no supports
    whichever end stands on the bed. Raises SolidsError where the kernel fails.
    """
    from build123d import Axis, Face, SkipClean, Solid, Wire

    part = instrument.part(name)
    thick = part_body(instrument, name, posts)
    inner = [s for s, _ in part.outside if 0.0 < s < part.length_mm]
    stations = [0.0, *sorted(set(inner)), part.length_mm]
    radii = [part.outside_diameter_at(s, -1 if s == stations[-1] else 1) / 2 for s in stations]
    axis = Axis((0, 0, 0), (0, 0, 1))

    def revolved(outline: list[tuple[float, float]], start_deg: float, by_deg: float) -> Solid:
        x, y = bearing_direction(start_deg)
        wire = Wire.make_polygon([(r * x, r * y, s) for r, s in outline], close=True)
        return Solid.revolve(Face(wire), by_deg, axis)

    low, high = -1.0, part.length_mm + 1.0
    hollow = _hollow(part, list(zip(radii, stations, strict=True)), shell_mm)
    try:
        with SkipClean():
            inside = revolved(hollow, middle_deg, 360.0)
            ribs = [
                _rib(post, part.bore[0][1] / 2, max(radii)) for post in posts if post.part == name
            ]
            if ribs:
                inside = inside.cut(*ribs)
            cuts = [inside]
            if arc_deg < 360.0:
                far = max(radii) + 20.0
                rest = [(0.0, low), (far, low), (far, high), (0.0, high)]
                # Bearings run against the right hand about z.
                cuts.append(revolved(rest, middle_deg - arc_deg / 2, 360.0 - arc_deg))
            made = thick.cut(*cuts)
    except Exception as error:  # the kernel's failures share no base class
        raise SolidsError(
            say("the kernel could not thin the slice ({why})", why=str(error)),
            place=name,
            remedy=say("Try other keys together, or one at a time."),
        ) from error
    solids = made.solids() if made is not None else []
    if len(solids) != 1 or not solids[0].is_valid:
        raise SolidsError(
            say("the result is not a valid solid"),
            place=name,
            remedy=say("Try other keys together, or one at a time."),
        )
    solid = solids[0]
    solid.label = name
    return solid


def _hollow(
    part: Part, outside: list[tuple[float, float]], shell_mm: float
) -> list[tuple[float, float]]:
    """What is taken out (radius, station): all within the shell, but for bonded joints' walls.

    There the slice is as thick as it is drawn, and widens by 45 degrees.
    """
    bore = part.bore[0][1] / 2
    inner = [(radius - shell_mm, station) for radius, station in outside]
    radii = [radius for radius, _ in inner]
    start, end = -1.0, part.length_mm + 1.0
    if part.socket_top:
        start = part.socket_top.depth_mm + _BELOW_SOCKET_MM
    if part.tenon_bottom:
        end = part.length_mm - _BELOW_SOCKET_MM
    slope = (max(radii) - bore if part.socket_top else 0.0, max(radii) - bore)
    first = start + slope[0]
    last = end - (slope[1] if part.tenon_bottom else 0.0)
    at = [station for _, station in inner]
    middle = [(r, s) for r, s in inner if first < s < last]
    near, far = (float(np.interp(station, at, radii)) for station in (first, last))
    made = [(0.0, start), (bore if part.socket_top else near, start), (near, first)]
    made += [*middle, (far, last), (bore if part.tenon_bottom else far, end), (0.0, end)]
    return list(dict.fromkeys(made))


def _rib(post: PostPlan, bore_mm: float, outside_mm: float) -> Solid:
    """A block below a post, square to its bearing, its ends sloping by 45 degrees."""
    from build123d import Face, Solid, Wire

    half = max(post.base_across_mm / 2, post.hole_mm / 2 + _BESIDE_HOLE_MM)
    x, y = bearing_direction(post.bearing_deg)
    deep = bore_mm - 1.0
    skirt = half + outside_mm - bore_mm
    outline = [
        (deep, post.station_mm - half),
        (deep, post.station_mm + half),
        (bore_mm, post.station_mm + half),
        (outside_mm, post.station_mm + skirt),
        (outside_mm, post.station_mm - skirt),
        (bore_mm, post.station_mm - half),
    ]
    wire = Wire.make_polygon(
        [(r * x - half * -y, r * y - half * x, s) for r, s in outline], close=True
    )
    return Solid.extrude(Face(wire), (2 * half * -y, 2 * half * x, 0.0))
