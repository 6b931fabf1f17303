"""Keywork against body in three dimensions: what a survey and the solid body must agree on.

Windows, pads' overlap and neighbouring holes are the affair of ``borewright check``; here
are the things that only the made body shows: seats' height and angle, posts' bases, pads and
posts in each other's way, and the walls between all hollows.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from borewright.model import (
    Cover,
    Finding,
    Instrument,
    KeyworkSurvey,
    Part,
    Severity,
    SurveyItem,
    SurveyRow,
    ToneHole,
)
from borewright.printing.profiles import MaterialProfile
from borewright.printing.walls import wall_findings
from borewright.solids import Pin, PostPlan, pads_and_posts, plan_posts
from borewright.words import say

#: A pad's cup may be tilted by so much before the pad leaks on one side (degrees; memory).
TILT_DEG = 2.0
#: How far a key can be bent up or down to meet its seat (mm; from memory).
BEND_MM = 0.5
#: Rings, pressed down, stand level with the chimney or so much above it (mm; from memory).
FLUSH_MM = 0.3
#: Air between a moving pad or ring and anything else (mm; from memory).
AIR_MM = 0.5


def assembly_findings(
    instrument: Instrument, survey: KeyworkSurvey, material: MaterialProfile
) -> list[Finding]:
    """Everything that keeps this keywork from going on this body, faults first.

    Every finding names both features and the distance or angle.
    """
    posts = plan_posts(instrument, survey)
    findings: list[Finding] = []
    for part in instrument.parts:
        findings += wall_findings(instrument, part, material, posts)
        for hole in part.holes:
            row = survey.for_hole(hole.name)
            if row is not None:
                findings += _seat(part, hole, row)
    findings += _posts_apart(posts)
    findings += _in_the_way(instrument, posts)
    return sorted(findings, key=lambda finding: finding.severity is not Severity.FAULT)


def _seat(part: Part, hole: ToneHole, row: SurveyRow) -> list[Finding]:
    """A cup meets its seat square, and at the height that the key was made for."""
    found = []
    place = (say("part '{part}'", part=part.name), say("hole '{hole}'", hole=hole.name))
    rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
    turn = abs((row.bearing_deg - hole.bearing_deg + 180) % 360 - 180)
    aside = 2 * rim * math.sin(math.radians(turn) / 2)
    if row.item is SurveyItem.CUP and turn > TILT_DEG:
        found.append(
            Finding(
                severity=Severity.FAULT,
                place=place,
                what=say(
                    "the cup '{row}' meets its seat {turn_deg:.1f}° askew and {aside_mm:.2f} mm "
                    "aside; up to {most_deg:g}° can be bent",
                    row=row.name,
                    turn_deg=turn,
                    aside_mm=aside,
                    most_deg=TILT_DEG,
                ),
                remedy=say("Turn the hole to the cup's bearing, or correct the survey."),
            )
        )
    if row.item is SurveyItem.CUP and row.seat_from_axis_mm is not None:
        gap = rim - row.seat_from_axis_mm
        if abs(gap) > BEND_MM:
            seat = {
                "gap_mm": abs(gap), "row": row.name, "rim_mm": rim, "pad_mm": row.seat_from_axis_mm,
            }  # fmt: skip
            found.append(
                Finding(
                    severity=Severity.FAULT,
                    place=place,
                    what=say(
                        "the seat stands {gap_mm:.2f} mm too high for the cup '{row}' "
                        "({rim_mm:.2f} mm from the axis, the pad's face {pad_mm:.2f})",
                        **seat,
                    )
                    if gap > 0
                    else say(
                        "the seat stands {gap_mm:.2f} mm too low for the cup '{row}' "
                        "({rim_mm:.2f} mm from the axis, the pad's face {pad_mm:.2f})",
                        **seat,
                    ),
                    remedy=say("Change chimney_mm by {by_mm:+.2f}, or bend the key.", by_mm=-gap),
                )
            )
    if row.item is SurveyItem.RING and row.ring_inside_mm and hole.cover is Cover.RING:
        air = row.ring_inside_mm / 2 - hole.diameter_mm / 2 - aside
        if air < AIR_MM:
            found.append(
                Finding(
                    severity=Severity.FAULT,
                    place=place,
                    what=say(
                        "the ring '{row}' clears the hole's edge by {air_mm:.2f} mm on one "
                        "side; the chimney inside it has no room",
                        row=row.name,
                        air_mm=air,
                    ),
                    remedy=say("Make the hole smaller, or turn it to the ring's bearing."),
                )
            )
        if row.seat_from_axis_mm is not None:
            below = row.seat_from_axis_mm - rim
            if not -0.05 <= below <= FLUSH_MM + 0.05:
                ring = {"row": row.name, "off_mm": abs(below), "flush_mm": FLUSH_MM}
                found.append(
                    Finding(
                        severity=Severity.FAULT,
                        place=place,
                        what=say(
                            "the ring '{row}', pressed down, ends {off_mm:.2f} mm above the "
                            "chimney's rim; flush to {flush_mm:g} mm above it is right",
                            **ring,
                        )
                        if below > 0
                        else say(
                            "the ring '{row}', pressed down, ends {off_mm:.2f} mm below the "
                            "chimney's rim; flush to {flush_mm:g} mm above it is right",
                            **ring,
                        ),
                        remedy=say(
                            "Change chimney_mm by {by_mm:+.2f}, or the ring's stop.", by_mm=below
                        ),
                    )
                )
    return found


def _posts_apart(posts: Sequence[PostPlan]) -> list[Finding]:
    found = []
    for one, other in itertools.combinations(posts, 2):
        if one.part != other.part:
            continue
        turn = math.radians((one.bearing_deg - other.bearing_deg + 180) % 360 - 180)
        level = min(one.base_mm, other.base_mm)
        apart = math.hypot(2 * level * math.sin(turn / 2), one.station_mm - other.station_mm)
        gap = apart - (one.base_across_mm + other.base_across_mm) / 2
        if gap < 0:
            found.append(
                Finding(
                    severity=Severity.FAULT,
                    place=say("part '{part}'", part=one.part),
                    what=say(
                        "the bases of posts '{post}' and '{other_post}' overlap by "
                        "{overlap_mm:.2f} mm",
                        post=one.name,
                        other_post=other.name,
                        overlap_mm=-gap,
                    ),
                    remedy=say("Measure both posts again, or use a smaller post_base_mm."),
                )
            )
    return found


def _in_the_way(instrument: Instrument, posts: Sequence[PostPlan]) -> list[Finding]:
    """Pads against posts: two radial cylinders closer than a key's play."""
    pins = pads_and_posts(instrument, posts)
    lifts = {hole.name: hole.pad.lift_mm for _, hole, _ in instrument.placed_holes() if hole.pad}
    found = []
    for pad in (pin for pin in pins if pin.kind == "pad"):
        for post in (pin for pin in pins if pin.kind == "post"):
            gap = _gap(pad, post, lifts[pad.name])
            if gap < AIR_MM:
                both = {"pad": pad.words, "post": post.words}
                found.append(
                    Finding(
                        severity=Severity.FAULT,
                        place=say("{pad} and {post}", **both),
                        what=say(
                            "between the {pad} and the {post} there is {gap_mm:.2f} mm of air; "
                            "{least_mm:g} mm is needed for the key to move",
                            **both,
                            gap_mm=gap,
                            least_mm=AIR_MM,
                        )
                        if gap > 0
                        else say(
                            "between the {pad} and the {post} there is an overlap of "
                            "{overlap_mm:.2f} mm; {least_mm:g} mm is needed for the key to move",
                            **both,
                            overlap_mm=-gap,
                            least_mm=AIR_MM,
                        ),
                        remedy=say("Measure the post's place again, or use a smaller pad."),
                    )
                )
    return found


def _gap(pad: Pin, post: Pin, lift: float) -> float:
    """Air (mm) between a pad's way and a post, measured at the height where they are nearest."""
    turn = math.radians((pad.bearing_deg - post.bearing_deg + 180) % 360 - 180)
    if abs(turn) > math.pi / 3 or abs(pad.station_mm - post.station_mm) > 30:
        return math.inf
    low, high = max(pad.low_mm - lift, post.low_mm), min(pad.high_mm + lift, post.high_mm)
    if low >= high:
        return math.inf
    # Radial axes spread outwards: the lowest shared height is the narrowest.
    apart = math.hypot(2 * low * math.sin(turn / 2), pad.station_mm - post.station_mm)
    return apart - pad.radius_mm - post.radius_mm
