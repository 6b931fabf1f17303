"""A wall thinner than it may be, as a finding."""

from __future__ import annotations

from borewright.model import Finding, Part, Severity
from borewright.words import Message, say


def thin(part: Part, first: Message, second: Message, wall: float, least: float) -> list[Finding]:
    """One fault, naming both sides of a wall (mm), or none where there is enough of it."""
    if wall >= least - 0.005:
        return []
    between = {"first": first, "second": second, "least_mm": least}
    return [
        Finding(
            severity=Severity.FAULT,
            place=say("part '{part}'", part=part.name),
            what=say(
                "between {first} and {second} there is {wall_mm:.2f} mm of wall; at least "
                "{least_mm:g} mm is needed",
                **between,
                wall_mm=wall,
            )
            if wall > 0
            else say(
                "between {first} and {second} there is no wall at all; at least {least_mm:g} mm "
                "is needed",
                **between,
            ),
            remedy=say("Move one of them, make it smaller or shallower, or thicken the body."),
        )
    ]
