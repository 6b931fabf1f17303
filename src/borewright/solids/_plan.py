"""How each tone hole is made: the outlines, about the hole's own axis, that are added and cut.

Outlines are lists of (radius from the hole's axis, distance from the bore's axis) in mm.
The rim plane and the tube's inner end come from the model and nothing here moves them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from borewright.model import BodyFeatures, Cover, Part, SeatShape, ToneHole
from borewright.solids._profiles import Points, inside_outline, outside_outline, radius_range

#: Largest 45° foot of a chimney (mm); it also carries an upright print.
BLEND_MM = 0.8
#: How far tools overshoot what they cut (mm), so that no faces coincide.
_OVER_MM = 1.0
#: How near (mm) to a plane we ask on which side of it there is material.
_NEAR_MM = 0.01


@dataclass(frozen=True)
class HolePlan:
    """One hole's outlines and the distances (mm) that fix its acoustics."""

    hole: ToneHole
    inner_end_mm: float
    rim_mm: float
    mouth_mm: float
    boss: Points | None
    seat: Points | None
    lining: Points | None
    air: Points
    seat_radius_mm: float
    boss_radius_mm: float
    land_mm: float
    seat_floor_mm: float

    def witness(self, feature: Literal["boss", "seat", "lining", "air"]) -> tuple[float, float]:
        """A (radius, distance) point that must be solid with boss or lining, air with the rest."""
        radius = self.hole.diameter_mm / 2
        if feature == "boss":
            return radius + self.land_mm / 2, self.rim_mm - _NEAR_MM
        if feature == "seat":
            return (radius + self.seat_radius_mm) / 2, self.rim_mm + _NEAR_MM
        if feature == "lining" and self.lining:
            return (self.air[1][0] + self.lining[1][0]) / 2, self.inner_end_mm + _NEAR_MM
        return 0.0, (self.inner_end_mm + self.rim_mm) / 2


def plan_hole(
    part: Part,
    hole: ToneHole,
    *,
    wall_mm: float,
    far_mm: float,
    room_mm: float,
    features: BodyFeatures,
) -> HolePlan:
    """Outlines of a hole's chimney or seat, lining and air.

    Parameters
    ----------
    part, hole
        The model's own dimensions (mm).
    wall_mm
        Wall of chimneys, seat rings and linings.
    far_mm
        A distance from the bore's axis beyond everything that stands on the part.
    room_mm
        How far from the hole's axis a chimney's foot may reach: not onto the next hole.
    features
        Shapes of rims and edges; they leave rim plane and tube untouched.
    """
    outside, inside = outside_outline(part), inside_outline(part)
    bore = part.bore_diameter_at(hole.station_mm) / 2
    body = part.outside_diameter_at(hole.station_mm) / 2
    radius = hole.diameter_mm / 2
    rim, inner_end = body + hole.chimney_mm, bore - hole.into_bore_mm
    foot = radius + wall_mm
    seat_radius = hole.seat_radius_mm(wall_mm)
    # A finger hole without chimney is simply drilled; its rim follows the body's curve.
    drilled = hole.cover is not Cover.PAD and abs(hole.chimney_mm) < 1e-9
    highest = _outer(outside, hole, seat_radius)[1]
    lowest = _beside(_outer(outside, hole, foot)[0], foot)
    has_seat = not drilled and highest > rim + 1e-9
    has_boss = not drilled and lowest < rim
    land = min(features.seat_land_mm, wall_mm) if hole.cover is Cover.PAD else wall_mm
    boss, reach = None, foot
    if has_boss and has_seat:
        boss = rod(foot, 0.0, rim + _OVER_MM)
    elif has_boss:
        boss = _chimney(outside, hole, foot, rim, room_mm)
        if hole.into_bore_mm > 0 and features.vent_boss_wall_mm > 0:
            reach = foot + features.vent_boss_wall_mm
            boss = _vent_boss(reach, foot, rim, hole.chimney_mm)
        bevel = min(features.edge_mm, hole.chimney_mm / 3, wall_mm / 3)
        if hole.cover is Cover.PAD:
            boss = _pad_rim(boss, radius + land, foot, rim, hole.chimney_mm, features)
        elif bevel > 0:
            land = wall_mm - bevel
            boss = [*boss[:-2], (foot, rim - bevel), (foot - bevel, rim), boss[-1]]
    seat, floor = None, rim
    if has_seat:
        seat, floor = _seat(hole, features, seat_radius, rim, far_mm)
    mouth_radius = hole.undercut.diameter_mm / 2 if hole.undercut else radius
    narrowest = radius_range(
        inside, hole.station_mm - mouth_radius, hole.station_mm + mouth_radius
    )[0]
    mouth = _beside(narrowest, mouth_radius)
    lining = None
    if hole.into_bore_mm > 0:
        lining_radius = mouth_radius + wall_mm
        # The lining ends within the wall, half way to the outside or the rim.
        lining = rod(
            lining_radius,
            inner_end,
            (bore + min(rim, _beside(_outer(outside, hole, lining_radius)[0], lining_radius))) / 2,
        )
        mouth = min(mouth, inner_end)
    return HolePlan(
        hole=hole,
        inner_end_mm=inner_end,
        rim_mm=rim,
        mouth_mm=mouth,
        boss=boss,
        seat=seat,
        lining=lining,
        air=_air(hole, mouth_radius, max(0.0, mouth - _OVER_MM), inner_end, far_mm),
        seat_radius_mm=seat_radius if has_seat else 0.0,
        boss_radius_mm=reach if has_boss else 0.0,
        land_mm=land,
        seat_floor_mm=floor,
    )


def _seat(
    hole: ToneHole, features: BodyFeatures, seat_radius: float, rim: float, far: float
) -> tuple[Points, float]:
    """A counterbore whose floor lies below the rim, so that the pad meets the land alone."""
    land = hole.diameter_mm / 2 + features.seat_land_mm
    relief = features.seat_relief_mm
    slope = relief if features.seat is SeatShape.CROWNED else 0.0
    if hole.cover is not Cover.PAD or relief <= 0 or land + slope >= seat_radius - 0.1:
        return rod(seat_radius, rim, far), rim
    floor = rim - relief
    return [
        (0.0, rim),
        (land, rim),
        (land + slope, floor),
        (seat_radius, floor),
        (seat_radius, far),
        (0.0, far),
    ], floor


def _vent_boss(reach: float, foot: float, rim: float, chimney: float) -> Points:
    """A wide foot half the chimney high, which holds a lining tube."""
    knee = rim - chimney / 2
    return [(0.0, 0.0), (reach, 0.0), (reach, knee), (foot, knee), (foot, rim), (0.0, rim)]


def _pad_rim(
    chimney: Points, land: float, foot: float, rim: float, height: float, features: BodyFeatures
) -> Points:
    """The same chimney, its top narrowed to the land that meets the pad."""
    drop = min(features.seat_relief_mm, height / 3)
    slope = drop if features.seat is SeatShape.CROWNED else 0.0
    if drop <= 0 or foot - land <= 0.02:
        return chimney
    if land + slope > foot - 0.02:
        drop, step = (foot - land if slope else drop), []
    else:
        step = [(land + slope, rim - drop)]
    return [*chimney[:-2], (foot, rim - drop), *step, (land, rim), chimney[-1]]


def _chimney(outside: Points, hole: ToneHole, foot: float, rim: float, room: float) -> Points:
    """A raised rim: a cylinder, with a 45° foot unless a ring must pass (common practice)."""
    body = rim - hole.chimney_mm
    blend = min(BLEND_MM, hole.chimney_mm / 2)
    if hole.cover is Cover.RING or blend <= 0.05:
        return rod(foot, 0.0, rim)
    knee = body + blend
    least = _outer(outside, hole, foot + blend)[0]
    wide = _foot_radius(least, knee + foot)
    if not foot < wide < room:
        return rod(foot, 0.0, rim)
    return [
        (0.0, 0.0),
        (wide, 0.0),
        (wide, knee - (wide - foot)),
        (foot, knee),
        (foot, rim),
        (0.0, rim),
    ]


def _foot_radius(body: float, reach: float) -> float:
    """Where a 45° cone about the hole meets the body at the hole's sides, and just beyond.

    On the side the body's height is √(body² - x²) and the cone's is reach - x. Where they do
    not meet, the body has become steeper than 45° and the foot ends there.
    """
    steepest = body * math.sqrt(0.5)
    under = 2 * body**2 - reach**2
    return steepest if under <= 0 else min((reach - math.sqrt(under)) / 2 + 0.05, steepest)


def _air(hole: ToneHole, mouth_radius: float, start: float, inner_end: float, far: float) -> Points:
    radius = hole.diameter_mm / 2
    points = [(0.0, start), (mouth_radius, start)]
    if hole.undercut and mouth_radius > radius + 1e-5:
        # Straight up to the bore's wall on the centre line, then the cone, as modelled.
        points += [(mouth_radius, inner_end), (radius, inner_end + hole.undercut.depth_mm)]
    return [*points, (radius, far), (0.0, far)]


def rod(radius: float, start: float, end: float) -> Points:
    """Outline of a plain cylinder about a hole's axis, closed along that axis."""
    return [(0.0, start), (radius, start), (radius, end), (0.0, end)]


def _outer(outside: Points, hole: ToneHole, reach: float) -> tuple[float, float]:
    return radius_range(outside, hole.station_mm - reach, hole.station_mm + reach)


def _beside(radius: float, aside: float) -> float:
    """Height of a round body's surface at a distance to the side of its crown."""
    return math.sqrt(max(0.0, radius**2 - aside**2))
