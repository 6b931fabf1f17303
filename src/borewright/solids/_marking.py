"""Serial number and orientation text: where there is room for them, and the letters to cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from borewright.model import Instrument, Part
from borewright.solids._attachments import Spot, mark_spots, screws
from borewright.solids._plan import HolePlan
from borewright.solids.axes import bearing_direction
from borewright.solids.posts import PostPlan
from borewright.words import say

if TYPE_CHECKING:
    from borewright.solids._kernel import Tool

#: Bearings tried for the text, the back first (degrees).
_BEARINGS = (180, 160, -160, 140, -140, 120, -120, 100, -100, 80, -80, 60, -60, 40, -40, 20, -20, 0)
_STEP_MM = 2.0
_ROOM_MM = 1.0
#: How far the body may bulge out of the text's plane (mm): letters are cut deeper than this.
_FLAT_MM = 0.1


@dataclass(frozen=True)
class TextSpot:
    """Where a line of text begins (mm, degrees); it runs downwards along the part."""

    text: str
    station_mm: float
    bearing_deg: float
    width_mm: float
    height_mm: float


def marking_text(instrument: Instrument) -> str:
    """What is cut into every part: the way up, and the serial number."""
    words = ["◀ TOP"] if instrument.body.orientation_text else []
    return "  ".join([*words, instrument.serial.strip()]).strip()


def place_text(
    instrument: Instrument, part: Part, holes: Sequence[HolePlan], posts: Sequence[PostPlan]
) -> TextSpot | None:
    """The first place, from the back round to the front, where the text meets nothing.

    None where there is no text, or no room for it.
    """
    text = marking_text(instrument)
    if not text:
        return None
    from borewright.solids._letters import width_mm

    height = instrument.body.text_height_mm
    width = width_mm(text, height)
    taken = _taken(instrument, part, holes, posts)
    ring = part.socket_top.ring_length_mm if part.socket_top else 0.0
    end_ring = part.socket_bottom.ring_length_mm if part.socket_bottom else 0.0
    last = part.length_mm - end_ring - width - 2 * _ROOM_MM
    for bearing in _BEARINGS:
        station = ring + 2 * _ROOM_MM
        while station <= last:
            spot = TextSpot(text, station, bearing, width, height)
            if _straight(part, spot) and not any(_meets(part, spot, *one) for one in taken):
                return spot
            station += _STEP_MM
    return None


def _taken(
    instrument: Instrument, part: Part, holes: Sequence[HolePlan], posts: Sequence[PostPlan]
) -> list[tuple[float, float, float]]:
    """Circles on the outside that the text keeps off: station, bearing, radius (mm)."""
    taken = []
    for plan in holes:
        reach = max(plan.seat_radius_mm, plan.boss_radius_mm, plan.hole.diameter_mm / 2)
        taken.append((plan.hole.station_mm, plan.hole.bearing_deg, reach + _ROOM_MM))
    for post in posts:
        half = max(post.base_across_mm, post.hole_mm) / 2
        taken.append((post.station_mm, post.bearing_deg, half + _ROOM_MM))
    for mark in mark_spots(part, instrument.body):
        taken.append((mark.station_mm, mark.bearing_deg, 3.5))
    if part.thumb_rest:
        rest = part.thumb_rest
        for spot in [*screws(part), Spot(rest.station_mm, rest.bearing_deg)]:
            taken.append((spot.station_mm, spot.bearing_deg, rest.length_mm / 2 + _ROOM_MM))
    return taken


def _straight(part: Part, spot: TextSpot) -> bool:
    """Whether the outside is straight, and not much sloped, under the text."""
    first, last = (part.outside_diameter_at(spot.station_mm + d) / 2 for d in (0.0, spot.width_mm))
    if abs(last - first) > 0.2 * spot.width_mm:
        return False
    for station, diameter in part.outside:
        share = (station - spot.station_mm) / spot.width_mm
        if 0 < share < 1 and abs(diameter / 2 - (first + (last - first) * share)) > _FLAT_MM:
            return False
    return True


def _meets(part: Part, spot: TextSpot, station: float, bearing: float, radius: float) -> bool:
    turn = math.radians((bearing - spot.bearing_deg + 180) % 360 - 180)
    girth = turn * part.outside_diameter_at(station) / 2
    aside = max(0.0, abs(girth) - spot.height_mm / 2)
    along = max(0.0, spot.station_mm - station, station - spot.station_mm - spot.width_mm)
    return math.hypot(aside, along) < radius


def text_tools(instrument: Instrument, part: Part, spot: TextSpot) -> list[Tool]:
    """The letters as tools that cut ``mark_depth_mm`` deep at their middle line."""
    from borewright.solids import _kernel
    from borewright.solids._letters import letter_outlines

    first, last = (part.outside_diameter_at(spot.station_mm + d) / 2 for d in (0.0, spot.width_mm))
    slope = (last - first) / spot.width_mm
    size = math.hypot(1.0, slope)
    x, y = bearing_direction(spot.bearing_deg)
    place = (say("part '{part}'", part=part.name), say("text '{text}'", text=spot.text))
    return [
        _kernel.Tool(
            solid,
            None,
            place,
            say("a letter of the text"),
            say("Try another text_height_mm in [body], or orientation_text = false."),
        )
        for solid in _kernel.prisms(
            letter_outlines(spot.text, spot.height_mm),
            (first * x, first * y, spot.station_mm),
            (slope * x / size, slope * y / size, 1 / size),
            (x / size, y / size, -slope / size),
            instrument.body.mark_depth_mm,
        )
    ]
