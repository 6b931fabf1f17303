"""Key-fit blanks: slices of a joint's outside with seats and posts only, to try keys on."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from borewright.errors import PrintingError
from borewright.keywork import Body, Mechanism, screwed_to_body
from borewright.model import Instrument, KeySet, Part, ToneHole
from borewright.model.keys import Cup, Link, Post, Ring, Spring, SpringShape, Stop, points_of
from borewright.solids import (
    Bush,
    Jig,
    PostPlan,
    plan_jigs,
    plan_posts,
    shortest_arc,
    thin_slice,
    voids,
)
from borewright.words import say

if TYPE_CHECKING:
    from build123d import Solid

#: Body beyond the outermost post, seat or stop (mm); a post's floor; the shell, and the least of
#: it that is left below a sunk seat.
_BEYOND_MM, _FLOOR_MM, _SHELL_MM, _UNDER_SEAT_MM = 4.0, 1.5, 3.0, 1.6
#: An arc wider than this (degrees) is closed: it stands better on the bed, and is held better.
_OPEN_DEG = 220.0
#: What a slice costs beside its own volume: layer changes (mm³ a mm), warming up (mm³).
_A_MM, _A_SLICE = 43.0, 1250.0


@dataclass(frozen=True)
class Blank:
    """One slice: its keys and jigs, where it was taken from (mm, degrees), how thick it is (mm).

    ``arc_deg`` is 360 for a slice that goes all round.
    """

    name: str
    part: str
    keys: tuple[str, ...]
    start_mm: float
    end_mm: float
    middle_deg: float
    arc_deg: float
    shell_mm: float
    jigs: tuple[Jig, ...]


@dataclass(frozen=True)
class Blanks:
    """Slices as an instrument of their own, with the posts that stand on them."""

    instrument: Instrument
    posts: list[PostPlan]
    blanks: list[Blank]


@dataclass(frozen=True)
class _Need:
    """What some keys need of a part: (station, bearing, reach) of all that stands or lies there."""

    part: Part
    keys: frozenset[str]
    spots: tuple[tuple[float, float, float], ...]

    @property
    def stations(self) -> tuple[float, float]:
        """From where to where (mm)."""
        low = min(station - reach for station, _, reach in self.spots) - _BEYOND_MM
        high = max(station + reach for station, _, reach in self.spots) + _BEYOND_MM
        return max(low, 0.0), min(high, self.part.length_mm)

    @property
    def arc(self) -> tuple[float, float]:
        """Middle and width (degrees); 360 where it is closed."""
        edges = []
        for station, bearing, reach in self.spots:
            radius = self.part.outside_diameter_at(station) / 2
            half = math.degrees((reach + _BEYOND_MM) / radius)
            edges += [bearing + half * share for share in (-1.0, 0.0, 1.0)]
        middle, width = shortest_arc(edges)
        return (middle, width) if width <= _OPEN_DEG else (0.0, 360.0)

    @property
    def cost(self) -> float:
        """About what it takes to print (mm³)."""
        low, high = self.stations
        girth = math.radians(self.arc[1]) * self.part.outside_diameter_at((low + high) / 2) / 2
        return (high - low) * (girth * _SHELL_MM + _A_MM) + _A_SLICE

    def with_(self, other: _Need) -> _Need:
        """Both on one slice."""
        return _Need(self.part, self.keys | other.keys, self.spots + other.spots)


def key_fit_blanks(
    instrument: Instrument, keys: KeySet, wanted: Sequence[str] = (), bush: Bush | None = None
) -> Blanks:
    """Slices of the outside, as long and as far round as some keys need, with seats and posts.

    Keys that work each other stay on one slice; others share one where that is printed sooner
    than two. A slice carries its keys' posts, seats, rings, stops, the places of flat springs,
    and the holes that hold its jigs' pins.

    Parameters
    ----------
    instrument, keys
        The body and what shall fit it.
    wanted
        Keys to try; what they drive or are driven by, and what shares their rod, comes along.
        All of them unless given.
    bush
        The drill bushes of the jigs.

    Raises
    ------
    PrintingError
        Where there is no key of a name.
    SolidsError
        Where no tone hole is near enough for a jig's pin.
    """
    tried = _with_others(keys, wanted)
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    blanks: list[Blank] = []
    parts: list[Part] = []
    posts: list[PostPlan] = []
    every_post = {post.name: post for post in plan_posts(instrument, points_of(keys))}
    jigs = 0
    for part in instrument.parts:
        for need in _shared(_needs(mechanism, body, part, tried)):
            name = f"blank {len(blanks) + 1}"
            ordered = tuple(key for key in keys.keys if key in need.keys)
            guides = [
                replace(jig, name=f"jig {jigs + n}")
                for n, jig in enumerate(plan_jigs(mechanism, body, ordered, bush), start=1)
            ]
            jigs += len(guides)
            pins = [hole for hole in part.holes if hole.name in {jig.pin_hole for jig in guides}]
            need = replace(need, spots=need.spots + tuple(_spot(instrument, h) for h in pins))
            (low, high), (middle, arc) = need.stations, need.arc
            own = [every_post[one.name] for key in ordered for one in _posts(keys, key)]
            made = _slice(instrument, need, name)
            parts.append(made)
            posts += [
                replace(post, part=name, station_mm=post.station_mm - low)
                for post in dict.fromkeys(own)
            ]
            shell = _shell(instrument, made)
            blanks.append(
                Blank(name, part.name, ordered, low, high, middle, arc, shell, tuple(guides))
            )
    features = instrument.body.model_copy(
        update={"alignment_marks": False, "orientation_text": False}
    )
    sliced = instrument.model_copy(
        update={"parts": parts, "body": features, "keys": "", "serial": ""}
    )
    return Blanks(sliced, posts, blanks)


def blank_solid(made: Blanks, blank: Blank) -> Solid:
    """One slice as a solid, station 0 of the slice at z = 0. Raises SolidsError."""
    return thin_slice(
        made.instrument, blank.name, made.posts, blank.shell_mm, blank.middle_deg, blank.arc_deg
    )


def _with_others(keys: KeySet, wanted: Sequence[str]) -> set[str]:
    unknown = [key for key in wanted if key not in keys.keys]
    if unknown:
        raise PrintingError(
            say("there is no key '{key}'", key=unknown[0][:40]),
            place=keys.source or say("key survey"),
            remedy=say("Keys are: {keys}.", keys=" ".join(keys.keys)),
        )
    found = set(wanted) or set(keys.keys)
    rods = {key: keys.hinge(key).hinge for key in keys.keys}
    while True:
        more = {link.to for link in keys.of(Link) if link.key in found}
        more |= {link.key for link in keys.of(Link) if link.to in found}
        more |= {key for key in keys.keys if rods[key] in {rods[each] for each in found}}
        if more <= found:
            return found
        found |= more


def _posts(keys: KeySet, key: str) -> list[Post]:
    return keys.posts_of(keys.hinge(key).hinge)


def _needs(mechanism: Mechanism, body: Body, part: Part, tried: set[str]) -> list[_Need]:
    """What each group of keys that work each other needs of one part."""
    keys, found = mechanism.keys, []
    left = [key for key in keys.keys if key in tried and keys.hinge(key).part == part.name]
    while left:
        group = _with_others(keys, [left[0]]) & set(left)
        left = [key for key in left if key not in group]
        spots: list[tuple[float, float, float]] = []
        for key in group:
            for post in _posts(keys, key):
                spots.append((post.first.station_mm, post.first.bearing_deg, post.head_mm / 2))
            for each in keys.of_key(key):
                if isinstance(each, Cup | Ring):
                    half = each.outside_mm / 2
                    spots.append((each.first.station_mm, each.first.bearing_deg, half))
                elif isinstance(each, Stop) or (
                    isinstance(each, Spring) and each.shape is SpringShape.FLAT
                ):
                    screwed = isinstance(each, Spring) and screwed_to_body(mechanism, body, each)
                    on_body = each.first if screwed else each.second
                    spots.append((on_body.station_mm, on_body.bearing_deg, 2.0))
        found.append(_Need(part, frozenset(group), tuple(spots)))
    return found


def _shared(needs: list[_Need]) -> list[_Need]:
    """Two slices become one as long as that is printed sooner."""
    while True:
        pairs = [
            (one.with_(other).cost - one.cost - other.cost, one, other)
            for one, other in itertools.combinations(needs, 2)
        ]
        best = min(pairs, key=lambda pair: pair[0], default=None)
        if best is None or best[0] >= 0:
            return sorted(needs, key=lambda need: need.stations)
        _, one, other = best
        needs = [each for each in needs if each not in (one, other)] + [one.with_(other)]


def _spot(instrument: Instrument, hole: ToneHole) -> tuple[float, float, float]:
    reach = hole.seat_radius_mm(instrument.fit.chimney_wall_mm)
    return hole.station_mm, hole.bearing_deg, reach


def _slice(instrument: Instrument, need: _Need, name: str) -> Part:
    part, (low, high), (middle, arc) = need.part, need.stations, need.arc
    stations = [low, *(s for s, _ in part.outside if low < s < high), high]
    outside = [(s - low, part.outside_diameter_at(s, -1 if s == high else 1)) for s in stations]
    bore = min(diameter for _, diameter in outside)
    bore -= 2 * (instrument.body.post_depth_mm + _FLOOR_MM)
    holes = []
    for hole in part.holes:
        station, bearing, reach = _spot(instrument, hole)
        half = math.degrees(reach / (part.outside_diameter_at(station) / 2))
        off = abs((bearing - middle + 180) % 360 - 180) + half
        if low + reach < station < high - reach and (arc == 360.0 or off < arc / 2):
            holes.append(_open(hole, low))
    return part.model_copy(
        update={
            "name": name,
            "length_mm": high - low,
            "bore": [(0.0, bore), (high - low, bore)],
            "outside": outside,
            "holes": holes,
            "tenon_top": None,
            "tenon_bottom": None,
            "socket_top": None,
            "socket_bottom": None,
            "thumb_rest": None,
        }
    )


def _shell(instrument: Instrument, part: Part) -> float:
    """The wall (mm), thick enough below the deepest seat."""
    sunk = [
        part.outside_diameter_at(each.station_mm) / 2 - each.low_mm
        for each in voids(instrument, part)
        if each.kind == "seat"
    ]
    return max([_SHELL_MM, *(depth + _UNDER_SEAT_MM for depth in sunk)])


def _open(hole: ToneHole, low: float) -> ToneHole:
    return hole.model_copy(
        update={"station_mm": hole.station_mm - low, "undercut": None, "into_bore_mm": 0.0}
    )
