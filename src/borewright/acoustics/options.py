"""What a computation may leave out or fix, for checks against theory."""

from __future__ import annotations

from typing import NamedTuple

from borewright.errors import AcousticsError
from borewright.words import say


class Air(NamedTuple):
    """Air given by explicit constants instead of a climate.

    ``losses=False`` switches viscous and thermal losses off (radiation stays: an end without
    it is described by ``bottom_end = "ideal"``).
    """

    speed_of_sound: float  # m/s
    density: float  # kg/m3
    losses: bool = True

    def checked(self) -> Air:
        """Raise AcousticsError unless both constants are physical."""
        for name, value, low, high in (
            ("speed_of_sound", self.speed_of_sound, 100.0, 2000.0),
            ("density", self.density, 0.01, 100.0),
        ):
            if not low <= value <= high:
                raise AcousticsError(
                    say("{name} is {value}", name=name, value=repr(value)),
                    place="air",
                    remedy=say("Give SI units, between {low:g} and {high:g}.", low=low, high=high),
                )
        return self


class Options(NamedTuple):
    """Static choices of a kernel (hashable)."""

    lossless: bool = False
    fixed_air: bool = False
    any_width: bool = False  # losses by Bessel functions: right for narrow bores at low frequency


def options_of(air: Air | None) -> tuple[Options, list[float]]:
    """Static choices and the two constants (unused where ``air`` is None)."""
    if air is None:
        return Options(), [345.0, 1.2]
    air.checked()
    return Options(not air.losses, True), [float(air.speed_of_sound), float(air.density)]
