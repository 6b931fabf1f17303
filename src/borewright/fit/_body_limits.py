"""Limits between features: neighbouring holes and pads, posts, shoulders, joints."""

from __future__ import annotations

import itertools
import math

import numpy as np

from borewright.fit._post_walls import UNDER_POST_MM
from borewright.fit.bore_limits import WALL_MM
from borewright.fit.clearance import (
    EXACT_MM,
    bore_radius_mm,
    distance_mm,
    hole_surface,
    inside_radius_mm,
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
    Socket,
    SurveyRow,
    Tenon,
    ToneHole,
)
from borewright.model.kinds import Severity
from borewright.model.post_holes import taken_diameter_mm
from borewright.words import Message, Place, say

#: Pads nearer than this (mm) may touch once leather and play are counted; from memory.
_PADS_CLEAR_MM = 0.5
_EXACT = 1e-6


def check_neighbours(wishes: FitWishes, part: Part) -> list[Finding]:
    """Walls between holes, and pads that touch each other."""
    found = []
    for first, second in itertools.combinations(part.holes, 2):
        place = (
            part.name,
            say("holes {first} and {second}", first=first.name, second=second.name),
        )
        limit = wishes.wall_between_holes_mm
        along = abs(first.station_mm - second.station_mm)
        if along - (first.mouth_diameter_mm + second.mouth_diameter_mm) / 2 < limit:
            wall = distance_mm(
                hole_surface(part, first), hole_surface(part, second), enough_mm=limit
            )
            if wall < limit - EXACT_MM:
                found.append(
                    Finding(
                        severity=Severity.FAULT,
                        place=place,
                        what=say(
                            "the wall between them is {wall_mm:.2f} mm at its thinnest; "
                            "{limit_mm:g} mm is needed",
                            wall_mm=wall,
                            limit_mm=limit,
                        ),
                        remedy=say(
                            "Move one along the part or round it, or make one of them smaller."
                        ),
                    )
                )
        found += _check_pads(part, first, second, along, place)
    return found


def _check_pads(
    part: Part, first: ToneHole, second: ToneHole, along: float, place: Place
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
    if touch:
        what = say(
            "their pads ({first_mm:g} and {second_mm:g} mm) touch; {clear_mm:g} mm keeps them free",
            first_mm=first.pad.diameter_mm,
            second_mm=second.pad.diameter_mm,
            clear_mm=_PADS_CLEAR_MM,
        )
    else:
        what = say(
            "their pads ({first_mm:g} and {second_mm:g} mm) pass each other at {apart_mm:.2f} mm; "
            "{clear_mm:g} mm keeps them free",
            first_mm=first.pad.diameter_mm,
            second_mm=second.pad.diameter_mm,
            apart_mm=apart,
            clear_mm=_PADS_CLEAR_MM,
        )
    return [
        Finding(
            severity=Severity.FAULT if touch else Severity.NOTICE,
            place=place,
            what=what,
            remedy=say("Move the keys apart along the part or round it, or use smaller pads."),
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
    for wall, socket, tenon, is_top in (
        (float(stations.min()) - above, part.socket_top, part.tenon_top, True),
        (below - float(stations.max()), part.socket_bottom, part.tenon_bottom, False),
    ):
        if wall >= limit - EXACT_MM:
            continue
        found.append(
            Finding(
                severity=Severity.FAULT,
                place=(part.name, _near_end(hole, socket, tenon, is_top)),
                what=_too_near_end(wall, limit, _end_words(socket, tenon, is_top)),
                remedy=_away_from_end(limit - wall, is_top, bool(socket)),
            )
        )
    return found


def _end_words(socket: Socket | None, tenon: Tenon | None, is_top: bool) -> Message:
    if socket:
        return say("socket's floor at the top") if is_top else say("socket's floor at the bottom")
    if tenon:
        return (
            say("tenon's shoulder at the top") if is_top else say("tenon's shoulder at the bottom")
        )
    return say("part's end at the top") if is_top else say("part's end at the bottom")


def _near_end(hole: ToneHole, socket: Socket | None, tenon: Tenon | None, is_top: bool) -> Message:
    name = hole.name
    if socket:
        return (
            say("hole {hole} and top floor", hole=name)
            if is_top
            else say("hole {hole} and bottom floor", hole=name)
        )
    if tenon:
        return (
            say("hole {hole} and top shoulder", hole=name)
            if is_top
            else say("hole {hole} and bottom shoulder", hole=name)
        )
    return (
        say("hole {hole} and top end", hole=name)
        if is_top
        else say("hole {hole} and bottom end", hole=name)
    )


def _too_near_end(wall: float, limit: float, end: Message) -> Message:
    if wall >= 0:
        return say(
            "the hole's edge is {wall_mm:.2f} mm from the {end}; {limit_mm:g} mm of wall is needed",
            wall_mm=wall,
            end=end,
            limit_mm=limit,
        )
    return say(
        "the hole reaches {beyond_mm:.2f} mm beyond the {end}; {limit_mm:g} mm of wall is needed",
        beyond_mm=-wall,
        end=end,
        limit_mm=limit,
    )


def _away_from_end(by: float, is_top: bool, has_socket: bool) -> Message:
    if is_top and has_socket:
        return say(
            "Move the hole down by {by_mm:.2f} mm, make it smaller, or the socket and its tenon "
            "shorter.",
            by_mm=by,
        )
    if is_top:
        return say("Move the hole down by {by_mm:.2f} mm, make it smaller.", by_mm=by)
    if has_socket:
        return say(
            "Move the hole up by {by_mm:.2f} mm, make it smaller, or the socket and its tenon "
            "shorter.",
            by_mm=by,
        )
    return say("Move the hole up by {by_mm:.2f} mm, make it smaller.", by_mm=by)


def check_posts(
    wishes: FitWishes, body: BodyFeatures, part: Part, posts: list[SurveyRow]
) -> list[Finding]:
    """Holes for posts keep off tone holes and leave wall over the bore.

    A shank cuts its thread out to its full diameter; an insert or a bond needs a wider hole.
    """
    if body.post_hole is PostHole.NONE:
        return []
    found = []
    what = {PostHole.INSERT: say("insert"), PostHole.BONDED: say("bonded hole")}.get(
        body.post_hole, say("shank")
    )
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
                        severity=Severity.FAULT,
                        place=(
                            part.name,
                            say(
                                "hole {hole} and post '{post}'",
                                hole=hole.name,
                                post=post.name,
                            ),
                        ),
                        what=say(
                            "the wall between the hole and the post's {what} ({wide_mm:g} mm, "
                            "{deep_mm:g} mm deep) is {wall_mm:.2f} mm; {limit_mm:g} mm is needed",
                            what=what,
                            wide_mm=2 * radius,
                            deep_mm=depth_mm,
                            wall_mm=wall,
                            limit_mm=limit,
                        ),
                        remedy=say(
                            "Move the hole, make it smaller, or ask for the post elsewhere."
                        ),
                    )
                )
        under = under_post_mm(body, part, post)
        if under < UNDER_POST_MM - EXACT_MM:
            found.append(
                Finding(
                    severity=Severity.FAULT,
                    place=(part.name, say("post '{post}' and bore", post=post.name)),
                    what=say(
                        "a hole {deep_mm:g} mm deep leaves {wall_mm:.2f} mm of wall over the "
                        "bore or socket; {limit_mm:g} mm is needed",
                        deep_mm=depth_mm,
                        wall_mm=under,
                        limit_mm=UNDER_POST_MM,
                    ),
                    remedy=say(
                        "Use a smaller post_depth_mm with a shorter shank, or thicken the body "
                        "there."
                    ),
                )
            )
    return found


def under_post_mm(body: BodyFeatures, part: Part, post: SurveyRow) -> float:
    """Wall (mm) between a post's hole and the bore or socket, right where it is too little."""
    if body.post_hole is PostHole.NONE:
        return math.inf
    radius = taken_diameter_mm(body, post.thread_mm or 0.0) / 2
    sure = _surely_under_mm(body, part, post, radius + UNDER_POST_MM)
    if sure >= UNDER_POST_MM:
        return sure
    shank = post_surface(part, post, radius, body.post_depth_mm)
    return distance_mm(shank, inside_surface(part, post), enough_mm=UNDER_POST_MM)


def _surely_under_mm(body: BodyFeatures, part: Part, post: SurveyRow, reach_mm: float) -> float:
    """A wall (mm) that a post's hole has at least, as far along the bore as anything is near."""
    floor = part.outside_diameter_at(post.station_mm) / 2 - body.post_depth_mm
    edges = [station for station, _ in part.bore if abs(station - post.station_mm) <= reach_mm]
    near = np.concatenate([post.station_mm + np.linspace(-reach_mm, reach_mm, 41), edges])
    return floor - float(np.max(inside_radius_mm(part, np.clip(near, 0.0, part.length_mm))))


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
            inner = float(bore_radius_mm(part, shoulder + outwards * reach).max())
            found += _joint(part, end == "top", True, tenon.core_mm / 2 - inner)
        if socket:
            reach = np.linspace(0.0, min(socket.depth_mm, part.length_mm), 200)
            outside = [
                part.outside_diameter_at(float(s), 1 if end == "top" else -1)
                for s in shoulder - outwards * reach
            ]
            wall = (min(outside) - socket.diameter_mm) / 2
            found += _joint(part, end == "top", False, wall)
    return found


def _joint(part: Part, is_top: bool, is_tenon: bool, wall: float) -> list[Finding]:
    if wall >= WALL_MM - _EXACT:
        return []
    where, feature = {
        (True, True): (say("top tenon"), say("top tenon under its cork")),
        (False, True): (say("bottom tenon"), say("bottom tenon under its cork")),
        (True, False): (say("top socket"), say("top socket")),
        (False, False): (say("bottom socket"), say("bottom socket")),
    }[is_top, is_tenon]
    if is_tenon:
        remedy = say("Make the tenon wider, its cork groove shallower or the bore narrower.")
    else:
        remedy = say("Make the socket narrower or the body wider there, or bond a ring round it.")
    return [
        Finding(
            severity=Severity.NOTICE,
            place=(part.name, where),
            what=say(
                "the wall of the {feature} is {wall_mm:.2f} mm; {usual_mm:g} mm is usual",
                feature=feature,
                wall_mm=wall,
                usual_mm=WALL_MM,
            ),
            remedy=remedy,
        )
    ]
