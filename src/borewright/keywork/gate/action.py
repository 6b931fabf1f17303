"""Springs, touches and links: whether the action feels and works right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from borewright.keywork.body import Body
from borewright.keywork.distances import Capsules, gap_mm, gaps_mm
from borewright.keywork.forces import TouchForce, touch_forces, wanted_spring
from borewright.keywork.gate.checks import Check, KeyFinding, found
from borewright.keywork.gate.limits import Limits
from borewright.keywork.gate.sweep import Sweep, covers_of
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pads import lost_motion_mm, touch_travel_mm
from borewright.model import Cover, Rest, Severity
from borewright.model.keys import (
    Arm,
    Cup,
    Element,
    Hinge,
    Link,
    Post,
    Ring,
    Spring,
    SpringShape,
    Touch,
)
from borewright.words import say


def action_findings(mechanism: Mechanism, body: Body, limits: Limits) -> list[KeyFinding]:
    """Springs without room or overstressed, touches, links, and room for fingers."""
    findings: list[KeyFinding] = []
    by_name = {spring.name: spring for spring in mechanism.keys.of(Spring)}
    for force in touch_forces(mechanism):
        findings += _force(mechanism, by_name[force.spring], force, limits)
    for spring in mechanism.keys.of(Spring):
        findings += _room(mechanism, body, spring, limits)
    for touch in mechanism.keys.of(Touch):
        findings += _touch(mechanism, touch, limits)
    for link in mechanism.keys.of(Link):
        findings += _link(mechanism, link, limits)
    findings += _fingers(mechanism, body, limits)
    return findings


def wanted_grams(mechanism: Mechanism, key: str, limits: Limits) -> tuple[float, float]:
    """What a touch should weigh at rest: a closed pad, an open one, or a lever alone."""
    if not any(isinstance(element, Cup) for element in mechanism.keys.of_key(key)):
        return limits.lever_g
    closed = mechanism.keys.hinge(key).rest is Rest.CLOSED
    return limits.closed_g if closed else limits.open_g


def _force(
    mechanism: Mechanism, spring: Spring, force: TouchForce, limits: Limits
) -> Iterator[KeyFinding]:
    low, high = wanted_grams(mechanism, spring.key, limits)
    if not low - 0.5 <= force.rest_g <= high + 0.5:
        wanted = wanted_spring(mechanism, spring, (low + high) / 2)
        yield found(
            Check.TOUCH_FORCE,
            Severity.NOTICE,
            spring,
            say(
                "the touch weighs {grams:.0f} g at rest; {low:.0f} to {high:.0f} g is usual",
                grams=force.rest_g,
                low=low,
                high=high,
            ),
            say(
                "Bent by {deflection_mm:.2f} mm instead of {now_mm:.2f} it weighs {grams:.0f} g.",
                deflection_mm=wanted.deflection_mm if wanted else 0.0,
                now_mm=spring.deflection_mm,
                grams=(low + high) / 2,
            ),
            value=force.rest_g,
            limit=low if force.rest_g < low else high,
        )
    if force.rise > limits.force_rise:
        yield found(
            Check.SPRING_RISE,
            Severity.NOTICE,
            spring,
            say(
                "pressed, it pushes {rise:.1f} times as hard as at rest; up to {limit:.1f} is even",
                rise=force.rise,
                limit=limits.force_rise,
            ),
            say(
                "Take a longer and thinner spring, bent further, or move its end nearer the hinge."
            ),
            value=force.rise,
            limit=limits.force_rise,
        )
    if force.stress_share > limits.stress_share:
        yield found(
            Check.SPRING_STRESS,
            Severity.FAULT,
            spring,
            say(
                "pressed, it is stressed to {percent:.0f} % of what a {spring} of {material} "
                "stands press after press",
                percent=100 * force.stress_share,
                spring=spring.shape,
                material=spring.material,
            ),
            say("Take a longer or thinner spring: it will set or break."),
            value=force.stress_share,
            limit=limits.stress_share,
        )
    if spring.tip_force_n is not None:
        off = abs(spring.tip_force_n - force.tip_force_n)
        if off > limits.stated_force_share * max(force.tip_force_n, 0.1):
            yield found(
                Check.STATED,
                Severity.NOTICE,
                spring,
                say(
                    "its tip pushes {force_n:.2f} N by its bending, but {stated_n:.2f} N is stated",
                    force_n=force.tip_force_n,
                    stated_n=spring.tip_force_n,
                ),
                say("Measure thickness, length and bending again: force goes with D⁴/L³."),
                value=off,
                limit=limits.stated_force_share * force.tip_force_n,
            )


def _room(mechanism: Mechanism, body: Body, spring: Spring, limits: Limits) -> Iterator[KeyFinding]:
    tip = mechanism.points[spring.name][1]
    shape = mechanism.shape(spring)
    sweep_air = Sweep.body_air_of(body, shape)
    flat = spring.shape is SpringShape.FLAT
    if flat:
        off = float(np.hypot(tip[1], tip[2]) - body.outside_mm(tip[0]))
        if not -0.05 <= off <= limits.flat_tip_mm:
            what = (
                say(
                    "its free end stands {off_mm:.2f} mm off the body that it slides on", off_mm=off
                )
                if off > 0
                else say("its free end lies {off_mm:.2f} mm inside the body", off_mm=-off)
            )
            yield found(
                Check.SPRING_ROOM,
                Severity.FAULT,
                spring,
                what,
                say("Bend it, or correct its free end in the survey."),
                value=abs(off),
                limit=limits.flat_tip_mm,
            )
    elif sweep_air < limits.needle_air_mm:
        yield found(
            Check.SPRING_ROOM,
            Severity.FAULT,
            spring,
            say(
                "it leaves {air_mm:.2f} mm of air to the body; {limit_mm:g} mm is needed",
                air_mm=sweep_air,
                limit_mm=limits.needle_air_mm,
            ),
            say("Drill the post's spring hole higher, or bend the free end outwards."),
            value=sweep_air,
            limit=limits.needle_air_mm,
        )
    radius = (spring.width_mm or spring.thickness_mm) / 2
    points = mechanism.points[spring.name]
    cover = Capsules(points[:1], points[1:], np.array([radius]))
    others = [e for e in mechanism.keys.elements if isinstance(e, Arm | Post | Hinge | Cup | Ring)]
    near = gaps_mm(cover, _resting_covers(mechanism, others))[0] < limits.needle_air_mm
    for element in (others[i] for i in np.nonzero(near)[0]):
        if element.key == spring.key:
            continue
        if isinstance(element, Post) and element.hinge == spring.hinge:
            continue
        air = gap_mm(shape, mechanism.shape(element, mechanism.rest[element.key]))
        if air < limits.needle_air_mm:
            yield found(
                Check.SPRING_ROOM,
                Severity.FAULT,
                spring,
                say(
                    "it comes within {air_mm:.2f} mm of the {element} '{name}' of key '{key}'; "
                    "{limit_mm:g} mm is needed",
                    air_mm=max(air, 0.0),
                    element=element.kind,
                    name=element.name,
                    key=element.key,
                    limit_mm=limits.needle_air_mm,
                ),
                say("Move the spring's free end, or bend the other key away."),
                value=air,
                limit=limits.needle_air_mm,
                others=(element.name,),
            )
    if flat:
        for name, rim in body.rims.items():
            reach = rim.hole.diameter_mm / 2 + rim.wall_mm
            aside = tip - rim.centre
            off = float(np.linalg.norm(aside - (aside @ rim.out) * rim.out)) - reach
            if aside @ rim.out > -2 and off < 0.5:
                yield found(
                    Check.SPRING_ROOM,
                    Severity.FAULT,
                    spring,
                    say(
                        "its free end slides {off_mm:.2f} mm from the edge of hole '{hole}'",
                        off_mm=max(off, 0.0),
                        hole=name,
                    ),
                    say("Shorten the spring, or move its screw."),
                    value=off,
                    limit=0.5,
                    others=(name,),
                )


def _touch(mechanism: Mechanism, touch: Touch, limits: Limits) -> Iterator[KeyFinding]:
    travel = touch_travel_mm(mechanism, touch)
    low, high = limits.travel_mm
    if not low <= travel <= high:
        yield found(
            Check.TOUCH_TRAVEL,
            Severity.NOTICE,
            touch,
            say(
                "it travels {travel_mm:.2f} mm; {low:g} to {high:g} mm feels right",
                travel_mm=travel,
                low=low,
                high=high,
            ),
            say("Change the lever's lengths, or the pad's lift."),
            value=travel,
            limit=low if travel < low else high,
        )
    if touch.travel_mm is not None and abs(touch.travel_mm - travel) > limits.stated_travel_mm:
        yield found(
            Check.STATED,
            Severity.NOTICE,
            touch,
            say(
                "it travels {travel_mm:.2f} mm by the key's angle, but {stated_mm:.2f} mm is "
                "stated",
                travel_mm=travel,
                stated_mm=touch.travel_mm,
            ),
            say("Measure the travel, the angle and the touch's place again."),
            value=abs(touch.travel_mm - travel),
            limit=limits.stated_travel_mm,
        )
    lost = lost_motion_mm(mechanism, touch)
    if lost > limits.lost_motion_mm:
        yield found(
            Check.LOST_MOTION,
            Severity.NOTICE,
            touch,
            say("it goes {lost_mm:.2f} mm before all that it drives begins to move", lost_mm=lost),
            say("Turn the adjusting screw or renew the cork of its link."),
            value=lost,
            limit=limits.lost_motion_mm,
        )


def _link(mechanism: Mechanism, link: Link, limits: Limits) -> Iterator[KeyFinding]:
    drive = mechanism.drives[link.name]
    if drive.works_against:
        yield found(
            Check.LINK,
            Severity.FAULT,
            link,
            say("'{key}' pushes '{to}' the wrong way, so it never moves", key=link.key, to=link.to),
            say("Let it meet on the other side of the hinge of '{to}'.", to=link.to),
            value=0.0,
            limit=0.0,
        )
        return
    off = drive.mismatch_mm
    if abs(off) > limits.link_way_mm:
        yield found(
            Check.LINK,
            Severity.FAULT,
            link,
            say(
                "'{key}' goes {driver_mm:.2f} mm there after taking up {gap_mm:.2f} mm, but '{to}' "
                "needs {driven_mm:.2f} mm: they do not end together",
                key=link.key,
                driver_mm=abs(drive.driver_way_mm),
                gap_mm=drive.gap_mm,
                to=link.to,
                driven_mm=abs(drive.driven_way_mm),
            ),
            say("Bend the foot, turn its screw, or move the meeting point along the joint line."),
            value=abs(off),
            limit=limits.link_way_mm,
        )


def _fingers(mechanism: Mechanism, body: Body, limits: Limits) -> Iterator[KeyFinding]:
    """Nothing but a finger's own ring may stand over its hole."""
    rings = {ring.hole: ring.key for ring in mechanism.keys.of(Ring)}
    kinds = (Arm, Cup, Touch, Post, Hinge)
    others = [e for e in mechanism.keys.elements if isinstance(e, kinds)]
    resting, shut = _resting_covers(mechanism, others), covers_of(mechanism, others)
    for name, rim in body.rims.items():
        if rim.hole.cover is Cover.PAD:
            continue
        start = rim.centre + 1.5 * rim.out
        end = rim.centre + (26.0 - rim.height_mm) * rim.out
        line = Capsules(start[None], end[None], np.zeros(1))
        near = gaps_mm(line, resting)[0] < limits.finger_room_mm
        near |= gaps_mm(line, shut)[0] < limits.finger_room_mm
        for element in (others[i] for i in np.nonzero(near)[0]):
            if isinstance(element, Arm) and rings.get(name) == element.key:
                continue
            shape = mechanism.shape(element, mechanism.rest[element.key])
            air = min(gap_mm(shape, line), gap_mm(mechanism.shape(element), line))
            if air < limits.finger_room_mm:
                yield found(
                    Check.FINGER_ROOM,
                    Severity.NOTICE,
                    element,
                    say(
                        "it leaves the finger {air_mm:.1f} mm round the middle of hole '{hole}'; "
                        "{limit_mm:g} mm is needed",
                        air_mm=max(air, 0.0),
                        hole=name,
                        limit_mm=limits.finger_room_mm,
                    ),
                    say("Bend it away from the finger."),
                    value=air,
                    limit=limits.finger_room_mm,
                    others=(name,),
                )


def _resting_covers(mechanism: Mechanism, elements: Sequence[Element]) -> Capsules:
    """One capsule round each element, at rest."""
    covers = covers_of(mechanism, elements)
    starts, ends = covers.starts.copy(), covers.ends.copy()
    for i, element in enumerate(elements):
        key = mechanism.turning[element.key]
        if key.rest_deg and not isinstance(element, Hinge | Post):
            starts[i] = key.moved(starts[i], key.rest_deg)
            ends[i] = key.moved(ends[i], key.rest_deg)
    return covers.moved(starts, ends)
