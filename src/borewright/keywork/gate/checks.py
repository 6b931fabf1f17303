"""What the gate looks at, and a finding that says which check it comes from."""

from __future__ import annotations

from enum import StrEnum

from borewright.model import Finding, Severity
from borewright.model.keys import Element
from borewright.words import Message, Text, say


class Check(StrEnum):
    """One thing that the gate looks at."""

    HOLE_WITHOUT_KEY = "hole without key"
    CUP_OFF_HOLE = "cup off its hole"
    CUP_HEIGHT = "pad off its seat's height"
    CHIMNEY_TOO_HIGH = "chimney too high for its cup"
    PAD_TILT = "pad tilted on its seat"
    PAD_TOO_SMALL = "pad too small"
    PAD_OVER_CHIMNEY = "key over a chimney"
    PAD_LIFT = "pad lift"
    NEAR_EDGE = "pad opens unevenly"
    PAD_SLIDES = "pad slides as it lands"
    RING_OFF_HOLE = "ring off its hole"
    RING_TOO_SMALL = "ring too small"
    RING_HEIGHT = "ring height when down"
    RING_AGAINST_RING = "ring against ring"
    HINGE_OUT_OF_LINE = "hinge out of line"
    END_PLAY = "end play"
    POST_FOOT = "post off the body"
    POST_IN_HOLE = "post in a hole"
    POST_UNDER_RING = "post under a ring or pad"
    POST_WALL = "post through the wall"
    FIXED_PARTS = "posts or rods against each other"
    PARTS_AT_REST = "keys against each other at rest"
    PARTS_MOVING = "keys against each other moving"
    ROD_ON_BODY = "rod on the body"
    LEVER_ON_BODY = "lever on the body"
    THUMB_REST = "thumb rest over a hole"
    SPRING_ROOM = "spring without room"
    SPRING_STRESS = "spring overstressed"
    SPRING_RISE = "spring grows too stiff"
    TOUCH_FORCE = "touch force"
    TOUCH_TRAVEL = "touch travel"
    LINK = "link"
    LOST_MOTION = "lost motion"
    FINGER_ROOM = "room for a finger"
    STATED = "survey against itself"
    FINGERING = "fingering"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _WORDS[self]


_WORDS = {
    Check.HOLE_WITHOUT_KEY: say("hole without key"),
    Check.CUP_OFF_HOLE: say("cup off its hole"),
    Check.CUP_HEIGHT: say("pad off its seat's height"),
    Check.CHIMNEY_TOO_HIGH: say("chimney too high for its cup"),
    Check.PAD_TILT: say("pad tilted on its seat"),
    Check.PAD_TOO_SMALL: say("pad too small"),
    Check.PAD_OVER_CHIMNEY: say("key over a chimney"),
    Check.PAD_LIFT: say("pad lift"),
    Check.NEAR_EDGE: say("pad opens unevenly"),
    Check.PAD_SLIDES: say("pad slides as it lands"),
    Check.RING_OFF_HOLE: say("ring off its hole"),
    Check.RING_TOO_SMALL: say("ring too small"),
    Check.RING_HEIGHT: say("ring height when down"),
    Check.RING_AGAINST_RING: say("ring against ring"),
    Check.HINGE_OUT_OF_LINE: say("hinge out of line"),
    Check.END_PLAY: say("end play"),
    Check.POST_FOOT: say("post off the body"),
    Check.POST_IN_HOLE: say("post in a hole"),
    Check.POST_UNDER_RING: say("post under a ring or pad"),
    Check.POST_WALL: say("post through the wall"),
    Check.FIXED_PARTS: say("posts or rods against each other"),
    Check.PARTS_AT_REST: say("keys against each other at rest"),
    Check.PARTS_MOVING: say("keys against each other moving"),
    Check.ROD_ON_BODY: say("rod on the body"),
    Check.LEVER_ON_BODY: say("lever on the body"),
    Check.THUMB_REST: say("thumb rest over a hole"),
    Check.SPRING_ROOM: say("spring without room"),
    Check.SPRING_STRESS: say("spring overstressed"),
    Check.SPRING_RISE: say("spring grows too stiff"),
    Check.TOUCH_FORCE: say("touch force"),
    Check.TOUCH_TRAVEL: say("touch travel"),
    Check.LINK: say("link between two keys"),
    Check.LOST_MOTION: say("lost motion"),
    Check.FINGER_ROOM: say("room for a finger"),
    Check.STATED: say("survey against itself"),
    Check.FINGERING: say("fingering"),
}


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
