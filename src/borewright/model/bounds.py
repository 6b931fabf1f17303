"""What a figure can be, and the likely slip where it cannot.

The figures stand in :mod:`borewright.model.bounds_table`, each with its source. ``low`` to
``high`` is what can be: beyond it a figure is refused, with the slip that leads there. ``usual``
is what the trade makes: beyond it one is asked to look again.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, get_args

from pydantic import GetCoreSchemaHandler
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from borewright.errors import ModelError, RefusedValue
from borewright.model.base import NUMBER_WANTED, Entity, Finite, NotNegative, Positive
from borewright.model.bounds_table import BOUNDS, LENGTH, Bounds, Slip
from borewright.model.plausible import UNIT_SLIP
from borewright.words import Message, Place, Said, Text, say

__all__ = [
    "BOUNDS",
    "Bounded",
    "Bounds",
    "Slip",
    "check_asked",
    "is_unusual",
    "refusal",
    "slip_of",
    "unusual_figures",
    "unusual_words",
    "within",
]


def slip_of(bounds: Bounds, value: float) -> Slip | None:
    """The slip after which a figure would be a usual one, the least of them."""
    low, high = bounds.usual
    fitting = [slip for slip in bounds.slips if low <= float(f"{slip.right(value):.12g}") <= high]
    return min(fitting, key=lambda slip: max(slip.factor, 1 / slip.factor), default=None)


def is_unusual(name: str, value: float) -> bool:
    """Whether a figure that can be is none that the trade makes."""
    bounds = BOUNDS[name]
    if bounds.none and value == 0:
        return False
    return not bounds.usual[0] <= value <= bounds.usual[1]


def unusual_words(name: str, value: float) -> tuple[Message, Message]:
    """What is said of an unusual figure, and what to do."""
    bounds = BOUNDS[name]
    low, high = bounds.usual
    cause = say(
        "{value:g} {unit} is unusual ({low:g} to {high:g} is usual)",
        value=value, unit=bounds.unit, low=low, high=high,
    )  # fmt: skip
    slip = slip_of(bounds, value)
    remedy = say("Look again whether it is meant so; nothing is refused.")
    if slip is not None:
        remedy = say(
            "Look again: {looks}; then it would be {right:g} {unit}.",
            looks=slip.looks, right=_short(slip.right(value)), unit=bounds.unit,
        )  # fmt: skip
    return cause, remedy


def refusal(name: str, value: float) -> tuple[Said, Said] | None:
    """Cause and remedy where a figure cannot be; None where it can."""
    bounds = BOUNDS[name]
    if (bounds.none and value == 0) or bounds.low <= value <= bounds.high:
        return None
    cause: Said
    if value < bounds.low:
        cause = say(
            "{value:g} {unit} is too little to be true (at least {limit:g})",
            value=value, unit=bounds.unit, limit=bounds.low,
        )  # fmt: skip
    else:
        cause = say(
            "{value:g} {unit} is too much to be true (at most {limit:g})",
            value=value, unit=bounds.unit, limit=bounds.high,
        )  # fmt: skip
    slip = slip_of(bounds, value)
    if slip is None:
        return cause, say("Look for a lost decimal point or another unit.")
    return (
        say("{cause}; {looks}", cause=cause, looks=slip.looks),
        say("Write {value:g} ({unit}).", value=_short(slip.right(value)), unit=bounds.unit),
    )


def check_asked(name: str, value: float, place: Text | Place) -> None:
    """Raise ModelError where a figure that was asked for is beyond the named bounds."""
    found = refusal(name, value) if math.isfinite(value) else _NO_NUMBER
    if found is not None:
        raise ModelError(found[0], place=place, remedy=found[1])


_NO_NUMBER = (say("is not a finite number"), NUMBER_WANTED)


def _short(value: float) -> float:
    return float(f"{value:.6g}")


@dataclass(frozen=True)
class Bounded:
    """Puts the named bounds on a field: ``Annotated[Positive, Bounded("shown_mm")]``."""

    name: str

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """The field's own check, then the bounds."""
        return core_schema.no_info_after_validator_function(self.check, handler(source))

    def check(self, value: float) -> float:
        """The value; raises where it is beyond the bounds."""
        found = refusal(self.name, value)
        if found is None:
            return value
        cause, remedy = found
        if BOUNDS[self.name].slips is not LENGTH:
            raise RefusedValue(cause, remedy)
        # A slip of the unit runs through a whole file: one finding stands for all.
        told = {"cause": cause, "remedy": remedy}
        raise PydanticCustomError(UNIT_SLIP, "{cause}. {remedy}", told)


def within(name: str) -> Any:
    """A check that refuses what is beyond the named bounds."""
    return Bounded(name).check


def bounds_names(info: FieldInfo) -> list[str]:
    """Names of the bounds that a field's annotation carries, optional ones too."""
    found = [one.name for one in info.metadata if isinstance(one, Bounded)]
    return found or [one.name for one in _within(info.annotation) if isinstance(one, Bounded)]


def _within(annotation: Any) -> Iterator[Any]:
    yield from getattr(annotation, "__metadata__", ())
    for argument in get_args(annotation):
        yield from _within(argument)


def unusual_figures(
    entity: Entity, place: tuple[Text, ...] = ()
) -> Iterator[tuple[tuple[Text, ...], str, float]]:
    """Every figure of a record, and of records in it, that the trade does not usually make.

    Yields
    ------
    tuple
        Its place (names of parts and holes, then keys), the name of its bounds, the figure.
    """
    for name, info in type(entity).model_fields.items():
        value = getattr(entity, name)
        for bounds in bounds_names(info):
            yield from _figures(value, (*place, name), bounds)
        if isinstance(value, Entity):
            yield from unusual_figures(value, (*place, name))
        elif isinstance(value, list | tuple):
            for number, each in enumerate(value):
                if isinstance(each, Entity):
                    own = str(getattr(each, "name", number + 1))
                    yield from unusual_figures(each, (*place, own))


def _figures(
    value: Any, place: tuple[Text, ...], bounds: str
) -> Iterator[tuple[tuple[Text, ...], str, float]]:
    if isinstance(value, int | float) and is_unusual(bounds, value):
        yield place, bounds, value
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _figures(each, place, bounds)


ShownLength = Annotated[Positive, Bounded("shown_mm")]
MouthpieceBore = Annotated[Positive, Bounded("bore_diameter_mm")]
MouthpieceBoreLength = Annotated[Positive, Bounded("bore_length_mm")]
ChamberVolume = Annotated[NotNegative, Bounded("chamber_mm3")]
ReedVolume = Annotated[NotNegative, Bounded("equivalent_volume_mm3")]
ReedResonance = Annotated[Positive, Bounded("reed_resonance_hz")]
SocketDepth = Annotated[Positive, Bounded("socket_depth_mm")]
JointDiameter = Annotated[Positive, Bounded("joint_diameter_mm")]
TenonLength = Annotated[Positive, Bounded("tenon_length_mm")]
GrooveLength = Annotated[NotNegative, Bounded("groove_length_mm")]
GrooveDepth = Annotated[NotNegative, Bounded("groove_depth_mm")]
RingSeatLength = Annotated[NotNegative, Bounded("ring_seat_length_mm")]
HoleDiameter = Annotated[Positive, Bounded("hole_diameter_mm")]
Chimney = Annotated[Finite, Bounded("chimney_mm")]
PadDiameter = Annotated[Positive, Bounded("pad_diameter_mm")]
PadLift = Annotated[NotNegative, Bounded("pad_lift_mm")]
UndercutDepth = Annotated[Positive, Bounded("undercut_depth_mm")]
PostDepth = Annotated[Positive, Bounded("post_depth_mm")]
AirTemperature = Annotated[Finite, Bounded("air_c")]
RingInside = Annotated[Positive, Bounded("ring_inside_mm")]
Thread = Annotated[Positive, Bounded("thread_mm")]
ThreadPitch = Annotated[Positive, Bounded("thread_pitch_mm")]
KeyHeight = Annotated[Positive, Bounded("key_height_mm")]
SmallMeasure = Annotated[NotNegative, Bounded("small_measure_mm")]
LittleMeasure = Annotated[Positive, Bounded("small_measure_mm")]
Window = Annotated[NotNegative, Bounded("window_mm")]
Cents = Annotated[Finite, Bounded("cents")]
Weight = Annotated[NotNegative, Bounded("weight")]
SpreadMeasure = Annotated[NotNegative, Bounded("spread_mm")]
SurveyedLift = Annotated[Positive, Bounded("gauged_lift_mm")]
Travel = Annotated[NotNegative, Bounded("travel_mm")]
KeyPiece = Annotated[Positive, Bounded("key_piece_mm")]
