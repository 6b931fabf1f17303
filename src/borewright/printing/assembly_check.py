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
    SurveyItem,
    SurveyRow,
    ToneHole,
)
from borewright.printing.profiles import MaterialProfile
from borewright.printing.walls import wall_findings
from borewright.solids import Pin, PostPlan, pads_and_posts, plan_posts

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
    return sorted(findings, key=lambda finding: finding.severity != "fault")


def _seat(part: Part, hole: ToneHole, row: SurveyRow) -> list[Finding]:
    """A cup meets its seat square, and at the height that the key was made for."""
    found = []
    place = f"part '{part.name}', hole '{hole.name}'"
    rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
    turn = abs((row.bearing_deg - hole.bearing_deg + 180) % 360 - 180)
    aside = 2 * rim * math.sin(math.radians(turn) / 2)
    if row.item is SurveyItem.CUP and turn > TILT_DEG:
        found.append(
            Finding(
                severity="fault",
                place=place,
                what=f"the cup '{row.name}' meets its seat {turn:.1f}° askew and {aside:.2f} mm "
                f"aside; up to {TILT_DEG:g}° can be bent",
                remedy="Turn the hole to the cup's bearing, or correct the survey.",
            )
        )
    if row.item is SurveyItem.CUP and row.seat_from_axis_mm is not None:
        gap = rim - row.seat_from_axis_mm
        if abs(gap) > BEND_MM:
            found.append(
                Finding(
                    severity="fault",
                    place=place,
                    what=f"the seat stands {abs(gap):.2f} mm too {'high' if gap > 0 else 'low'} "
                    f"for the cup '{row.name}' ({rim:.2f} mm from the axis, the pad's face "
                    f"{row.seat_from_axis_mm:.2f})",
                    remedy=f"Change chimney_mm by {-gap:+.2f}, or bend the key.",
                )
            )
    if row.item is SurveyItem.RING and row.ring_inside_mm and hole.cover is Cover.RING:
        air = row.ring_inside_mm / 2 - hole.diameter_mm / 2 - aside
        if air < AIR_MM:
            found.append(
                Finding(
                    severity="fault",
                    place=place,
                    what=f"the ring '{row.name}' clears the hole's edge by {air:.2f} mm on one "
                    f"side; the chimney inside it has no room",
                    remedy="Make the hole smaller, or turn it to the ring's bearing.",
                )
            )
        if row.seat_from_axis_mm is not None:
            below = row.seat_from_axis_mm - rim
            if not -0.05 <= below <= FLUSH_MM + 0.05:
                found.append(
                    Finding(
                        severity="fault",
                        place=place,
                        what=f"the ring '{row.name}', pressed down, ends {abs(below):.2f} mm "
                        f"{'above' if below > 0 else 'below'} the chimney's rim; flush to "
                        f"{FLUSH_MM:g} mm above it is right",
                        remedy=f"Change chimney_mm by {below:+.2f}, or the ring's stop.",
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
                    severity="fault",
                    place=f"part '{one.part}'",
                    what=f"the bases of posts '{one.name}' and '{other.name}' overlap by "
                    f"{-gap:.2f} mm",
                    remedy="Measure both posts again, or use a smaller post_base_mm.",
                )
            )
    return found


def _in_the_way(instrument: Instrument, posts: Sequence[PostPlan]) -> list[Finding]:
    """Pads against posts: two radial cylinders closer than a key's play."""
    pins = pads_and_posts(instrument, posts)
    lifts = {
        f"pad {hole.name}": hole.pad.lift_mm for _, hole, _ in instrument.placed_holes() if hole.pad
    }
    found = []
    for pad in (pin for pin in pins if pin.kind == "pad"):
        for post in (pin for pin in pins if pin.kind == "post"):
            gap = _gap(pad, post, lifts[pad.name])
            if gap < AIR_MM:
                words = f"{gap:.2f} mm of air" if gap > 0 else f"an overlap of {-gap:.2f} mm"
                found.append(
                    Finding(
                        severity="fault",
                        place=f"{pad.name} and {post.name}",
                        what=f"between the {pad.name} and the {post.name} there is {words}; "
                        f"{AIR_MM:g} mm is needed for the key to move",
                        remedy="Measure the post's place again, or use a smaller pad.",
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
