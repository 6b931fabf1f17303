"""One table of what a figure of an instrument can be.

``low`` to ``high`` is what no woodwind passes: beyond it a figure is refused, with the slip that
leads there. ``usual`` is what the trade makes: beyond it one is asked to look again. All
"common practice" or "from memory", since no standard gives them; wider than any instrument known.
A part's sizes have no lower bound here: :mod:`borewright.model.plausible` tells a whole file that
is in inches from a single slip.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, NamedTuple

from pydantic import AfterValidator
from pydantic_core import PydanticCustomError

from borewright.errors import RefusedValue
from borewright.model.base import Finite, NotNegative, Positive
from borewright.model.plausible import UNIT_SLIP
from borewright.words import Said, say


class Slip(NamedTuple):
    """A wrong unit or point: the figure times ``factor`` would be right."""

    factor: float
    looks: Said


_INCH = Slip(25.4, say("that looks like inches"))
_CENTIMETRE = Slip(10.0, say("that looks like centimetres"))
_METRE = Slip(1000.0, say("that looks like metres"))
_POINT = (
    Slip(0.1, say("that looks like a lost decimal point")),
    Slip(0.01, say("that looks like a lost decimal point")),
)
_LENGTH = (_INCH, _CENTIMETRE, _METRE, *_POINT)
_VOLUME = (Slip(1000.0, say("that looks like cubic centimetres")), *_POINT)
_FREQUENCY = (Slip(1000.0, say("that looks like kilohertz")), *_POINT)


class Bounds(NamedTuple):
    """What a figure can be, and what it usually is."""

    low: float
    high: float
    usual: tuple[float, float]
    unit: str
    slips: tuple[Slip, ...]
    none: bool = False  # nought means: there is none


BOUNDS = {
    "shown_mm": Bounds(5, 250, (30, 150), "mm", _LENGTH),
    "bore_diameter_mm": Bounds(3, 60, (8, 32), "mm", _LENGTH),
    "bore_length_mm": Bounds(0, 200, (10, 120), "mm", _LENGTH),
    "chamber_mm3": Bounds(50, 200_000, (500, 40_000), "mm³", _VOLUME, none=True),
    "equivalent_volume_mm3": Bounds(5, 50_000, (100, 10_000), "mm³", _VOLUME, none=True),
    "reed_resonance_hz": Bounds(100, 20_000, (800, 5_000), "Hz", _FREQUENCY),
    "outside_mm": Bounds(0, 400, (10, 250), "mm", _LENGTH),
    "socket_depth_mm": Bounds(0, 100, (5, 60), "mm", _LENGTH),
    "joint_diameter_mm": Bounds(0, 150, (8, 80), "mm", _LENGTH),
    "tenon_length_mm": Bounds(0, 100, (5, 60), "mm", _LENGTH),
    "hole_diameter_mm": Bounds(0, 60, (1.5, 40), "mm", _LENGTH),
    "chimney_mm": Bounds(-40, 60, (-8, 25), "mm", ()),
    "pad_diameter_mm": Bounds(0, 100, (4, 75), "mm", _LENGTH),
    "pad_lift_mm": Bounds(0, 30, (0.8, 15), "mm", _LENGTH, none=True),
    "undercut_depth_mm": Bounds(0, 40, (0.2, 15), "mm", _LENGTH),
    "post_depth_mm": Bounds(0.5, 30, (2, 12), "mm", _LENGTH),
}


def slip_of(bounds: Bounds, value: float) -> Slip | None:
    """The slip after which a figure would be a usual one, the least of them."""
    low, high = bounds.usual
    fitting = [slip for slip in bounds.slips if low <= round(value * slip.factor, 9) <= high]
    return min(fitting, key=lambda slip: max(slip.factor, 1 / slip.factor), default=None)


def is_unusual(name: str, value: float) -> bool:
    """Whether a figure that can be is none that the trade makes."""
    bounds = BOUNDS[name]
    if bounds.none and value == 0:
        return False
    return not bounds.usual[0] <= value <= bounds.usual[1]


def within(name: str) -> Callable[[float], float]:
    """A validator that refuses what is beyond the named bounds."""
    bounds = BOUNDS[name]

    def check(value: float) -> float:
        if (bounds.none and value == 0) or bounds.low <= value <= bounds.high:
            return value
        limit = bounds.low if value < bounds.low else bounds.high
        cause = (
            say("{value:g} {unit} is less than any instrument has (at least {limit:g})",
                value=value, unit=bounds.unit, limit=limit)
            if value < bounds.low
            else say("{value:g} {unit} is more than any instrument has (at most {limit:g})",
                     value=value, unit=bounds.unit, limit=limit)
        )  # fmt: skip
        slip = slip_of(bounds, value)
        remedy = say("Look for a lost decimal point or another unit.")
        if slip is not None:
            right = round(value * slip.factor, 6)
            cause = say("{cause}; {looks}", cause=cause, looks=slip.looks)
            remedy = say("Write {value:g} ({unit}).", value=right, unit=bounds.unit)
        if bounds.slips is not _LENGTH:
            raise RefusedValue(cause, remedy)
        # A slip of the unit runs through a whole file: one finding stands for all.
        told = {"cause": cause, "remedy": remedy}
        raise PydanticCustomError(UNIT_SLIP, "{cause}. {remedy}", told)

    return check


ShownLength = Annotated[Positive, AfterValidator(within("shown_mm"))]
MouthpieceBore = Annotated[Positive, AfterValidator(within("bore_diameter_mm"))]
MouthpieceBoreLength = Annotated[Positive, AfterValidator(within("bore_length_mm"))]
ChamberVolume = Annotated[NotNegative, AfterValidator(within("chamber_mm3"))]
ReedVolume = Annotated[NotNegative, AfterValidator(within("equivalent_volume_mm3"))]
ReedResonance = Annotated[Positive, AfterValidator(within("reed_resonance_hz"))]
SocketDepth = Annotated[Positive, AfterValidator(within("socket_depth_mm"))]
JointDiameter = Annotated[Positive, AfterValidator(within("joint_diameter_mm"))]
TenonLength = Annotated[Positive, AfterValidator(within("tenon_length_mm"))]
HoleDiameter = Annotated[Positive, AfterValidator(within("hole_diameter_mm"))]
Chimney = Annotated[Finite, AfterValidator(within("chimney_mm"))]
PadDiameter = Annotated[Positive, AfterValidator(within("pad_diameter_mm"))]
PadLift = Annotated[NotNegative, AfterValidator(within("pad_lift_mm"))]
UndercutDepth = Annotated[Positive, AfterValidator(within("undercut_depth_mm"))]
PostDepth = Annotated[Positive, AfterValidator(within("post_depth_mm"))]
