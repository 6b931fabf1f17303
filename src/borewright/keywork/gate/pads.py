"""Cups and rings against the holes they serve."""

from __future__ import annotations

import math
from collections.abc import Iterator

from borewright.keywork.body import Body
from borewright.keywork.gate.checks import Check, KeyFinding, found, may_be_off_mm
from borewright.keywork.gate.limits import Limits
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pads import PadMotion, pad_motion, ring_over_rim_mm
from borewright.model import Cover, Pad, Severity
from borewright.model.keys import Cup, Ring
from borewright.words import say

#: Pads of the same size are drawn and surveyed within this (mm).
_SAME_PAD_MM = 0.25
#: A survey is written to a thousandth (mm): what is just enough stays enough when read again.
_WRITTEN_MM = 0.001


def pad_findings(mechanism: Mechanism, body: Body, limits: Limits) -> list[KeyFinding]:
    """Cups off their holes, at a wrong height, tilted, too small, or opening badly."""
    findings: list[KeyFinding] = []
    for cup in mechanism.keys.of(Cup):
        motion = pad_motion(mechanism, body, cup)
        findings += _seat(body, cup, motion, limits)
        findings += _opening(body, cup, motion, limits)
    return findings


def _seat(body: Body, cup: Cup, motion: PadMotion, limits: Limits) -> Iterator[KeyFinding]:
    hole = body.rims[cup.hole].hole
    aside = may_be_off_mm(limits.off_hole_mm, cup)
    if motion.aside_mm > aside:
        yield found(
            Check.CUP_OFF_HOLE,
            Severity.FAULT,
            cup,
            say(
                "its pad stands {aside_mm:.2f} mm off the middle of hole '{hole}'; "
                "up to {limit_mm:.2f} mm can be bent",
                aside_mm=motion.aside_mm,
                hole=cup.hole,
                limit_mm=aside,
            ),
            say("Move the hole, or the posts of its hinge, or correct the survey."),
            value=motion.aside_mm,
            limit=aside,
        )
    overlap = (cup.pad_mm - hole.diameter_mm) / 2 - motion.aside_mm
    least = body.instrument.fit.pad_overlap_mm
    if overlap < least:
        yield found(
            Check.PAD_TOO_SMALL,
            Severity.FAULT,
            cup,
            say(
                "its pad of {pad_mm:g} mm covers the edge of hole '{hole}' ({hole_mm:.2f} mm) by "
                "{overlap_mm:.2f} mm on one side; {limit_mm:.2f} mm is needed",
                pad_mm=cup.pad_mm,
                hole=cup.hole,
                hole_mm=hole.diameter_mm,
                overlap_mm=overlap,
                limit_mm=least,
            ),
            say("Make the hole smaller, move it under the pad, or take a larger cup."),
            value=overlap,
            limit=least,
        )
    high = may_be_off_mm(limits.pad_height_mm, cup)
    if motion.high_mm < -high:
        yield found(
            Check.CHIMNEY_TOO_HIGH,
            Severity.FAULT,
            cup,
            say(
                "the rim of hole '{hole}' stands {too_mm:.2f} mm too high for its pad: the key "
                "stops before it lies flat",
                hole=cup.hole,
                too_mm=-motion.high_mm,
            ),
            say(
                "Lower the hole's chimney by {too_mm:.2f} mm, or raise the hinge as much.",
                too_mm=-motion.high_mm,
            ),
            value=-motion.high_mm,
            limit=high,
        )
    elif motion.high_mm > high:
        yield found(
            Check.CUP_HEIGHT,
            Severity.FAULT,
            cup,
            say(
                "its pad stays {too_mm:.2f} mm above the rim of hole '{hole}'",
                too_mm=motion.high_mm,
                hole=cup.hole,
            ),
            say(
                "Raise the hole's chimney by {too_mm:.2f} mm, take a thicker pad, or lower "
                "the hinge.",
                too_mm=motion.high_mm,
            ),
            value=motion.high_mm,
            limit=high,
        )
    gap = cup.pad_mm * math.tan(math.radians(motion.tilt_deg))
    flat = may_be_off_mm(limits.pad_flat_mm, cup)
    if gap > flat:
        yield found(
            Check.PAD_TILT,
            Severity.FAULT,
            cup,
            say(
                "its pad meets the seat of hole '{hole}' {tilt_deg:.2f}° askew: {gap_mm:.2f} mm "
                "open on one side",
                hole=cup.hole,
                tilt_deg=motion.tilt_deg,
                gap_mm=gap,
            ),
            say("Turn the hole to the cup's bearing, move the posts round, or resolder the cup."),
            value=gap,
            limit=flat,
        )


def _opening(body: Body, cup: Cup, motion: PadMotion, limits: Limits) -> Iterator[KeyFinding]:
    hole = body.rims[cup.hole].hole
    off = abs(motion.lift_mm - cup.lift_mm)
    if off > limits.lift_off_mm:
        yield found(
            Check.PAD_LIFT,
            Severity.FAULT,
            cup,
            say(
                "its pad lifts {lift_mm:.2f} mm by the key's angle, but {stated_mm:.2f} mm is "
                "stated",
                lift_mm=motion.lift_mm,
                stated_mm=cup.lift_mm,
            ),
            say("Measure angle and lift again."),
            value=off,
            limit=limits.lift_off_mm,
        )
    wanted = hole.diameter_mm * limits.lift_share
    if 0 < motion.lift_mm < wanted - 0.05:
        yield found(
            Check.PAD_LIFT,
            Severity.NOTICE,
            cup,
            say(
                "its pad lifts {lift_mm:.2f} mm; a third of hole '{hole}' is {wanted_mm:.2f} mm",
                lift_mm=motion.lift_mm,
                hole=cup.hole,
                wanted_mm=wanted,
            ),
            say("A low pad flattens and dulls the note: let the key open further."),
            value=motion.lift_mm,
            limit=wanted,
        )
    if motion.lift_mm <= 0:
        yield found(
            Check.PAD_LIFT,
            Severity.FAULT,
            cup,
            say("its key turns the pad into the body instead of lifting it"),
            say("Correct the sign of the hinge's angle."),
            value=motion.lift_mm,
            limit=0.0,
        )
        return
    share = motion.near_mm / motion.far_mm
    if share < limits.near_edge_share:
        yield found(
            Check.NEAR_EDGE,
            Severity.NOTICE,
            cup,
            say(
                "its pad opens {near_mm:.2f} mm at the near edge and {far_mm:.2f} mm at the far "
                "one",
                near_mm=motion.near_mm,
                far_mm=motion.far_mm,
            ),
            say("A longer arm opens more evenly; the near edge counts for the sound."),
            value=share,
            limit=limits.near_edge_share,
        )
    if motion.slide_per_lift > limits.slide_per_lift:
        yield found(
            Check.PAD_SLIDES,
            Severity.NOTICE,
            cup,
            say(
                "its pad slides {slide:.2f} mm for each mm that it still has to fall: it scrubs "
                "as it lands",
                slide=motion.slide_per_lift,
            ),
            say("A hinge nearer to the pad's plane lands square; watch this pad for wear."),
            value=motion.slide_per_lift,
            limit=limits.slide_per_lift,
        )


def ring_findings(mechanism: Mechanism, body: Body, limits: Limits) -> list[KeyFinding]:
    """Rings off their holes, too small for the chimney, or not flush when down."""
    findings: list[KeyFinding] = []
    for ring in mechanism.keys.of(Ring):
        findings += _ring(mechanism, body, ring, limits)
    return findings


def _ring(mechanism: Mechanism, body: Body, ring: Ring, limits: Limits) -> Iterator[KeyFinding]:
    rim = body.rims[ring.hole]
    over, aside = ring_over_rim_mm(mechanism, body, ring)
    allowed = may_be_off_mm(limits.off_hole_mm, ring)
    if aside > allowed:
        yield found(
            Check.RING_OFF_HOLE,
            Severity.FAULT,
            ring,
            say(
                "it stands {aside_mm:.2f} mm off the middle of hole '{hole}'; up to "
                "{limit_mm:.2f} mm can be bent",
                aside_mm=aside,
                hole=ring.hole,
                limit_mm=allowed,
            ),
            say("Move the hole, or the posts of its hinge, or correct the survey."),
            value=aside,
            limit=allowed,
        )
    air = (ring.inside_mm - rim.hole.diameter_mm) / 2 - rim.wall_mm - aside
    if air < limits.ring_air_mm - _WRITTEN_MM:
        yield found(
            Check.RING_TOO_SMALL,
            Severity.FAULT,
            ring,
            say(
                "inside it ({inside_mm:.2f} mm) the chimney of hole '{hole}' "
                "({chimney_mm:.2f} mm outside) leaves {air_mm:.2f} mm on one side; "
                "{limit_mm:.2f} mm is needed",
                inside_mm=ring.inside_mm,
                hole=ring.hole,
                chimney_mm=rim.hole.diameter_mm + 2 * rim.wall_mm,
                air_mm=air,
                limit_mm=limits.ring_air_mm,
            ),
            say("Make the hole smaller or its chimney thinner, or take a larger ring."),
            value=air,
            limit=limits.ring_air_mm,
        )
    more = 2 * (ring.uncertainty_mm or 0.0)
    low, high = limits.ring_over_mm
    if over < low - more:
        yield found(
            Check.RING_HEIGHT,
            Severity.FAULT,
            ring,
            say(
                "down, its top lies {below_mm:.2f} mm below the rim of hole '{hole}': the finger "
                "lands on the chimney and the pad does not shut",
                below_mm=-over,
                hole=ring.hole,
            ),
            say("Lower the hole's chimney by {below_mm:.2f} mm or a little more.", below_mm=-over),
            value=over,
            limit=low,
        )
    elif over > high + more:
        yield found(
            Check.RING_HEIGHT,
            Severity.FAULT,
            ring,
            say(
                "down, its top stands {above_mm:.2f} mm above the rim of hole '{hole}'; flush to "
                "{limit_mm:.1f} mm is right",
                above_mm=over,
                hole=ring.hole,
                limit_mm=high,
            ),
            say(
                "Raise the hole's chimney by {by_mm:.2f} mm: a finger must reach the rim.",
                by_mm=over - 0.1,
            ),
            value=over,
            limit=high,
        )


def coverage_findings(mechanism: Mechanism, body: Body) -> list[KeyFinding]:
    """Holes whose pad or ring no key carries, and pads that differ from the body's own."""
    findings = []
    for name, rim in body.rims.items():
        if rim.hole.cover is Cover.FINGER or mechanism.keys.over(name) is not None:
            continue
        findings.append(
            KeyFinding(
                severity=Severity.NOTICE,
                place=(rim.part, say("hole {hole}", hole=name)),
                what=say("the hole has a {cover}, but no key of the survey", cover=rim.hole.cover),
                remedy=say("Survey its key, or nobody can tell whether it fits."),
                check=Check.HOLE_WITHOUT_KEY,
                elements=(name,),
                value=0.0,
                limit=1.0,
            )
        )
    for cup in mechanism.keys.of(Cup):
        findings += _stated(cup, body.rims[cup.hole].hole.pad)
    return findings


def _stated(cup: Cup, pad: Pad | None) -> Iterator[KeyFinding]:
    """What the survey says of a pad against what the instrument says of it."""
    off, allowed, remedy = 1.0, 0.0, say("Correct one of them.")
    if pad is None:
        what = say("it lies over hole '{hole}', which the instrument gives no pad", hole=cup.hole)
        remedy = say("Give the hole a pad, or correct the survey.")
    elif pad.rest is not cup.rest:
        what = say(
            "its pad rests {rest}, but the instrument says {other}", rest=cup.rest, other=pad.rest
        )
    elif abs(pad.diameter_mm - cup.pad_mm) > _SAME_PAD_MM:
        off, allowed = abs(pad.diameter_mm - cup.pad_mm), _SAME_PAD_MM
        what = say(
            "its pad is {pad_mm:g} mm wide, but the instrument says {other_mm:g} mm",
            pad_mm=cup.pad_mm,
            other_mm=pad.diameter_mm,
        )
    else:
        return
    yield found(Check.STATED, Severity.FAULT, cup, what, remedy, value=off, limit=allowed)
