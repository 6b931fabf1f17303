"""Whether hands find the touches: pitches, reaches, gaps and heights, against stated sizes.

Every range is from memory and only a hint: young or small hands are measured, not assumed.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from borewright.keywork.body import Body
from borewright.keywork.distances import gap_mm
from borewright.keywork.mechanism import Mechanism
from borewright.model import Cover
from borewright.model.keys import Finger, Touch
from borewright.words import Message, say

#: Finger pitch along the body; a fingertip covers a hole by so much.
PITCH_MM, COVER_MM = (20.0, 40.0), 2.0
#: Gap between touches of one finger (to 1.5 where it slides); how far a little finger reaches
GAP_MM, LITTLE_REACH_MM = (0.5, 6.0), (25.0, 55.0)
#: The thumb's key: its touch over the body, and its way from the thumb hole's edge.
THUMB_HEIGHT_MM, THUMB_WAY_MM = (8.0, 10.0), (6.0, 12.0)
#: A thumb rest stands opposite the first two fingers: from so far before R1 to R2 (mm).
_REST_BEFORE_MM = 10.0


@dataclass(frozen=True)
class Hand:
    """A hand: its length and the breadth of its fingertips (mm).

    Pitch and reach are stated for a hand of 180 mm and go with the length.
    """

    length_mm: float
    fingertip_mm: float

    @property
    def share(self) -> float:
        """Its length over that of the hand for which reaches are stated."""
        return self.length_mm / 180.0


#: From general tables, from memory and unverified: 5th percentile of women, 95th of men.
SMALL, MIDDLE, LARGE = Hand(159.0, 13.0), Hand(180.0, 16.0), Hand(201.0, 20.0)


@dataclass(frozen=True)
class HandMeasure:
    """One measure of the keywork as hands meet it (mm), and what is comfortable."""

    what: Message
    value_mm: float
    low_mm: float
    high_mm: float

    @property
    def comfortable(self) -> bool:
        """Whether it lies within its range."""
        return self.low_mm - 1e-6 <= self.value_mm <= self.high_mm + 1e-6


def hand_measures(mechanism: Mechanism, body: Body, hand: Hand = SMALL) -> list[HandMeasure]:
    """Everything that a player's hands would notice, in the order of the body."""
    return [
        *_pitches(body, hand),
        *_holes(body, hand),
        *_gaps(mechanism),
        *_little_fingers(mechanism, body, hand),
        *_thumb(mechanism, body),
        *_thumb_rest(body),
    ]


def _pitches(body: Body, hand: Hand) -> list[HandMeasure]:
    """Between neighbouring finger holes of one part on the front."""
    rims = [rim for rim in body.rims.values() if rim.hole.cover is not Cover.PAD]
    front = sorted(
        (rim for rim in rims if abs(rim.hole.bearing_deg) < 90), key=lambda r: float(r.centre[0])
    )
    return [
        HandMeasure(
            say("from '{hole}' to '{next}' along the body", hole=a.hole.name, next=b.hole.name),
            float(b.centre[0] - a.centre[0]),
            PITCH_MM[0],
            PITCH_MM[1] * hand.share,
        )
        for a, b in itertools.pairwise(front)
        if a.part == b.part
    ]


def _holes(body: Body, hand: Hand) -> list[HandMeasure]:
    return [
        HandMeasure(
            say("hole '{hole}' under a fingertip", hole=name),
            rim.hole.diameter_mm,
            0.0,
            hand.fingertip_mm - COVER_MM,
        )
        for name, rim in body.rims.items()
        if rim.hole.cover is not Cover.PAD
    ]


def _gaps(mechanism: Mechanism) -> list[HandMeasure]:
    """From each touch to the nearest other touch of the same finger."""
    touches = [touch for touch in mechanism.keys.of(Touch) if touch.finger is not None]
    found = []
    for touch in touches:
        shape = mechanism.shape(touch, mechanism.rest[touch.key])
        others = [
            (gap_mm(shape, mechanism.shape(other, mechanism.rest[other.key])), other.key)
            for other in touches
            if other is not touch and other.finger is touch.finger
        ]
        if others:
            gap, key = min(others)
            found.append(
                HandMeasure(
                    say("between the touches of '{key}' and '{other}'", key=touch.key, other=key),
                    gap,
                    *GAP_MM,
                )
            )
    return found


def _little_fingers(mechanism: Mechanism, body: Body, hand: Hand) -> list[HandMeasure]:
    """From the third finger's hole to the near edge of the furthest touch of the little finger."""
    found = []
    for finger, hole in ((Finger.LEFT_LITTLE, "L3"), (Finger.RIGHT_LITTLE, "R3")):
        touches = [touch for touch in mechanism.keys.of(Touch) if touch.finger is finger]
        if hole not in body.rims or not touches:
            continue
        reach = max(
            float(
                np.linalg.norm(mechanism.points[touch.name] - body.rims[hole].centre, axis=1).min()
            )
            for touch in touches
        )
        found.append(
            HandMeasure(
                say("{finger}: from hole '{hole}' to its furthest touch", finger=finger, hole=hole),
                reach,
                LITTLE_REACH_MM[0],
                LITTLE_REACH_MM[1] * hand.share,
            )
        )
    return found


def _thumb(mechanism: Mechanism, body: Body) -> list[HandMeasure]:
    """The left thumb's touch over the body, and from the thumb hole's edge to it."""
    thumb_holes = [
        rim
        for rim in body.rims.values()
        if rim.hole.cover is not Cover.PAD and abs(rim.hole.bearing_deg) > 90
    ]
    found = []
    for touch in mechanism.keys.of(Touch):
        if touch.finger is not Finger.LEFT_THUMB:
            continue
        ends = mechanism.points[touch.name]
        middle = ends.mean(axis=0)
        found.append(
            HandMeasure(
                say("touch of '{key}' over the body", key=touch.key),
                float(np.hypot(middle[1], middle[2]) - body.outside_mm(middle[0])),
                *THUMB_HEIGHT_MM,
            )
        )
        for rim in thumb_holes:
            edge = rim.centre[0] - rim.hole.diameter_mm / 2
            found.append(
                HandMeasure(
                    say(
                        "from the touch of '{key}' to the edge of hole '{hole}'",
                        key=touch.key,
                        hole=rim.hole.name,
                    ),
                    float(edge - ends[:, 0].max()),
                    *THUMB_WAY_MM,
                )
            )
    return found


def _thumb_rest(body: Body) -> list[HandMeasure]:
    """The right thumb's rest, along the body from the right first finger's hole."""
    if not {"R1", "R2"} <= set(body.rims):
        return []
    first, second = (float(body.rims[name].centre[0]) for name in ("R1", "R2"))
    return [
        HandMeasure(
            say("thumb rest below hole 'R1', along the body"),
            body.offset_mm[part.name] + part.thumb_rest.station_mm - first,
            -_REST_BEFORE_MM,
            second - first,
        )
        for part in body.instrument.parts
        if part.thumb_rest is not None
    ]
