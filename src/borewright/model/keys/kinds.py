"""Closed choices about keys, in the trade's words."""

from __future__ import annotations

from enum import StrEnum

from borewright.words import Message, say, say_as


class KeyElement(StrEnum):
    """What one row of a key survey describes."""

    HINGE = "hinge"
    POST = "post"
    ARM = "arm"
    CUP = "cup"
    RING = "ring"
    TOUCH = "touch"
    FOOT = "foot"
    SPRING = "spring"
    STOP = "stop"
    LINK = "link"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _ELEMENTS[self.value]


_ELEMENTS = {
    "hinge": say("hinge"),
    "post": say("post"),
    "arm": say_as("of a key", "arm"),
    "cup": say("cup"),
    "ring": say("ring"),
    "touch": say_as("of a key", "touch"),
    "foot": say_as("of a key", "foot"),
    "spring": say_as("of a key", "spring"),
    "stop": say_as("of a key", "stop"),
    "link": say_as("of a key", "link"),
}


class SpringShape(StrEnum):
    """How a spring bends: a round needle or a flat leaf."""

    NEEDLE = "needle"
    FLAT = "flat"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _SHAPES[self.value]


_SHAPES = {"needle": say("needle spring"), "flat": say("flat spring")}


class SpringMaterial(StrEnum):
    """What springs are made of."""

    BLUED_STEEL = "blued steel"
    STAINLESS = "stainless"
    PHOSPHOR_BRONZE = "phosphor bronze"
    BERYLLIUM_COPPER = "beryllium copper"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _MATERIALS[self.value]


_MATERIALS = {
    "blued steel": say("blued steel"),
    "stainless": say("stainless steel"),
    "phosphor bronze": say("phosphor bronze"),
    "beryllium copper": say("beryllium copper"),
}


class Finger(StrEnum):
    """Which finger works a touch."""

    LEFT_THUMB = "left thumb"
    LEFT_FIRST = "left first"
    LEFT_SECOND = "left second"
    LEFT_THIRD = "left third"
    LEFT_LITTLE = "left little"
    RIGHT_THUMB = "right thumb"
    RIGHT_FIRST = "right first"
    RIGHT_SECOND = "right second"
    RIGHT_THIRD = "right third"
    RIGHT_LITTLE = "right little"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _FINGERS[self.value]

    @property
    def hand(self) -> str:
        """``"left"`` or ``"right"``."""
        return self.value.split()[0]


_FINGERS = {
    "left thumb": say("left thumb"),
    "left first": say("left first finger"),
    "left second": say("left second finger"),
    "left third": say("left third finger"),
    "left little": say("left little finger"),
    "right thumb": say("right thumb"),
    "right first": say("right first finger"),
    "right second": say("right second finger"),
    "right third": say("right third finger"),
    "right little": say("right little finger"),
}
