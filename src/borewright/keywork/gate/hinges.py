"""Hinges and posts against the body: in line, with end play, in the wall, clear of holes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from borewright.keywork.body import Body
from borewright.keywork.distances import Capsules, gap_mm
from borewright.keywork.gate.checks import Check, KeyFinding, found, may_be_off_mm
from borewright.keywork.gate.limits import Limits
from borewright.keywork.hinges import end_play_mm, head_off_line_mm
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.standing import Elsewhere, moved_along
from borewright.model import Severity
from borewright.model.keys import Cup, Hinge, Post, Ring
from borewright.model.post_holes import taken_diameter_mm
from borewright.words import joined, say

#: Steps (mm) in which a better place for a post is looked for.
STEP_MM = 0.25
#: How far below a cup or ring a post may start (mm): the body's round falls away beside it.
_BELOW_MM = 8.0


def hinge_findings(mechanism: Mechanism, body: Body, limits: Limits) -> list[KeyFinding]:
    """Heads off the hinge's line, and end play that rattles or binds."""
    findings: list[KeyFinding] = []
    hinges: dict[str, list[Hinge]] = {}
    for hinge in mechanism.keys.of(Hinge):
        hinges.setdefault(hinge.hinge, []).append(hinge)
    for name, tubes in hinges.items():
        posts = mechanism.keys.posts_of(name)
        findings += _line(mechanism, tubes, posts, limits)
        findings += _play(mechanism, tubes, posts, limits)
    return findings


def _line(
    mechanism: Mechanism, tubes: list[Hinge], posts: list[Post], limits: Limits
) -> Iterator[KeyFinding]:
    for tube in tubes:
        for post in posts:
            off = head_off_line_mm(mechanism, tube, post)
            allowed = may_be_off_mm(limits.head_off_mm, tube, post)
            if off > allowed:
                yield found(
                    Check.HINGE_OUT_OF_LINE,
                    Severity.FAULT,
                    post,
                    say(
                        "its head stands {off_mm:.2f} mm off the line of hinge '{hinge}': the key "
                        "'{key}' binds",
                        off_mm=off,
                        hinge=tube.hinge,
                        key=tube.key,
                    ),
                    say("Move the post, or make it higher or lower, until its head is in line."),
                    value=off,
                    limit=allowed,
                    others=(tube.name,),
                )


def _play(
    mechanism: Mechanism, tubes: list[Hinge], posts: list[Post], limits: Limits
) -> Iterator[KeyFinding]:
    play = end_play_mm(mechanism, tubes, posts)
    low, high = limits.end_play_mm
    more = 2 * sum((each.uncertainty_mm or 0.0) for each in (*tubes, *posts))
    others = tuple(post.name for post in posts)
    if play < low - more:
        binds = play <= 0
        what = (
            say(
                "between its posts the tube has {play_mm:.3f} mm of end play: it does not go in",
                play_mm=play,
            )
            if binds
            else say(
                "between its posts the tube has only {play_mm:.3f} mm of end play", play_mm=play
            )
        )
        yield found(
            Check.END_PLAY,
            Severity.FAULT if binds else Severity.NOTICE,
            tubes[0],
            what,
            say("Set the posts 0.02 to 0.05 mm wider than the tube."),
            value=play,
            limit=low,
            others=others,
        )
    elif play > high + more:
        yield found(
            Check.END_PLAY,
            Severity.FAULT if play > limits.worst_play_mm + more else Severity.NOTICE,
            tubes[0],
            say(
                "between its posts the tube has {play_mm:.2f} mm of end play: the key rattles and "
                "its pad wanders",
                play_mm=play,
            ),
            say("Set the posts 0.02 to 0.05 mm wider than the tube."),
            value=play,
            limit=high,
            others=others,
        )


def post_findings(mechanism: Mechanism, body: Body, limits: Limits) -> list[KeyFinding]:
    """Posts off the body's surface, through the wall, in a hole, or below a ring or pad.

    Where a post cannot stand, the nearest place along its hinge that would do is told.
    """
    findings: list[KeyFinding] = []
    for post in mechanism.keys.of(Post):
        findings += _foot(mechanism, body, post, limits)
        where = mechanism.points[post.name]
        conflicts = list(_conflicts(mechanism, body, post, where, limits))
        if conflicts:
            place = nearest_place(mechanism, body, post, limits)
            findings += [_with_place(finding, place) for finding in conflicts]
    return findings


def nearest_place(
    mechanism: Mechanism, body: Body, post: Post, limits: Limits, *, within_mm: float = 15.0
) -> Elsewhere | None:
    """The nearest place along its hinge where a post conflicts with nothing; None if too far."""
    for step in range(1, int(within_mm / STEP_MM) + 1):
        for along in (step * STEP_MM, -step * STEP_MM):
            there = moved_along(mechanism, body, post, along)
            where = np.stack([mechanism.placed_at(there, 1), mechanism.placed_at(there, 2)])
            on_part = 0 <= there.first.station_mm <= body.instrument.part(post.part).length_mm
            if on_part and next(_conflicts(mechanism, body, there, where, limits), None) is None:
                return Elsewhere(along, there.first.station_mm, there.first.bearing_deg)
    return None


def _with_place(finding: KeyFinding, place: Elsewhere | None) -> KeyFinding:
    if place is None:
        return finding
    nearest = say(
        "The nearest place along its hinge that would do is station {station_mm:.2f} mm, bearing "
        "{bearing_deg:.1f}°, {along_mm:.2f} mm away; the tube changes as much.",
        station_mm=place.station_mm,
        bearing_deg=place.bearing_deg,
        along_mm=abs(place.along_mm),
    )
    return finding.model_copy(update={"remedy": joined([finding.remedy, nearest])})


def _conflicts(
    mechanism: Mechanism, body: Body, post: Post, where: np.ndarray, limits: Limits
) -> Iterator[KeyFinding]:
    """What a post standing ``where`` (foot and head, shape (2, 3)) is in the way of."""
    yield from _wall(body, post, where, limits)
    yield from _end(body, post, where, limits)
    yield from _holes(body, post, where, limits)
    yield from _below(mechanism, post, where, limits)


def _foot(mechanism: Mechanism, body: Body, post: Post, limits: Limits) -> Iterator[KeyFinding]:
    foot = mechanism.points[post.name][0]
    off = float(np.hypot(foot[1], foot[2]) - body.outside_mm(foot[0]))
    allowed = may_be_off_mm(limits.foot_off_mm, post)
    part = body.instrument.part(post.part)
    if not 0 <= post.first.station_mm <= part.length_mm:
        yield found(
            Check.POST_FOOT,
            Severity.FAULT,
            post,
            say(
                "its foot at station {station_mm:.1f} mm is beyond '{part}', which is "
                "{length_mm:g} mm long",
                station_mm=post.first.station_mm,
                part=post.part,
                length_mm=part.length_mm,
            ),
            say("Correct the station or the part."),
            value=post.first.station_mm,
            limit=part.length_mm,
        )
    elif abs(off) > allowed:
        what = (
            say("its foot stands {off_mm:.2f} mm above the body", off_mm=off)
            if off > 0
            else say("its foot lies {off_mm:.2f} mm inside the body", off_mm=-off)
        )
        yield found(
            Check.POST_FOOT,
            Severity.FAULT,
            post,
            what,
            say("Set its foot's height to the body's outside there, or take a longer post."),
            value=abs(off),
            limit=allowed,
        )


def _shank(body: Body, post: Post, where: np.ndarray) -> Capsules:
    """The hole that a post's shank needs: its centre line inside the body, and half its width."""
    foot, head = where
    down = (foot - head) / np.linalg.norm(foot - head)
    features = body.instrument.body
    radius = taken_diameter_mm(features, post.thread_mm) / 2
    return Capsules(foot[None], (foot + down * features.post_depth_mm)[None], np.array([radius]))


def _wall(body: Body, post: Post, where: np.ndarray, limits: Limits) -> Iterator[KeyFinding]:
    shank = _shank(body, post, where)
    if not shank.radii[0]:
        return
    end = shank.ends[0]
    wall = float(np.hypot(end[1], end[2]) - body.inside_mm(post.part, end[0]))
    if wall < limits.post_wall_mm:
        depth = body.instrument.body.post_depth_mm
        yield found(
            Check.POST_WALL,
            Severity.FAULT,
            post,
            say(
                "below its hole, {depth_mm:g} mm deep, {wall_mm:.2f} mm of wall is left to the "
                "bore or socket; {limit_mm:g} mm is needed",
                depth_mm=depth,
                wall_mm=wall,
                limit_mm=limits.post_wall_mm,
            ),
            say("Use a smaller post_depth_mm in [body], or move the post."),
            value=wall,
            limit=limits.post_wall_mm,
        )


def _end(body: Body, post: Post, where: np.ndarray, limits: Limits) -> Iterator[KeyFinding]:
    """A post on the line where two parts, or two pieces of one, meet."""
    shank = _shank(body, post, where)
    part = body.instrument.part(post.part)
    station = float(where[0, 0]) - body.offset_mm[post.part]
    if not 0 <= station <= part.length_mm or not shank.radii[0]:
        return
    edge = min(station, part.length_mm - station) - float(shank.radii[0])
    if edge < limits.post_to_end_mm:
        yield found(
            Check.POST_ON_JOINT,
            Severity.FAULT,
            post,
            say(
                "its hole's edge lies {edge_mm:.2f} mm from the end of '{part}', which breaks out; "
                "{limit_mm:g} mm is needed",
                edge_mm=edge,
                part=post.part,
                limit_mm=limits.post_to_end_mm,
            ),
            say("Move the post, or cut the part elsewhere."),
            value=edge,
            limit=limits.post_to_end_mm,
        )


def _holes(body: Body, post: Post, where: np.ndarray, limits: Limits) -> Iterator[KeyFinding]:
    shank = _shank(body, post, where)
    foot, head = where
    stem = Capsules(foot[None], head[None], np.array([post.head_mm / 2]))
    for name, rim in body.rims.items():
        if rim.part != post.part:
            continue
        start, end = rim.tube
        tube = Capsules(start[None], end[None], np.array([rim.hole.diameter_mm / 2]))
        wall = gap_mm(shank, tube)
        seat = Capsules(end[None], end[None], np.array([rim.hole.diameter_mm / 2 + rim.wall_mm]))
        if wall < limits.post_to_hole_mm or gap_mm(stem, seat) < 0:
            yield found(
                Check.POST_IN_HOLE,
                Severity.FAULT,
                post,
                say(
                    "its hole leaves {wall_mm:.2f} mm of wall to hole '{hole}'; {limit_mm:g} mm "
                    "is needed",
                    wall_mm=wall,
                    hole=name,
                    limit_mm=limits.post_to_hole_mm,
                ),
                say("Move the post or the hole."),
                value=wall,
                limit=limits.post_to_hole_mm,
                others=(name,),
            )


def _below(
    mechanism: Mechanism, post: Post, where: np.ndarray, limits: Limits
) -> Iterator[KeyFinding]:
    stem = Capsules(where[:1], where[1:], np.array([post.head_mm / 2]))
    for element in mechanism.keys.elements:
        if not isinstance(element, Cup | Ring):
            continue
        foot, top = mechanism.points[element.name]
        if np.linalg.norm(foot - where[0]) > 40:
            continue
        # The whole of what moves over it: a disc as wide as cup or ring, all of them shut.
        axis = (top - foot) / np.linalg.norm(top - foot)
        air = _disc_air_mm(stem, foot, axis, element.outside_mm / 2)
        if air < limits.parts_air_mm:
            yield found(
                Check.POST_UNDER_RING,
                Severity.FAULT,
                post,
                say(
                    "it stands {air_mm:.2f} mm from the {element} '{name}' over hole '{hole}'; "
                    "{limit_mm:g} mm is needed",
                    air_mm=air,
                    element=element.kind,
                    name=element.name,
                    hole=element.hole,
                    limit_mm=limits.parts_air_mm,
                ),
                say("Move the post: nothing may stand where the key comes down."),
                value=air,
                limit=limits.parts_air_mm,
                others=(element.name,),
            )


def _disc_air_mm(stem: Capsules, centre: np.ndarray, axis: np.ndarray, radius: float) -> float:
    """Air (mm) between a post and a disc, or the space below it down to the body."""
    share = np.linspace(0.0, 1.0, 41)[:, None]
    points = stem.starts[0] + share * (stem.ends[0] - stem.starts[0])
    off = points - centre
    along = off @ axis
    aside = np.linalg.norm(off - along[:, None] * axis, axis=1)
    # Above the disc a post may stand beside it only; what is lower than the disc is in its way.
    beside = aside - radius
    air = np.where(along > 0, np.hypot(np.maximum(beside, 0.0), along), beside)
    # The far side of the body is no place below the disc.
    near = along > -_BELOW_MM
    return float(air[near].min() - stem.radii[0]) if near.any() else np.inf
