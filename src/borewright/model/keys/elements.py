"""What a key is made of, measured in the shut position: pads on their seats, rings down.

Lengths in mm, angles in degrees, forces in N. Stations run down the axis from the joint's own
top shoulder, bearings round it (0 front, positive towards the player's left), heights from the
bore's axis outwards.
"""

from __future__ import annotations

import math
from typing import Annotated, ClassVar

from pydantic import Field

from borewright.model.base import Entity, Finite, Name, NotNegative, Positive
from borewright.model.bounds import (
    Bounded,
    KeyPiece,
    LittleMeasure,
    PadDiameter,
    RingInside,
    SmallMeasure,
    SurveyedLift,
    Thread,
    Travel,
)
from borewright.model.keys.kinds import Finger, KeyElement, SpringMaterial, SpringShape
from borewright.model.kinds import Rest

#: A key turns by less than this (degrees); larger values are slips of a digit.
LARGEST_SWING_DEG = 45.0


class KeyPoint(Entity):
    """A point on or over a joint: station and height (mm), bearing (degrees)."""

    station_mm: Finite
    bearing_deg: Annotated[Finite, Field(ge=-360, le=360)]
    height_mm: Annotated[Finite, Field(ge=0, le=200)]

    @property
    def beside_axis_mm(self) -> tuple[float, float]:
        """Distance from the axis (mm) towards the player's left, and towards the front."""
        turn = math.radians(self.bearing_deg)
        return self.height_mm * math.sin(turn), self.height_mm * math.cos(turn)


class Element(Entity):
    """One row of a survey: an element of a key with its two points.

    ``name`` is unique in the set; ``uncertainty_mm`` is the standard uncertainty of its points,
    None where nobody stated one.
    """

    kind: ClassVar[KeyElement]

    key: Name
    name: Name
    part: Annotated[str, Field(min_length=1)]
    hinge: Annotated[str, Field(min_length=1)]
    first: KeyPoint
    second: KeyPoint
    uncertainty_mm: Annotated[Positive, Bounded("uncertainty_mm")] | None = None
    comment: str = ""


class Hinge(Element):
    """A tube that turns: its two ends, and how it turns.

    ``open_deg`` turns it from shut to open about the line from the first to the second end,
    by the right hand. Tubes with one ``hinge`` share a rod.
    """

    kind = KeyElement.HINGE
    tube_mm: Annotated[Positive, Bounded("tube_mm")]
    rod_mm: Annotated[Positive, Bounded("rod_mm")]
    rest: Rest
    open_deg: Annotated[Finite, Field(ge=-LARGEST_SWING_DEG, le=LARGEST_SWING_DEG)]


class Post(Element):
    """A post, from the body's surface to the centre of its head on the hinge's line."""

    kind = KeyElement.POST
    head_mm: Annotated[Positive, Bounded("tube_mm")]
    thread_mm: Thread


class Arm(Element):
    """A straight piece of a lever, by its centre line; a bent arm is several."""

    kind = KeyElement.ARM
    diameter_mm: Annotated[Positive, Bounded("tube_mm")]


class Foot(Arm):
    """The last piece of a lever that works another key."""

    kind = KeyElement.FOOT


class Cup(Element):
    """A pad in its cup, from the pad's face to the cup's top."""

    kind = KeyElement.CUP
    hole: Annotated[str, Field(min_length=1)]
    pad_mm: PadDiameter
    outside_mm: PadDiameter
    rest: Rest
    lift_mm: SurveyedLift


class Ring(Element):
    """A ring round a finger hole: the middle of its top face, and a point outwards from it."""

    kind = KeyElement.RING
    hole: Annotated[str, Field(min_length=1)]
    inside_mm: RingInside
    outside_mm: Annotated[Positive, Bounded("ring_outside_mm")]
    travel_mm: Travel | None = None


class Touch(Element):
    """The plate where a finger presses, between its ends."""

    kind = KeyElement.TOUCH
    width_mm: KeyPiece
    thickness_mm: KeyPiece
    travel_mm: Travel | None = None
    finger: Finger | None = None


class Spring(Element):
    """A spring from where it is held to its free end.

    A needle has ``thickness_mm`` as its diameter and no width; a flat one is ``width_mm`` by
    ``thickness_mm``. ``held_by`` names the post, or "body". ``touch_force_g`` is at rest.
    """

    kind = KeyElement.SPRING
    shape: SpringShape
    material: SpringMaterial
    thickness_mm: Annotated[Positive, Bounded("spring_thickness_mm")]
    width_mm: Annotated[Positive, Bounded("spring_width_mm")] | None = None
    held_by: str = ""
    free_length_mm: Annotated[Positive, Bounded("spring_length_mm")]
    deflection_mm: Travel
    tip_force_n: Annotated[NotNegative, Bounded("spring_force_n")] | None = None
    touch_force_g: Annotated[NotNegative, Bounded("touch_force_g")] | None = None


class Stop(Element):
    """Cork or felt that ends a key's way, from its face to the side of the body."""

    kind = KeyElement.STOP
    width_mm: KeyPiece
    cork_mm: LittleMeasure
    against: str = ""


class Link(Element):
    """Where ``key`` drives ``to``: the meeting point, and a point outwards from it.

    ``travel_mm`` is how far the driven key goes there. ``gap_mm`` is what the driver goes
    before it meets, at rest.
    """

    kind = KeyElement.LINK
    to: Name
    width_mm: KeyPiece
    cork_mm: SmallMeasure
    travel_mm: Travel | None = None
    gap_mm: Travel = 0.0
