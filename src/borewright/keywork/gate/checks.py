"""What the gate looks at, and a finding that says which check it comes from."""

from __future__ import annotations

from borewright.model import Finding, Severity
from borewright.model.keys import Element
from borewright.words import Choice, Message, Text, say


class Check(Choice):
    """One thing that the gate looks at."""

    HOLE_WITHOUT_KEY = "hole without key", say("hole without key")
    CUP_OFF_HOLE = "cup off its hole", say("cup off its hole")
    CUP_HEIGHT = "pad off its seat's height", say("pad off its seat's height")
    CHIMNEY_TOO_HIGH = "chimney too high for its cup", say("chimney too high for its cup")
    PAD_TILT = "pad tilted on its seat", say("pad tilted on its seat")
    PAD_TOO_SMALL = "pad too small", say("pad too small")
    PAD_OVER_CHIMNEY = "key over a chimney", say("key over a chimney")
    PAD_LIFT = "pad lift", say("pad lift")
    NEAR_EDGE = "pad opens unevenly", say("pad opens unevenly")
    PAD_SLIDES = "pad slides as it lands", say("pad slides as it lands")
    RING_OFF_HOLE = "ring off its hole", say("ring off its hole")
    RING_TOO_SMALL = "ring too small", say("ring too small")
    RING_HEIGHT = "ring height when down", say("ring height when down")
    RING_AGAINST_RING = "ring against ring", say("ring against ring")
    HINGE_OUT_OF_LINE = "hinge out of line", say("hinge out of line")
    END_PLAY = "end play", say("end play")
    POST_FOOT = "post off the body", say("post off the body")
    POST_IN_HOLE = "post in a hole", say("post in a hole")
    POST_UNDER_RING = "post under a ring or pad", say("post under a ring or pad")
    POST_WALL = "post through the wall", say("post through the wall")
    POST_ON_JOINT = "post on a part's end", say("post on a part's end")
    FIXED_PARTS = "posts or rods against each other", say("posts or rods against each other")
    PARTS_AT_REST = "keys against each other at rest", say("keys against each other at rest")
    PARTS_MOVING = "keys against each other moving", say("keys against each other moving")
    ROD_ON_BODY = "rod on the body", say("rod on the body")
    LEVER_ON_BODY = "lever on the body", say("lever on the body")
    THUMB_REST = "thumb rest over a hole", say("thumb rest over a hole")
    SPRING_ROOM = "spring without room", say("spring without room")
    SPRING_STRESS = "spring overstressed", say("spring overstressed")
    SPRING_RISE = "spring grows too stiff", say("spring grows too stiff")
    TOUCH_FORCE = "touch force", say("touch force")
    TOUCH_TRAVEL = "touch travel", say("touch travel")
    LINK = "link", say("link between two keys")
    LOST_MOTION = "lost motion", say("lost motion")
    FINGER_ROOM = "room for a finger", say("room for a finger")
    STATED = "survey against itself", say("survey against itself")
    FINGERING = "fingering", say("fingering")


class KeyFinding(Finding):
    """A finding of the gate: which check, which elements, what was found and what is allowed."""

    check: Check
    elements: tuple[str, ...]
    value: float
    limit: float


def found(
    check: Check,
    severity: Severity,
    element: Element,
    what: Message,
    remedy: Message,
    *,
    value: float,
    limit: float,
    others: tuple[str, ...] = (),
) -> KeyFinding:
    """A finding on an element, placed by its part and key."""
    place: tuple[Text, ...] = (
        element.part,
        say("key {key}", key=element.key),
        say("{element} '{name}'", element=element.kind, name=element.name),
    )
    return KeyFinding(
        severity=severity,
        place=place,
        what=what,
        remedy=remedy,
        check=check,
        elements=(element.name, *others),
        value=value,
        limit=limit,
    )


def may_be_off_mm(limit: float, *elements: Element) -> float:
    """A limit widened by twice the stated uncertainty of the rows concerned."""
    return limit + 2 * sum((element.uncertainty_mm or 0.0) for element in elements)
