"""A key begun from its numbers alone: hinge, posts, arms, cup and touch on this body.

What is drawn between them, the levers' bends above all, is a first guess to be measured.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np

from borewright.errors import KeyworkError
from borewright.keywork.body import Body, Rim
from borewright.keywork.figures import PLAY_MM
from borewright.keywork.frame import outward_at, surveyed
from borewright.keywork.numbers import KeyFrame, Measured, Number
from borewright.keywork.plane import angle_for_lift_deg
from borewright.model import Instrument, KeySet, Rest
from borewright.model.keys import (
    Arm,
    Cup,
    Element,
    Hinge,
    KeyPoint,
    Post,
    Spring,
    SpringMaterial,
    SpringShape,
    Touch,
)
from borewright.words import Message, say

#: Posts, levers and touches as they are begun (mm; common practice).
_HEAD_MM, _THREAD_MM, _LEVER_MM = 4.0, 3.0, 2.4
_TOUCH_LONG_MM, _TOUCH_WIDE_MM, _TOUCH_THICK_MM = 10.0, 8.0, 1.6
_CUP_TALL_MM = 3.8
#: A lever is bent so that its middle clears the body by this (mm).
_CLEAR_MM = 1.5
#: What a key with a pad cannot do without.
NEEDED = (
    Number.LENGTH,
    Number.TUBE,
    Number.ROD,
    Number.STATION,
    Number.ARM,
    Number.HEIGHT,
    Number.CUP,
    Number.PAD,
    Number.LIFT,
    Number.TOUCH_ALONG,
    Number.TOUCH_ASIDE,
    Number.TOUCH_OVER,
)


class HingeWay(StrEnum):
    """Where a key's hinge lies, seen from its hole."""

    LEFT = "left"
    RIGHT = "right"
    ABOVE = "above"
    BELOW = "below"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _WAYS[self]


_WAYS = {
    HingeWay.LEFT: say("along the body, to the player's left of its hole"),
    HingeWay.RIGHT: say("along the body, to the player's right of its hole"),
    HingeWay.ABOVE: say("across the body, above its hole"),
    HingeWay.BELOW: say("across the body, below its hole"),
}


@dataclass(frozen=True)
class NewKey:
    """A key that no survey has yet: its name, its hole, where its hinge lies, how it rests."""

    name: str
    hole: str
    hinge: HingeWay
    rest: Rest


def begun_key(
    instrument: Instrument,
    keys: KeySet | None,
    wish: NewKey,
    given: Mapping[Number, Measured],
) -> KeySet:
    """The survey with one key more, which stands on the body as its numbers say.

    A spring is drawn as a blued needle where its thickness, free length and deflection are given.

    Raises
    ------
    KeyworkError
        Where a number is missing or cannot be, or the name or hole is taken or unknown.
    """
    before = keys.elements if keys is not None else ()
    rim = _rim(instrument, keys, wish)
    for number in NEEDED:
        if number not in given:
            raise KeyworkError(
                say("{number} is missing", number=number.words),
                place=wish.name,
                remedy=say("Measure it; the drawing shows where."),
            )
    values = {number: each.value for number, each in given.items()}
    for number in (Number.LENGTH, Number.TUBE, Number.ROD, Number.ARM, Number.CUP, Number.PAD):
        if values[number] <= 0:
            raise KeyworkError(
                say("{value:g} is not more than 0", value=values[number]),
                place=(wish.name, number.words),
                remedy=say("Measure it again."),
            )
    try:
        angle = angle_for_lift_deg(values[Number.LIFT], values[Number.ARM], values[Number.HEIGHT])
    except ValueError as error:
        raise KeyworkError(
            say("no swing of this arm lifts the pad so far"),
            place=(wish.name, Number.LIFT.words),
            remedy=say("Measure it again."),
        ) from error
    made = _Begun(Body(instrument), rim, wish, values).elements(angle)
    doubts = {
        kind: max(d for n, m in given.items() if n.element is kind and (d := m.uncertainty))
        for kind in {number.element for number, m in given.items() if m.uncertainty}
    }
    stated = [
        each.model_copy(update={"uncertainty_mm": doubts.get(type(each))})
        if type(each) in doubts
        else each
        for each in made
    ]
    return KeySet(elements=(*before, *stated), source=keys.source if keys is not None else "")


def _rim(instrument: Instrument, keys: KeySet | None, wish: NewKey) -> Rim:
    rims = Body(instrument).rims
    taken = {each.key for each in keys.elements} if keys is not None else set()
    if not wish.name.strip() or wish.name in taken:
        raise KeyworkError(
            say("a new key needs a name of its own"),
            place=wish.name,
            remedy=say("Give it one that no key has yet."),
        )
    if wish.hole not in rims:
        raise KeyworkError(
            say("there is no hole '{hole}'", hole=wish.hole),
            place=wish.name,
            remedy=say("Choose the hole that its pad shuts."),
        )
    return rims[wish.hole]


class _Begun:
    def __init__(self, body: Body, rim: Rim, wish: NewKey, values: Mapping[Number, float]) -> None:
        self.body, self.rim, self.wish, self.values = body, rim, wish, values
        self.offset = body.offset_mm[rim.part]
        down, out = np.array([1.0, 0.0, 0.0]), rim.out
        left = np.cross(out, down)
        # Towards the pad from the hinge; along runs down the body, or to the player's left.
        aside = {
            HingeWay.LEFT: -left,
            HingeWay.RIGHT: left,
            HingeWay.ABOVE: down,
            HingeWay.BELOW: -down,
        }[wish.hinge]
        across = wish.hinge in (HingeWay.ABOVE, HingeWay.BELOW)
        along = left if across else down
        origin = (
            rim.centre
            - values[Number.STATION] * along
            - values[Number.ARM] * aside
            + values[Number.HEIGHT] * out
        )
        self.frame = KeyFrame(origin, along, aside, out)

    def _point(self, point: np.ndarray) -> KeyPoint:
        return surveyed(point, self.offset)

    def _at(self, along: float, aside: float = 0.0, over: float = 0.0) -> np.ndarray:
        return np.asarray(self.frame.origin + self.frame.way(along, aside, over))

    def elements(self, angle: float) -> list[Element]:
        """All rows of the key."""
        name, values, frame = self.wish.name, self.values, self.frame
        length = values[Number.LENGTH]
        common: dict[str, Any] = {"key": name, "part": self.rim.part, "hinge": f"H-{name}"}
        # By the right hand about the tube, the pad must rise.
        rises = float(np.cross(frame.along, frame.aside) @ frame.over) > 0
        found: list[Element] = [
            Hinge(
                **common,
                name=f"H-{name}",
                first=self._point(self._at(0.0)),
                second=self._point(self._at(length)),
                tube_mm=values[Number.TUBE],
                rod_mm=values[Number.ROD],
                rest=self.wish.rest,
                open_deg=angle if rises else -angle,
            )
        ]
        reach = PLAY_MM + _HEAD_MM / 2
        for number, along in ((1, -reach), (2, length + reach)):
            head = self._at(along)
            foot = head.copy()
            foot[1:] *= float(self.body.outside_mm(head[0])) / np.hypot(head[1], head[2])
            found.append(
                Post(
                    **common,
                    name=f"P-{name}{number}",
                    first=self._point(foot),
                    second=self._point(head),
                    head_mm=_HEAD_MM,
                    thread_mm=_THREAD_MM,
                )
            )
        face = self.rim.centre
        top = face + _CUP_TALL_MM * frame.over
        touch = self._at(
            values[Number.TOUCH_ALONG], values[Number.TOUCH_ASIDE], values[Number.TOUCH_OVER]
        )
        plate = np.array([_TOUCH_LONG_MM / 2, 0.0, 0.0])
        found += self._lever("", values[Number.STATION], top, common)
        found += self._lever("-touch", values[Number.TOUCH_ALONG], touch, common)
        found += [
            Cup(
                **common,
                name=f"C-{name}",
                first=self._point(face),
                second=self._point(top),
                hole=self.wish.hole,
                pad_mm=values[Number.PAD],
                outside_mm=values[Number.CUP],
                rest=self.wish.rest,
                lift_mm=values[Number.LIFT],
            ),
            Touch(
                **common,
                name=f"T-{name}",
                first=self._point(touch - plate),
                second=self._point(touch + plate),
                width_mm=_TOUCH_WIDE_MM,
                thickness_mm=_TOUCH_THICK_MM,
            ),
        ]
        return [*found, *self._spring(common)]

    def _lever(
        self, suffix: str, along: float, end: np.ndarray, common: Mapping[str, Any]
    ) -> list[Element]:
        """From the tube to a cup or touch, bent once so that it clears the body."""
        inset = min(_LEVER_MM / 2, self.values[Number.LENGTH] / 2)
        start = self._at(float(np.clip(along, inset, self.values[Number.LENGTH] - inset)))
        middle = (start + end) / 2
        radius = float(np.hypot(middle[1], middle[2]))
        least = float(self.body.outside_mm(middle[0])) + _LEVER_MM / 2 + _CLEAR_MM
        least = max(least, min(np.hypot(*start[1:]), np.hypot(*end[1:])))
        if radius < least:
            middle = middle + (least - radius) * outward_at(middle)
        name = self.wish.name
        return [
            Arm(
                **common,
                name=f"A-{name}{suffix}{number}",
                first=self._point(one),
                second=self._point(other),
                diameter_mm=_LEVER_MM,
            )
            for number, one, other in ((1, start, middle), (2, middle, end))
        ]

    def _spring(self, common: Mapping[str, Any]) -> list[Element]:
        needed = (Number.SPRING, Number.SPRING_LENGTH, Number.SPRING_BENT)
        if any(number not in self.values for number in needed):
            return []
        thick, long, bent = (self.values[number] for number in needed)
        tube = self.values[Number.TUBE] / 2
        return [
            Spring(
                **common,
                name=f"S-{self.wish.name}",
                first=self._point(self._at(-PLAY_MM - _HEAD_MM / 2, 0.0, -1.0)),
                second=self._point(self._at(long - _HEAD_MM / 2, 0.0, -tube - 0.3 - thick / 2)),
                shape=SpringShape.NEEDLE,
                material=SpringMaterial.BLUED_STEEL,
                thickness_mm=thick,
                held_by=f"P-{self.wish.name}1",
                free_length_mm=long,
                deflection_mm=bent,
            )
        ]
