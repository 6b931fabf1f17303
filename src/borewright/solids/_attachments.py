"""Tools for posts, thumb rest and alignment marks, and what they may not touch."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from borewright.errors import SolidsError
from borewright.model import BodyFeatures, Part, PostBase
from borewright.solids._plan import HolePlan, rod
from borewright.solids._profiles import inside_outline, outside_outline, radius_range
from borewright.solids.posts import PostPlan
from borewright.words import Place, say

if TYPE_CHECKING:
    from borewright.solids._kernel import Tool

_OVER_MM = 1.0
MARK_LENGTH_MM = 5.0
_MARK_WIDTH_MM = 0.8


@dataclass(frozen=True)
class Spot:
    """A place on a part: station (mm) and bearing (degrees)."""

    station_mm: float
    bearing_deg: float


def check_attachments(
    part: Part, features: BodyFeatures, holes: Sequence[HolePlan], posts: Sequence[PostPlan]
) -> None:
    """Raise SolidsError where a post, screw or mark would open the bore or spoil a rim."""
    inside = inside_outline(part)
    for post in posts:
        place = _post_place(part, post)
        half = post.hole_mm / 2
        inner = radius_range(inside, post.station_mm - half, post.station_mm + half)[1]
        if post.hole_mm and post.floor_mm <= inner:
            raise SolidsError(
                say(
                    "its hole, down to {floor_mm:.2f} mm from the axis, breaks into the bore or "
                    "socket, which reaches {inner_mm:.2f} mm there",
                    floor_mm=post.floor_mm,
                    inner_mm=inner,
                ),
                place=place,
                remedy=say("Use a smaller post_depth_mm in [body], or move the post."),
            )
        for plan in holes:
            _check_base(post, plan, place)
    for mark in mark_spots(part, features):
        for plan in holes:
            reach = plan.hole.diameter_mm / 2 + plan.land_mm + MARK_LENGTH_MM / 2
            if _apart(mark, plan, plan.rim_mm) < max(reach, plan.boss_radius_mm + 2.0):
                raise SolidsError(
                    say("it would cut into the rim of hole '{hole}'", hole=plan.hole.name),
                    place=_mark_place(part, mark),
                    remedy=say(
                        "Choose another alignment_bearing_deg in [body], or "
                        "alignment_marks = false."
                    ),
                )
    for screw in screws(part):
        floor = rest_floor_mm(part) - (part.thumb_rest.screw_depth_mm if part.thumb_rest else 0.0)
        inner = radius_range(inside, screw.station_mm - 1, screw.station_mm + 1)[1]
        if floor <= inner:
            raise SolidsError(
                say(
                    "a screw hole of the thumb rest, down to {floor_mm:.2f} mm from the axis, "
                    "breaks into the bore or socket ({inner_mm:.2f} mm)",
                    floor_mm=floor,
                    inner_mm=inner,
                ),
                place=(say("part '{part}'", part=part.name), "thumb_rest"),
                remedy=say("Use a smaller screw_depth_mm, or move the thumb rest."),
            )


def _post_place(part: Part, post: PostPlan) -> Place:
    return say("part '{part}'", part=part.name), say("post '{post}'", post=post.name)


def _mark_place(part: Part, mark: Spot) -> Place:
    return (
        say("part '{part}'", part=part.name),
        say("alignment mark at station {station_mm:g}", station_mm=mark.station_mm),
    )


def _check_base(post: PostPlan, plan: HolePlan, place: Place) -> None:
    """Neither the post's hole nor its base may reach a tone hole's rim or tube."""
    hole = plan.hole
    apart = _apart(post, plan, min(post.base_mm, plan.rim_mm))
    tube = hole.diameter_mm / 2
    if apart < tube + post.hole_mm / 2:
        raise SolidsError(
            say("its hole breaks into hole '{hole}'", hole=hole.name),
            place=place,
            remedy=say("Move the post or the hole."),
        )
    cuts = post.base is PostBase.FLAT and plan.rim_mm > post.base_mm
    stands = post.base is PostBase.BOSS
    reach = max(plan.boss_radius_mm, tube + plan.land_mm)
    if (cuts or stands) and apart < reach + post.base_across_mm / 2:
        raise SolidsError(
            say(
                "{base} ({across_mm:g} mm across) reaches the rim of hole '{hole}': the "
                "centres are {apart_mm:.2f} mm apart, {needed_mm:.2f} mm are needed",
                base=say("its boss") if stands else say("its flat"),
                across_mm=post.base_across_mm,
                hole=hole.name,
                apart_mm=apart,
                needed_mm=reach + post.base_across_mm / 2,
            ),
            place=place,
            remedy=say("Use a smaller post_base_mm in [body], or move the post."),
        )


def _apart(spot: PostPlan | Spot, plan: HolePlan, level: float) -> float:
    """Straight distance (mm) between two radial axes at a distance from the bore's axis."""
    turn = math.radians((spot.bearing_deg - plan.hole.bearing_deg + 180) % 360 - 180)
    return math.hypot(2 * level * math.sin(turn / 2), spot.station_mm - plan.hole.station_mm)


def post_tools(part: Part, posts: Sequence[PostPlan], far: float) -> tuple[list[Tool], list[Tool]]:
    """Bosses to join, and flats and holes to cut."""
    from borewright.solids import _kernel

    joined, cut = [], []
    for post in posts:
        place = _post_place(part, post)
        half = post.base_across_mm / 2
        if post.base is PostBase.BOSS:
            joined.append(
                _kernel.Tool(
                    _kernel.round_tool(rod(half, post.floor_mm, post.base_mm), post),
                    _kernel.beside_hole(post, (0.9 * half, post.base_mm - 0.01)),
                    place,
                    say("the boss {across_mm:g} mm across", across_mm=post.base_across_mm),
                    say("Try a post_base_mm a little larger or smaller."),
                )
            )
        elif post.base is PostBase.FLAT:
            cut.append(
                _kernel.Tool(
                    _kernel.round_tool(rod(half, post.base_mm, far), post),
                    _kernel.beside_hole(post, (0.0, post.base_mm + 0.01)),
                    place,
                    say("the flat {across_mm:g} mm across", across_mm=post.base_across_mm),
                    say("Try a post_base_mm a little larger or smaller."),
                )
            )
        if post.hole_mm > 0:
            cut.append(
                _kernel.Tool(
                    _kernel.round_tool(rod(post.hole_mm / 2, post.floor_mm, far), post),
                    _kernel.beside_hole(post, (0.0, post.floor_mm + 0.01)),
                    place,
                    say("the hole of {diameter_mm:g} mm", diameter_mm=post.hole_mm),
                    say("Try a post_depth_mm a little larger or smaller."),
                )
            )
    return joined, cut


def screws(part: Part) -> list[Spot]:
    """The thumb rest's two screws."""
    rest = part.thumb_rest
    if rest is None:
        return []
    half = rest.screw_spacing_mm / 2
    return [Spot(rest.station_mm + side * half, rest.bearing_deg) for side in (-1, 1)]


def rest_floor_mm(part: Part) -> float:
    """Distance (mm) of the thumb rest's flat from the axis."""
    rest = part.thumb_rest
    if rest is None:
        return 0.0
    half = rest.length_mm / 2
    low, high = radius_range(outside_outline(part), rest.station_mm - half, rest.station_mm + half)
    if rest.boss_mm:
        return high + rest.boss_mm
    return math.sqrt(max(low**2 - (rest.width_mm / 2) ** 2, 0.0))


def rest_tools(part: Part, far: float) -> tuple[list[Tool], list[Tool]]:
    """The thumb rest's boss to join, and its flat and screw holes to cut."""
    from borewright.solids import _kernel

    rest = part.thumb_rest
    if rest is None:
        return [], []
    place = (say("part '{part}'", part=part.name), "thumb_rest")
    floor = rest_floor_mm(part)
    half, wide = rest.length_mm / 2, rest.width_mm / 2
    advice = say("Try a length_mm or width_mm a little larger or smaller.")
    joined, cut = [], []
    if rest.boss_mm:
        low = max(floor - rest.boss_mm - 2.0, 1.0)
        joined.append(
            _kernel.Tool(
                _kernel.box_tool(rest, half, wide, low, floor),
                _kernel.beside_hole(rest, (0.5 * wide, floor - 0.01)),
                place,
                say(
                    "the boss of {length_mm:g} by {width_mm:g} mm",
                    length_mm=rest.length_mm,
                    width_mm=rest.width_mm,
                ),
                advice,
            )
        )
    else:
        cut.append(
            _kernel.Tool(
                _kernel.box_tool(rest, half, wide + _OVER_MM, floor, far),
                _kernel.beside_hole(rest, (0.0, floor + 0.01)),
                place,
                say("the flat {length_mm:g} mm long", length_mm=rest.length_mm),
                advice,
            )
        )
    for screw in screws(part):
        cut.append(
            _kernel.Tool(
                _kernel.round_tool(
                    rod(rest.screw_diameter_mm / 2, floor - rest.screw_depth_mm, far), screw
                ),
                _kernel.beside_hole(screw, (0.0, floor - rest.screw_depth_mm + 0.01)),
                place,
                say("the screw hole of {diameter_mm:g} mm", diameter_mm=rest.screw_diameter_mm),
                say("Try a screw_depth_mm a little larger or smaller."),
            )
        )
    return joined, cut


def mark_spots(part: Part, features: BodyFeatures) -> list[Spot]:
    """Middles of the alignment marks: one at each end that joins another part."""
    if not features.alignment_marks:
        return []
    bearing, half = features.alignment_bearing_deg, MARK_LENGTH_MM / 2
    spots = []
    if part.tenon_top or part.socket_top:
        spots.append(Spot(half, bearing))
    if part.tenon_bottom or part.socket_bottom:
        spots.append(Spot(part.length_mm - half, bearing))
    return spots


def mark_tools(part: Part, features: BodyFeatures, far: float) -> list[Tool]:
    """Grooves of the alignment marks, over the shoulder's edge on both sides of a joint."""
    from borewright.solids import _kernel

    tools = []
    for spot in mark_spots(part, features):
        end = 0.0 if spot.station_mm < part.length_mm / 2 else part.length_mm
        half = MARK_LENGTH_MM / 2
        radius = radius_range(
            outside_outline(part), max(end - half, 0.01), min(end + half, part.length_mm - 0.01)
        )[0]
        floor = radius - features.mark_depth_mm
        away = -_OVER_MM / 2 if end == 0.0 else _OVER_MM / 2
        middle = Spot(spot.station_mm + away, spot.bearing_deg)
        tools.append(
            _kernel.Tool(
                _kernel.box_tool(middle, half + _OVER_MM / 2, _MARK_WIDTH_MM / 2, floor, far),
                _kernel.beside_hole(spot, (0.0, floor + 0.01)),
                _mark_place(part, spot),
                say("the alignment mark"),
                say("Try another alignment_bearing_deg, or alignment_marks = false."),
            )
        )
    return tools
