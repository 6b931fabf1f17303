"""A key as a handful of measured numbers.

A key is measured off the body: from the first end of its tube, along it; in its pad's own plane,
square to the tube, towards the pad; and square to that plane, towards the cup's top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from borewright.keywork.frame import outward_at, placed
from borewright.keywork.mechanism import Mechanism, TurningKey
from borewright.model import KeySet
from borewright.model.keys import (
    Cup,
    Element,
    Foot,
    Hinge,
    Ring,
    Spring,
    Touch,
)
from borewright.words import Message, say

#: Numbers that agree within this (mm, degrees) are the same: files keep three decimals.
SAME = 1e-3


class Number(StrEnum):
    """What is measured on a key; each belongs to one element of the survey."""

    LENGTH = "tube length"
    TUBE = "tube outside"
    ROD = "rod"
    STATION = "pad along the tube"
    ARM = "hinge to pad's middle"
    HEIGHT = "hinge over pad's face"
    CUP = "cup outside"
    PAD = "pad's diameter"
    TILT = "cup's tilt to the hinge"
    LIFT = "lift"
    SWING = "swing"
    INSIDE = "ring inside"
    OUTSIDE = "ring outside"
    TOUCH_ALONG = "touch along the tube"
    TOUCH_ASIDE = "touch aside of the hinge"
    TOUCH_OVER = "touch over the hinge"
    FOOT_ALONG = "foot along the tube"
    FOOT_ASIDE = "foot aside of the hinge"
    FOOT_OVER = "foot over the hinge"
    SPRING = "spring's thickness"
    SPRING_LENGTH = "spring's free length"
    SPRING_BENT = "spring's deflection"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _WORDS[self]

    @property
    def unit(self) -> str:
        """``mm`` or ``°``."""
        return "°" if self in (Number.TILT, Number.SWING) else "mm"

    @property
    def element(self) -> type[Element]:
        """The kind of row whose uncertainty it shares."""
        return _ELEMENTS[self]


_WORDS = {
    Number.LENGTH: say("tube length"),
    Number.TUBE: say("tube's outside diameter"),
    Number.ROD: say("rod's diameter"),
    Number.STATION: say("pad's middle along the tube"),
    Number.ARM: say("hinge to pad's middle"),
    Number.HEIGHT: say("hinge over pad's face"),
    Number.CUP: say("cup's outside diameter"),
    Number.PAD: say("pad's diameter"),
    Number.TILT: say("cup's tilt to the hinge"),
    Number.LIFT: say("lift"),
    Number.SWING: say("angle that it swings"),
    Number.INSIDE: say("ring's inside diameter"),
    Number.OUTSIDE: say("ring's outside diameter"),
    Number.TOUCH_ALONG: say("touch's middle along the tube"),
    Number.TOUCH_ASIDE: say("touch's middle aside of the hinge"),
    Number.TOUCH_OVER: say("touch's middle over the hinge"),
    Number.FOOT_ALONG: say("foot's end along the tube"),
    Number.FOOT_ASIDE: say("foot's end aside of the hinge"),
    Number.FOOT_OVER: say("foot's end over the hinge"),
    Number.SPRING: say("spring's thickness"),
    Number.SPRING_LENGTH: say("spring's free length"),
    Number.SPRING_BENT: say("spring's deflection"),
}
_ELEMENTS: dict[Number, type[Element]] = {
    Number.LENGTH: Hinge,
    Number.TUBE: Hinge,
    Number.ROD: Hinge,
    Number.STATION: Cup,
    Number.ARM: Cup,
    Number.HEIGHT: Cup,
    Number.CUP: Cup,
    Number.PAD: Cup,
    Number.TILT: Cup,
    Number.LIFT: Cup,
    Number.SWING: Hinge,
    Number.INSIDE: Ring,
    Number.OUTSIDE: Ring,
    Number.TOUCH_ALONG: Touch,
    Number.TOUCH_ASIDE: Touch,
    Number.TOUCH_OVER: Touch,
    Number.FOOT_ALONG: Foot,
    Number.FOOT_ASIDE: Foot,
    Number.FOOT_OVER: Foot,
    Number.SPRING: Spring,
    Number.SPRING_LENGTH: Spring,
    Number.SPRING_BENT: Spring,
}
#: Fields that hold a number as it is measured.
FIELDS: dict[Number, str] = {
    Number.TUBE: "tube_mm",
    Number.ROD: "rod_mm",
    Number.CUP: "outside_mm",
    Number.PAD: "pad_mm",
    Number.LIFT: "lift_mm",
    Number.INSIDE: "inside_mm",
    Number.OUTSIDE: "outside_mm",
    Number.SPRING: "thickness_mm",
    Number.SPRING_LENGTH: "free_length_mm",
    Number.SPRING_BENT: "deflection_mm",
}


@dataclass(frozen=True)
class Measured:
    """One number (mm or degrees) with its standard uncertainty, None where nobody stated one."""

    value: float
    uncertainty: float | None = None


@dataclass(frozen=True)
class KeyFrame:
    """A key's own frame: ``origin`` at its tube's first end, unit vectors in the body's frame."""

    origin: np.ndarray
    along: np.ndarray
    aside: np.ndarray
    over: np.ndarray

    def of(self, point: np.ndarray) -> np.ndarray:
        """Along, aside and over (mm), shape (3,)."""
        off = point - self.origin
        return np.array([off @ self.along, off @ self.aside, off @ self.over])

    def way(self, along: float, aside: float, over: float) -> np.ndarray:
        """A way in the body's frame, shape (3,)."""
        return np.asarray(along * self.along + aside * self.aside + over * self.over)


class KeysApart:
    """Keys on no body in particular: enough for what is measured within one key."""

    def __init__(self, keys: KeySet) -> None:
        self.keys = keys
        self.points = {
            each.name: np.stack([placed(each.first, 0.0), placed(each.second, 0.0)])
            for each in keys.elements
        }
        self.turning = {
            hinge.key: TurningKey(hinge.key, hinge, a, (c - a) / np.linalg.norm(c - a))
            for hinge in keys.of(Hinge)
            for a, c in (self.points[hinge.name],)
        }


def key_frame(mechanism: Mechanism | KeysApart, key: str) -> KeyFrame:
    """A key's own frame, by its pad, else by its touch or ring."""
    turning = mechanism.turning[key]
    lid = first_of(mechanism, key, Cup)
    seen = lid or first_of(mechanism, key, Touch) or first_of(mechanism, key, Ring)
    middle = mechanism.points[turning.hinge.name].mean(axis=0)
    target = middle
    if seen is not None:
        target = mechanism.points[seen.name].mean(axis=0)
    over = outward_at(middle)
    if lid is not None:
        face, top = mechanism.points[lid.name]
        target, over = face, top - face
    over = over - (over @ turning.axis) * turning.axis
    over /= np.linalg.norm(over)
    aside = np.cross(turning.axis, over)
    if aside @ (target - turning.origin) < 0:
        aside = -aside
    return KeyFrame(turning.origin, turning.axis, aside, over)


def numbers_of(mechanism: Mechanism | KeysApart, key: str) -> dict[Number, Measured]:
    """Every number of a key that its survey holds."""
    frame = key_frame(mechanism, key)
    found: dict[Number, Measured] = {}
    for element in mechanism.keys.of_key(key):
        told = _told(mechanism, frame, element)
        told |= {
            number: float(getattr(element, field))
            for number, field in FIELDS.items()
            if type(element) is number.element
        }
        for number, value in told.items():
            found.setdefault(number, Measured(float(value), element.uncertainty_mm))
    if Number.LIFT in found:
        found.pop(Number.SWING, None)
    return {number: found[number] for number in Number if number in found}


def _told(
    mechanism: Mechanism | KeysApart, frame: KeyFrame, element: Element
) -> dict[Number, float]:
    first, second = mechanism.points[element.name]
    if isinstance(element, Hinge):
        length = float(np.linalg.norm(second - first))
        return {Number.LENGTH: length, Number.SWING: abs(element.open_deg)}
    if isinstance(element, Cup):
        along, aside, over = frame.of(first)
        out = (second - first) / np.linalg.norm(second - first)
        tilt = math.degrees(math.asin(min(max(float(out @ frame.along), -1.0), 1.0)))
        return {
            Number.STATION: along,
            Number.ARM: aside,
            Number.HEIGHT: -over,
            Number.TILT: tilt,
        }
    if isinstance(element, Touch):
        names = (Number.TOUCH_ALONG, Number.TOUCH_ASIDE, Number.TOUCH_OVER)
        return dict(zip(names, frame.of((first + second) / 2), strict=True))
    if isinstance(element, Foot):
        names = (Number.FOOT_ALONG, Number.FOOT_ASIDE, Number.FOOT_OVER)
        return dict(zip(names, frame.of(second), strict=True))
    return {}


def first_of(mechanism: Mechanism | KeysApart, key: str, kind: type[Element]) -> Element | None:
    """A key's first element of exactly that kind, or None."""
    return next((each for each in mechanism.keys.of_key(key) if type(each) is kind), None)
