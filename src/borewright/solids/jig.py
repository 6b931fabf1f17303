"""Drilling jigs: saddles that seat on a joint and lead the drill into every post's hole.

A saddle covers less than half the round, so that it lifts off. It is located by a pin through a
tone hole, which fixes station and bearing, and by its own length, which fixes the angle. Bushes
of steel are pressed into its bosses; two posts whose bushes would meet go into two jigs. A flat
spring that is screwed to the body has its screw guided as a post is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from borewright.errors import SolidsError
from borewright.keywork import Body, Mechanism, PostPlace, post_places, screw_places
from borewright.keywork.body import Rim
from borewright.model import Instrument
from borewright.solids.axes import bearing_direction
from borewright.solids.keys import in_solids_frame
from borewright.words import say

if TYPE_CHECKING:
    from build123d import Solid

#: Widest arc (degrees) of a saddle, and what it reaches beyond its outermost guide (mm).
_WIDEST_DEG, _BESIDE_MM = 165.0, 7.0
#: Air to the body, and round chimneys and posts that are there already (mm).
_AIR_MM, _ROUND_MM = 0.1, 0.8
#: A pin's boss: its wall, and how far it stands over the saddle (mm).
_PIN_WALL_MM, _PIN_OVER_MM = 2.0, 4.0
#: Longest saddle (mm): it must stay stiff, and fit a printer lying.
_LONGEST_MM = 120.0


@dataclass(frozen=True)
class Bush:
    """A pressed-in steel bush (mm); as common ones are (from memory)."""

    inside_mm: float = 2.6
    outside_mm: float = 5.0
    length_mm: float = 8.0
    wall_mm: float = 1.6
    saddle_mm: float = 3.5

    @property
    def boss_mm(self) -> float:
        """Radius of the boss that holds it."""
        return self.outside_mm / 2 + self.wall_mm


@dataclass(frozen=True)
class Jig:
    """One saddle: which posts it guides, where it lies (mm, degrees), and its locating hole."""

    name: str
    part: str
    posts: tuple[PostPlace, ...]
    start_mm: float
    end_mm: float
    middle_deg: float
    arc_deg: float
    pin_hole: str
    pin_mm: float


def plan_jigs(
    mechanism: Mechanism, body: Body, wanted: Sequence[str] = (), bush: Bush | None = None
) -> list[Jig]:
    """Which posts and springs' screws are drilled through which saddle; all of the keys wanted.

    Raises SolidsError where a joint has no tone hole within reach of a saddle.
    """
    bush = bush or Bush()
    hinges = {mechanism.keys.hinge(key).hinge for key in wanted or mechanism.keys.keys}
    every = [*post_places(mechanism, body), *screw_places(mechanism, body)]
    places = [place for place in every if place.hinge in hinges]
    groups: list[list[PostPlace]] = []
    for place in sorted(places, key=lambda one: (one.part, one.station_mm)):
        for group in groups:
            if _goes_with(place, group, mechanism, body, bush):
                group.append(place)
                break
        else:
            groups.append([place])
    return [_jig(body, f"jig {n}", group) for n, group in enumerate(groups, start=1)]


def _goes_with(
    place: PostPlace, group: list[PostPlace], mechanism: Mechanism, body: Body, bush: Bush
) -> bool:
    if place.part != group[0].part:
        return False
    both = [*group, place]
    low, high = _stations(both, 0.0)
    if high - low > _LONGEST_MM - 2 * _BESIDE_MM:
        return False
    # As wide as the arc gets with the pin's hole, which is looked for only afterwards.
    if _arc(both)[1] > _WIDEST_DEG:
        return False
    foot = mechanism.points[place.post][0]
    feet = [mechanism.points[one.post][0] for one in group]
    ways = [np.array(one.drill) for one in group]
    up = np.array(place.drill)
    return all(
        float(np.linalg.norm(foot + up * t - (other + way * t))) > bush.outside_mm + bush.wall_mm
        for other, way in zip(feet, ways, strict=True)
        for t in (0.0, bush.length_mm)
    )


def _stations(places: Sequence[PostPlace], beside: float) -> tuple[float, float]:
    stations = [one.station_mm for one in places]
    return min(stations) - beside, max(stations) + beside


def _arc(places: Sequence[PostPlace]) -> tuple[float, float]:
    """Middle and width (degrees) of the shortest arc over some posts and what lies beside."""
    return shortest_arc(
        [one.bearing_deg for one in places], math.degrees(_BESIDE_MM / places[0].foot_mm)
    )


def shortest_arc(bearings_deg: Sequence[float], beside_deg: float = 0.0) -> tuple[float, float]:
    """Middle and width (degrees) of the shortest arc that covers some bearings."""
    turns = sorted(bearing % 360 for bearing in bearings_deg)
    gaps = [
        ((after - before), after)
        for before, after in zip(turns, [*turns[1:], turns[0] + 360], strict=True)
    ]
    gap, start = max(gaps)
    width = 360 - gap
    middle = (start + width / 2 + 180) % 360 - 180
    return middle, width + 2 * beside_deg


def _jig(body: Body, name: str, group: list[PostPlace]) -> Jig:
    """The saddle over a group, made longer or wider until it covers a tone hole for the pin."""
    part = body.instrument.part(group[0].part)
    low, high = _stations(group, _BESIDE_MM)
    best = None
    for hole in part.holes:
        radius = part.outside_diameter_at(hole.station_mm) / 2
        reach = hole.diameter_mm / 2 + 3.0
        beside = math.degrees(_BESIDE_MM / radius)
        with_hole = shortest_arc(
            [
                *(one.bearing_deg for one in group),
                hole.bearing_deg + math.degrees(reach / radius) - beside,
                hole.bearing_deg - math.degrees(reach / radius) + beside,
            ],
            beside,
        )
        start, end = min(low, hole.station_mm - reach), max(high, hole.station_mm + reach)
        start, end = max(start, 0.0), min(end, part.length_mm)
        if with_hole[1] > 178.0:
            continue
        size = (end - start) * radius * math.radians(with_hole[1])
        if best is None or size < best[0]:
            best = (size, start, end, *with_hole, hole)
    if best is None:
        raise SolidsError(
            say("no tone hole is near enough to hold a jig's pin"),
            place=(say("part '{part}'", part=part.name), group[0].post),
            remedy=say("Drill its posts by a dividing head."),
        )
    _, start, end, middle, arc, hole = best
    return Jig(name, part.name, tuple(group), start, end, middle, arc, hole.name, hole.diameter_mm)


def jig_solid(instrument: Instrument, body: Body, jig: Jig, bush: Bush | None = None) -> Solid:
    """The saddle as one solid, standing as its part does, station 0 of the part at z = 0.

    Raises SolidsError where the kernel fails.
    """
    from build123d import Axis, Face, Plane, SkipClean, Solid, Wire

    bush = bush or Bush()
    part = instrument.part(jig.part)
    offset = body.offset_mm[jig.part]
    inner = [s for s, _ in part.outside if jig.start_mm < s < jig.end_mm]
    stations = [jig.start_mm, *sorted(set(inner)), jig.end_mm]
    radii = [part.outside_diameter_at(s) / 2 + _AIR_MM for s in stations]

    def sector(grown: float) -> Solid:
        """Between the body's outside and ``grown`` over it, over the saddle's arc."""
        x, y = bearing_direction(jig.middle_deg + jig.arc_deg / 2)
        low = list(zip(stations, radii, strict=True))
        outline = [(r, s) for s, r in low] + [(r + grown, s) for s, r in reversed(low)]
        wire = Wire.make_polygon([(r * x, r * y, s) for r, s in outline], close=True)
        return Solid.revolve(Face(wire), jig.arc_deg, Axis((0, 0, 0), (0, 0, 1)))

    def rod(start: np.ndarray, up: np.ndarray, radius: float, low: float, high: float) -> Solid:
        plane = Plane(origin=tuple(start + low * up), z_dir=tuple(up))
        return Solid.make_cylinder(radius, high - low, plane)

    rim = body.rims[jig.pin_hole]
    try:
        with SkipClean():
            made, guides = sector(bush.saddle_mm), []
            for place in jig.posts:
                foot, up = _foot(place), in_solids_frame(np.array(place.drill))
                made = made.fuse(rod(foot, up, bush.boss_mm, -1.0, bush.length_mm))
                guides.append(rod(foot, up, bush.outside_mm / 2, -6.0, bush.length_mm + 1.0))
            centre, out = _rim(rim, offset)
            pin = rim.hole.diameter_mm / 2
            high = bush.saddle_mm + _PIN_OVER_MM
            made = made.fuse(rod(centre, out, pin + _PIN_WALL_MM, -rim.hole.chimney_mm, high))
            # Nothing of a boss may reach into the body.
            ends = (stations[0] - 20, stations[-1] + 20)
            within = [(0.0, ends[0]), (radii[0], ends[0]), *zip(radii, stations, strict=True)]
            within += [(radii[-1], ends[1]), (0.0, ends[1])]
            face = Face(Wire.make_polygon([(r, 0.0, s) for r, s in within], close=True))
            cuts = [Solid.revolve(face, 360.0, Axis((0, 0, 0), (0, 0, 1))), *guides]
            cuts.append(rod(centre, out, pin, -8.0, high + 1.0))
            for other in body.rims.values():
                if other.part == jig.part and other.hole.chimney_mm > 0:
                    middle, way = _rim(other, offset)
                    reach = other.hole.diameter_mm / 2 + instrument.fit.chimney_wall_mm + _ROUND_MM
                    cuts += [
                        rod(middle + by, way, reach, -other.hole.chimney_mm - 1.0, _ROUND_MM)
                        for by in _lifted(jig, way, other.hole.chimney_mm)
                    ]
            made = made.cut(*cuts)
    except Exception as error:  # the kernel's failures share no base class
        raise SolidsError(
            say("the kernel could not make the jig ({why})", why=str(error)),
            place=(say("part '{part}'", part=jig.part), jig.name),
            remedy=say("Drill these posts by a dividing head."),
        ) from error
    solids = sorted(made.solids(), key=lambda each: each.volume)
    if not solids or not solids[-1].is_valid:
        raise SolidsError(
            say("the result is not a valid solid"),
            place=jig.name,
            remedy=say("Drill these posts by a dividing head."),
        )
    solid = solids[-1]
    solid.label = jig.name
    return solid


def _foot(place: PostPlace) -> np.ndarray:
    """A post's foot as bodies stand, station 0 of its part at z = 0."""
    x, y = bearing_direction(place.bearing_deg)
    return np.array([place.foot_mm * x, place.foot_mm * y, place.station_mm])


def _rim(rim: Rim, offset: float) -> tuple[np.ndarray, np.ndarray]:
    """A rim's middle and way out, as bodies stand, station 0 of its part at z = 0."""
    return in_solids_frame(rim.centre) - np.array([0.0, 0.0, offset]), in_solids_frame(rim.out)


def _lifted(jig: Jig, way: np.ndarray, height: float) -> list[np.ndarray]:
    """Where a chimney goes, seen from the saddle, as that is lifted off straight."""
    off = np.array([*bearing_direction(jig.middle_deg), 0.0])
    cosine = max(float(way @ off), 0.2)
    return [-off * t for t in np.linspace(0.0, (height + _ROUND_MM) / cosine, 4)]
