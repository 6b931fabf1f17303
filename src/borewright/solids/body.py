"""A printable part as one B-rep solid."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from borewright.errors import SolidsError
from borewright.model import Finding, Instrument, Part, Severity, ToneHole
from borewright.solids._attachments import (
    check_attachments,
    mark_tools,
    post_tools,
    rest_tools,
)
from borewright.solids._conflicts import check_conflicts
from borewright.solids._joints import check_joints
from borewright.solids._marking import marking_text, place_text, text_tools
from borewright.solids._plan import HolePlan, plan_hole
from borewright.solids._profiles import inside_outline, lengthened, outside_outline
from borewright.solids.posts import PostPlan
from borewright.words import say

if TYPE_CHECKING:
    from build123d import Solid

    from borewright.solids._kernel import Tool


#: Where the body's seam is tried (degrees from the quietest bearing).
_SEAM_TURNS_DEG = (0.0, 20.0, -20.0)


def part_body(
    instrument: Instrument,
    part_name: str,
    posts: Sequence[PostPlan] = (),
    lifts_mm: Mapping[str, float] | None = None,
) -> Solid:
    """The solid of a part as it is to be made: the dimensions given, nothing compensated.

    The part stands on the z axis with its top shoulder at z = 0 and z growing downwards to
    the bell, front at -y; see :func:`borewright.solids.bearing_direction`. Tenons reach
    beyond the shoulders. Every hole's tube has the height that the model derives
    (``Part.tube_height_mm``) on its centre line: chimneys and seats end in a flat plane at
    the rim, a finger hole without chimney is drilled through the body as it is. Seats, edges,
    posts and marks follow the instrument's ``body`` table and leave all that untouched.

    Parameters
    ----------
    instrument
        The instrument; its ``fit.chimney_wall_mm`` is the wall of chimneys and linings.
    part_name
        Which part.
    posts
        Posts of the keywork, as :func:`plan_posts` gives them; those of other parts are
        passed over.
    lifts_mm
        By how much (mm) the hollow of a hole is longer along the body than across it, by the
        hole's name (negative: longer across); other holes are round.

    Raises
    ------
    SolidsError
        If there is no such part, if features would destroy each other, or if the kernel
        fails; the message names part, hole, the value tried and what to try next.
    """
    try:
        part = instrument.part(part_name)
    except KeyError as error:
        raise SolidsError(
            say("there is no part '{part}'", part=part_name),
            place=say("'{instrument}'", instrument=instrument.name),
            remedy=say("Parts are: {parts}.", parts=", ".join(p.name for p in instrument.parts)),
        ) from error
    check_joints(part)
    plans = plan_holes(instrument, part)
    check_conflicts(part, plans)
    own = [post for post in posts if post.part == part.name]
    check_attachments(part, instrument.body, plans, own)
    return _build(instrument, part, plans, own, lifts_mm or {})


def feature_findings(instrument: Instrument, posts: Sequence[PostPlan] = ()) -> list[Finding]:
    """What the bodies will be without: text that finds no room beside holes and posts."""
    findings = []
    for part in instrument.parts:
        own = [post for post in posts if post.part == part.name]
        text = marking_text(instrument)
        if text and place_text(instrument, part, plan_holes(instrument, part), own) is None:
            findings.append(
                Finding(
                    severity=Severity.NOTICE,
                    place=say("part '{part}'", part=part.name),
                    what=say("the text '{text}' finds no room and is left out", text=text),
                    remedy=say(
                        "Use a smaller text_height_mm in [body], or a shorter serial number."
                    ),
                )
            )
    return findings


def body_volume_mm3(body: Solid) -> float:
    """Volume (mm³) of a body to about a millionth, integrated to that error.

    The kernel's own quick integral is off by up to 0.1 mm³ on a joint, and differently for
    every bearing of the same hole.
    """
    from borewright.solids import _kernel

    return _kernel.volume_mm3(body)


def plan_holes(instrument: Instrument, part: Part) -> list[HolePlan]:
    """Outlines of all holes of a part (private to this room)."""
    far = far_mm(part)
    return [
        plan_hole(
            part,
            hole,
            wall_mm=instrument.fit.chimney_wall_mm,
            far_mm=far,
            room_mm=_room_around(part, hole),
            features=instrument.body,
        )
        for hole in part.holes
    ]


def far_mm(part: Part) -> float:
    """A distance (mm) from the axis beyond everything that stands on a part."""
    far = max(radius for radius, _ in outside_outline(part)) + 2.0
    far += part.thumb_rest.boss_mm if part.thumb_rest else 0.0
    return far + max([hole.chimney_mm for hole in part.holes] + [0.0])


def _room_around(part: Part, hole: ToneHole) -> float:
    """Distance (mm) along the outside from a hole's centre to the next hole or end."""
    room = min(hole.station_mm, part.length_mm - hole.station_mm)
    for other in part.holes:
        if other is not hole:
            turn = abs((other.bearing_deg - hole.bearing_deg + 180) % 360 - 180)
            girth = math.radians(turn) * part.outside_diameter_at(hole.station_mm) / 2
            apart = math.hypot(other.station_mm - hole.station_mm, girth)
            room = min(room, apart - other.diameter_mm / 2)
    return room


def _build(
    instrument: Instrument,
    part: Part,
    plans: list[HolePlan],
    posts: Sequence[PostPlan],
    lifts_mm: Mapping[str, float],
) -> Solid:
    quiet = _quiet_bearing(part)
    failures = []
    # Nearly tangent cuts succeed or fail with where the body's seam runs: try beside it too.
    for turn in _SEAM_TURNS_DEG:
        try:
            return _built(instrument, part, plans, posts, lifts_mm, quiet + turn)
        except SolidsError as error:
            failures.append(error)
    raise failures[0]


def _built(
    instrument: Instrument,
    part: Part,
    plans: list[HolePlan],
    posts: Sequence[PostPlan],
    lifts_mm: Mapping[str, float],
    seam: float,
) -> Solid:
    from borewright.solids import _kernel

    place = (say("part '{part}'", part=part.name),)
    features = instrument.body
    try:
        body = _kernel.round_body(outside_outline(part, features), seam)
        bore = _kernel.round_body(lengthened(inside_outline(part, features)), seam)
    except Exception as error:  # the kernel's failures share no base class
        raise SolidsError(
            say("the kernel could not revolve the outside or the bore ({why})", why=str(error)),
            place=place,
            remedy=say("Look for profile points that lie on top of each other or cross."),
        ) from error
    far = far_mm(part) + features.post_boss_height_mm
    post_bosses, post_cuts = post_tools(part, posts, far)
    rest_bosses, rest_cuts = rest_tools(part, far)
    spot = place_text(instrument, part, plans, posts)
    # Letters first: the plain round body is where the kernel cuts them best.
    if spot:
        body = _kernel.applied(body, text_tools(instrument, part, spot), "cut")
    bosses = [*rest_bosses, *post_bosses, *_tools(part, plans, "boss")]
    body = _kernel.applied(body, bosses, "fuse")
    cuts = [*_tools(part, plans, "seat"), *rest_cuts, *post_cuts]
    cuts += mark_tools(part, features, far)
    body = _kernel.applied(body, cuts, "cut")
    through = _kernel.Tool(
        bore,
        (0.0, 0.0, part.length_mm / 2),
        place,
        say("the bore"),
        say("Look for a bore that meets the outside."),
    )
    body = _kernel.applied(body, [through], "cut")
    body = _kernel.applied(body, _tools(part, plans, "lining"), "fuse")
    body = _kernel.applied(body, _tools(part, plans, "air", lifts_mm), "cut")
    body.label = part.name
    return body


def _tools(
    part: Part,
    plans: list[HolePlan],
    feature: Literal["boss", "seat", "lining", "air"],
    lifts_mm: Mapping[str, float] | None = None,
) -> list[Tool]:
    from borewright.solids import _kernel

    tools = []
    for plan in plans:
        outline = getattr(plan, feature)
        if outline is None:
            continue
        hole = plan.hole
        tried, remedy = {
            "boss": (
                say("the chimney with its rim {rim_mm:.3f} mm from the axis", rim_mm=plan.rim_mm),
                say("Try a chimney_mm a little off {chimney_mm:g}.", chimney_mm=hole.chimney_mm),
            ),
            "seat": (
                say(
                    "the seat {across_mm:.2f} mm across at chimney_mm {chimney_mm:g}",
                    across_mm=2 * plan.seat_radius_mm,
                    chimney_mm=hole.chimney_mm,
                ),
                say("Try a pad diameter or chimney_mm a little larger or smaller."),
            ),
            "lining": (
                say(
                    "the lining tube standing {into_bore_mm:g} mm into the bore",
                    into_bore_mm=hole.into_bore_mm,
                ),
                say("Try an into_bore_mm a little larger, or 0."),
            ),
            "air": (
                say("the hole of {diameter_mm:g} mm", diameter_mm=hole.diameter_mm),
                say(
                    "Try a diameter or station a little off {station_mm:g}, or a smaller undercut.",
                    station_mm=hole.station_mm,
                ),
            ),
        }[feature]
        tools.append(
            _kernel.Tool(
                _kernel.long_tool(outline, hole, (lifts_mm or {}).get(hole.name, 0.0)),
                _kernel.beside_hole(hole, plan.witness(feature)),
                (say("part '{part}'", part=part.name), say("hole '{hole}'", hole=hole.name)),
                tried,
                remedy,
            )
        )
    return tools


def _quiet_bearing(part: Part) -> float:
    """A bearing for the body's seam far from any hole: edges on a seam strain the kernel."""
    bearings = [hole.bearing_deg for hole in part.holes]
    bearings += [part.thumb_rest.bearing_deg] if part.thumb_rest else []
    taken = sorted(bearing % 360 for bearing in bearings)
    if not taken:
        return 0.0
    gaps = [
        (after - before, before)
        for before, after in zip(taken, [*taken[1:], taken[0] + 360], strict=True)
    ]
    width, start = max(gaps)
    return (start + width / 2 + 180) % 360 - 180
