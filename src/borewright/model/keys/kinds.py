"""Closed choices about keys, in the trade's words."""

from __future__ import annotations

from borewright.words import Choice, say, say_as


class KeyElement(Choice):
    """What one row of a key survey describes."""

    HINGE = "hinge", say("hinge")
    POST = "post", say("post")
    ARM = "arm", say_as("of a key", "arm")
    CUP = "cup", say("cup")
    RING = "ring", say("ring")
    TOUCH = "touch", say_as("of a key", "touch")
    FOOT = "foot", say_as("of a key", "foot")
    SPRING = "spring", say_as("of a key", "spring")
    STOP = "stop", say_as("of a key", "stop")
    LINK = "link", say_as("of a key", "link")


class SpringShape(Choice):
    """How a spring bends: a round needle or a flat leaf."""

    NEEDLE = "needle", say("needle spring")
    FLAT = "flat", say("flat spring")


class SpringMaterial(Choice):
    """What springs are made of."""

    BLUED_STEEL = "blued steel", say("blued steel")
    STAINLESS = "stainless", say("stainless steel")
    PHOSPHOR_BRONZE = "phosphor bronze", say("phosphor bronze")
    BERYLLIUM_COPPER = "beryllium copper", say("beryllium copper")


class Finger(Choice):
    """Which finger works a touch."""

    LEFT_THUMB = "left thumb", say("left thumb")
    LEFT_FIRST = "left first", say("left first finger")
    LEFT_SECOND = "left second", say("left second finger")
    LEFT_THIRD = "left third", say("left third finger")
    LEFT_LITTLE = "left little", say("left little finger")
    RIGHT_THUMB = "right thumb", say("right thumb")
    RIGHT_FIRST = "right first", say("right first finger")
    RIGHT_SECOND = "right second", say("right second finger")
    RIGHT_THIRD = "right third", say("right third finger")
    RIGHT_LITTLE = "right little", say("right little finger")

    @property
    def hand(self) -> str:
        """``"left"`` or ``"right"``."""
        return self.value.split()[0]
