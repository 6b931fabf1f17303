"""Limits between features: neighbouring holes and pads, posts, shoulders, joints."""

from __future__ import annotations

import itertools

import numpy as np

from borewright.fit.clearance import (
    EXACT_MM,
    bore_radius_mm,
    distance_mm,
    hole_surface,
    inside_surface,
    pad_surface,
    post_surface,
)
from borewright.model import (
    BodyFeatures,
    Finding,
    FitWishes,
    Part,
    PostHole,
    SurveyRow,
    ToneHole,
)
from borewright.model.post_holes import taken_diameter_mm

#: Body left under a post's hole, over the bore (mm; from memory).
_UNDER_POST_MM = 2.0
#: Wall of a tenon under its cork and of a socket (mm; from memory).
_JOINT_WALL_MM = 2.5
#: Pads nearer than this (mm) may touch once leather and play are counted; from memory.
_PADS_CLEAR_MM = 0.5
_EXACT = 1e-6


def check_neighbours(wishes: FitWishes, part: Part) -> list[Finding]:
    """Walls between holes, and pads that touch each other."""
    found = []
    for first, second in itertools.combinations(part.holes, 2):
        place = f"{part.name}, holes {first.name} and {second.name}"
        limit = wishes.wall_between_holes_mm
        along = abs(first.station_mm - second.station_mm)
        if along - (first.mouth_diameter_mm + second.mouth_diameter_mm) / 2 < limit:
            wall = distance_mm(
                hole_surface(part, first), hole_surface(part, second), enough_mm=limit
            )
            if wall < limit - EXACT_MM:
                found.append(
                    Finding(
                        severity="fault",
                        place=place,
                        what=f"the wall between them is {wall:.2f} mm at its thinnest; "
                        f"{limit:g} mm is needed",
                        remedy="Move one along the part or round it, or make one of them smaller.",
                    )
                )
        found += _check_pads(part, first, second, along, place)
    return found


def _check_pads(
    part: Part, first: ToneHole, second: ToneHole, along: float, place: str
) -> list[Finding]:
    if not (first.pad and second.pad):
        return []
    if along - (first.pad.diameter_mm + second.pad.diameter_mm) / 2 >= _PADS_CLEAR_MM:
        return []
    apart = distance_mm(
        pad_surface(part, first), pad_surface(part, second), enough_mm=_PADS_CLEAR_MM
    )
    if apart >= _PADS_CLEAR_MM - EXACT_MM:
        return []
    touch = apart < EXACT_MM
    return [
        Finding(
            severity="fault" if touch else "notice",
            place=place,
            what=f"their pads ({first.pad.diameter_mm:g} and {second.pad.diameter_mm:g} mm) "
            + ("touch" if touch else f"pass each other at {apart:.2f} mm")
            + f"; {_PADS_CLEAR_MM:g} mm keeps them free",
            remedy="Move the keys apart along the part or round it, or use smaller pads.",
        )
    ]


def check_shoulders(wishes: FitWishes, part: Part, hole: ToneHole) -> list[Finding]:
    """A hole keeps its wall from shoulders, from the part's ends and from socket floors."""
    found = []
    surface = hole_surface(part, hole)
    grid_u, grid_v = np.meshgrid(np.linspace(0, 1, 9), np.linspace(0, 1, 145))
    stations = surface(grid_u.ravel(), grid_v.ravel())[:, 2]
    above = part.socket_top.depth_mm if part.socket_top else 0.0
    below = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
    limit = wishes.wall_between_holes_mm
    for wall, socket, tenon, end, way in (
        (float(stations.min()) - above, part.socket_top, part.tenon_top, "top", "down"),
        (below - float(stations.max()), part.socket_bottom, part.tenon_bottom, "bottom", "up"),
    ):
        if wall >= limit - EXACT_MM:
            continue
        feature = "socket's floor" if socket else "tenon's shoulder" if tenon else "part's end"
        found.append(
            Finding(
                severity="fault",
                place=f"{part.name}, hole {hole.name} and {end} {feature.split()[-1]}",
                what=(
                    f"the hole's edge is {wall:.2f} mm from the {feature} at the {end}"
                    if wall >= 0
                    else f"the hole reaches {-wall:.2f} mm beyond the {feature} at the {end}"
                )
                + f"; {limit:g} mm of wall is needed",
                remedy=f"Move the hole {way} by {limit - wall:.2f} mm, make it smaller"
                + (", or the socket and its tenon shorter." if socket else "."),
            )
        )
    return found


def check_posts(
    wishes: FitWishes, body: BodyFeatures, part: Part, posts: list[SurveyRow]
) -> list[Finding]:
    """Holes for posts keep off tone holes and leave wall over the bore.

    A shank cuts its thread out to its full diameter; an insert or a bond needs a wider hole.
    """
    if body.post_hole is PostHole.NONE:
        return []
    found = []
    what = {PostHole.INSERT: "insert", PostHole.BONDED: "bonded hole"}.get(body.post_hole, "shank")
    depth_mm = body.post_depth_mm
    for post in posts:
        radius = taken_diameter_mm(body, post.thread_mm or 0.0) / 2
        shank = post_surface(part, post, radius, depth_mm)
        limit = wishes.wall_between_holes_mm
        for hole in part.holes:
            along = abs(hole.station_mm - post.station_mm)
            if along - hole.mouth_diameter_mm / 2 - radius >= limit:
                continue
            wall = distance_mm(shank, hole_surface(part, hole), enough_mm=limit)
            if wall < limit - EXACT_MM:
                found.append(
                    Finding(
                        severity="fault",
                        place=f"{part.name}, hole {hole.name} and post '{post.name}'",
                        what=f"the wall between the hole and the post's {what} ({2 * radius:g} mm, "
                        f"{depth_mm:g} mm deep) is {wall:.2f} mm; {limit:g} mm is needed",
                        remedy="Move the hole, make it smaller, or ask for the post elsewhere.",
                    )
                )
        under = distance_mm(shank, inside_surface(part, post), enough_mm=_UNDER_POST_MM)
        if under < _UNDER_POST_MM - EXACT_MM:
            found.append(
                Finding(
                    severity="fault",
                    place=f"{part.name}, post '{post.name}' and bore",
                    what=f"a hole {depth_mm:g} mm deep leaves {under:.2f} mm of wall over the "
                    f"bore or socket; {_UNDER_POST_MM:g} mm is needed",
                    remedy="Use a smaller post_depth_mm with a shorter shank, or thicken the body "
                    "there.",
                )
            )
    return found


def check_joints(part: Part) -> list[Finding]:
    """Thin walls of tenons (under their cork) and of sockets."""
    found = []
    for end, tenon, socket in (
        ("top", part.tenon_top, part.socket_top),
        ("bottom", part.tenon_bottom, part.socket_bottom),
    ):
        shoulder, outwards = (0.0, -1.0) if end == "top" else (part.length_mm, 1.0)
        if tenon:
            margin = (tenon.length_mm - tenon.cork_length_mm) / 2
            grooved = tenon.cork_length_mm > 0
            reach = np.linspace(margin, tenon.length_mm - margin, 200)
            if not grooved:
                reach = np.linspace(0.0, tenon.length_mm, 200)
            outer = tenon.diameter_mm / 2 - (tenon.cork_depth_mm if grooved else 0.0)
            inner = float(bore_radius_mm(part, shoulder + outwards * reach).max())
            found += _joint(part, end, "tenon under its cork", outer - inner)
        if socket:
            reach = np.linspace(0.0, min(socket.depth_mm, part.length_mm), 200)
            outside = [
                part.outside_diameter_at(float(s), 1 if end == "top" else -1)
                for s in shoulder - outwards * reach
            ]
            found += _joint(part, end, "socket", (min(outside) - socket.diameter_mm) / 2)
    return found


def _joint(part: Part, end: str, feature: str, wall: float) -> list[Finding]:
    if wall >= _JOINT_WALL_MM - _EXACT:
        return []
    remedy = (
        "Make the socket narrower or the body wider there, or bond a ring round it."
        if feature == "socket"
        else "Make the tenon wider, its cork groove shallower or the bore narrower."
    )
    return [
        Finding(
            severity="notice",
            place=f"{part.name}, {end} {feature.split()[0]}",
            what=f"the wall of the {end} {feature} is {wall:.2f} mm; "
            f"{_JOINT_WALL_MM:g} mm is usual",
            remedy=remedy,
        )
    ]
