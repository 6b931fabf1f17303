"""What the sweep found, as findings: who meets whom, when, and how close."""

from __future__ import annotations

from borewright.keywork.body import Body
from borewright.keywork.gate.checks import Check, KeyFinding, found
from borewright.keywork.gate.limits import Limits
from borewright.keywork.gate.sweep import Near, Pose, Sweep
from borewright.keywork.mechanism import Mechanism
from borewright.model import Severity
from borewright.model.keys import Hinge, Post, Ring
from borewright.words import Message, say


def clearance_findings(mechanism: Mechanism, body: Body, limits: Limits) -> list[KeyFinding]:
    """Parts of two keys, and keys and body, that come too near at rest or moving."""
    findings: dict[tuple[Check, tuple[str, ...]], KeyFinding] = {}
    for near in Sweep(mechanism, body, limits).near():
        finding = _finding(near, limits)
        key = (finding.check, finding.elements)
        if key not in findings or finding.value < findings[key].value:
            findings[key] = finding
    # What is too near at rest is told once, not again moving.
    resting = {elements for check, elements in findings if check is Check.PARTS_AT_REST}
    return [
        finding
        for (check, elements), finding in findings.items()
        if not (check is Check.PARTS_MOVING and elements in resting)
    ]


def when(pose: Pose) -> Message:
    """When a pose is: at rest, or which key is pressed how far."""
    if not pose.key:
        return say("with all fingers down") if pose.down else say("at rest")
    if pose.share < 1:
        return say("while '{key}' is pressed", key=pose.key)
    return say("when '{key}' is pressed", key=pose.key)


def _finding(near: Near, limits: Limits) -> KeyFinding:
    if near.second is None:
        return _on_chimney(near, limits) if near.hole else _on_body(near, limits)
    fixed = (Hinge, Post)
    check = Check.PARTS_AT_REST if near.pose.at_rest else Check.PARTS_MOVING
    if isinstance(near.first, fixed) and isinstance(near.second, fixed):
        check = Check.FIXED_PARTS
    elif isinstance(near.first, Ring) and isinstance(near.second, Ring):
        check = Check.RING_AGAINST_RING
    return found(
        check,
        Severity.FAULT,
        near.first,
        say(
            "it comes within {air_mm:.2f} mm of the {element} '{name}' of key '{key}' {when}; "
            "{limit_mm:g} mm is needed",
            air_mm=near.air_mm,
            element=near.second.kind,
            name=near.second.name,
            key=near.second.key,
            when=when(near.pose),
            limit_mm=limits.parts_air_mm,
        )
        if near.air_mm > 0
        else say(
            "it runs {depth_mm:.2f} mm into the {element} '{name}' of key '{key}' {when}",
            depth_mm=-near.air_mm,
            element=near.second.kind,
            name=near.second.name,
            key=near.second.key,
            when=when(near.pose),
        ),
        say("Bend one of them away, or move the posts of one hinge."),
        value=near.air_mm,
        limit=limits.parts_air_mm,
        others=(near.second.name,),
    )


def _on_chimney(near: Near, limits: Limits) -> KeyFinding:
    return found(
        Check.PAD_OVER_CHIMNEY,
        Severity.FAULT,
        near.first,
        say(
            "it comes within {air_mm:.2f} mm of the chimney of hole '{hole}' {when}; "
            "{limit_mm:g} mm is needed",
            air_mm=near.air_mm,
            hole=near.hole,
            when=when(near.pose),
            limit_mm=limits.parts_air_mm,
        )
        if near.air_mm > 0
        else say(
            "it runs {depth_mm:.2f} mm into the chimney of hole '{hole}' {when}",
            depth_mm=-near.air_mm,
            hole=near.hole,
            when=when(near.pose),
        ),
        say("Lower or narrow the chimney, move the hole, or bend the key away."),
        value=near.air_mm,
        limit=limits.parts_air_mm,
        others=(near.hole,),
    )


def _on_body(near: Near, limits: Limits) -> KeyFinding:
    rod = isinstance(near.first, Hinge)
    limit = limits.tube_air_mm
    if not rod:
        resting, moved = limits.lever_air_rest_mm, limits.lever_air_moved_mm
        limit = resting if near.pose.at_rest else moved
    return found(
        Check.ROD_ON_BODY if rod else Check.LEVER_ON_BODY,
        Severity.FAULT,
        near.first,
        say(
            "it leaves {air_mm:.2f} mm of air to the body {when}; {limit_mm:g} mm is needed",
            air_mm=near.air_mm,
            when=when(near.pose),
            limit_mm=limit,
        )
        if near.air_mm > 0
        else say(
            "it lies {depth_mm:.2f} mm inside the body {when}",
            depth_mm=-near.air_mm,
            when=when(near.pose),
        ),
        say("Raise the posts, or give the lever a bend: a straight piece cuts across the round."),
        value=near.air_mm,
        limit=limit,
    )
