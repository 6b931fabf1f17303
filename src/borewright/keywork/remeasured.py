"""A survey brought to agree with what was measured on one of its keys.

Where pad and rings lie is the body's affair: a number that changes moves the hinge, not the pad.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from borewright.errors import KeyworkError
from borewright.keywork.body import Body
from borewright.keywork.frame import surveyed
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.numbers import (
    FIELDS,
    SAME,
    KeyFrame,
    Measured,
    Number,
    first_of,
    key_frame,
    numbers_of,
)
from borewright.keywork.plane import angle_for_lift_deg
from borewright.keywork.standing import laid_on_body
from borewright.model import Instrument, KeySet
from borewright.model.keys import Arm, Cup, Element, Foot, Hinge, Link, Post, Ring, Touch
from borewright.words import Message, say

#: Numbers that change how far touches, rings and links travel.
_MOVING = {
    Number.ARM,
    Number.HEIGHT,
    Number.LIFT,
    Number.SWING,
    Number.TOUCH_ASIDE,
    Number.TOUCH_OVER,
    Number.FOOT_ASIDE,
    Number.FOOT_OVER,
}


def with_numbers(
    keys: KeySet, instrument: Instrument, key: str, given: Mapping[Number, Measured]
) -> KeySet:
    """The survey with one key as it was measured; what was not given stays as it is.

    Pads and rings stay where the body has them: arm, height and station move the hinge, with its
    posts and all that turns on it. A hinge that shares its rod with another key stays, and the pad
    is moved; the gate then tells whether it still lies on its hole. Stated uncertainties of one
    element's numbers are kept as the largest of them.

    Raises
    ------
    KeyworkError
        For a number that the key has not, or that cannot be.
    """
    mechanism = Mechanism(keys, instrument)
    before, frame = numbers_of(mechanism, key), key_frame(mechanism, key)
    wanted: dict[Number, float] = {}
    for number, measured in given.items():
        if number not in before:
            raise _impossible(key, number, say("this key has none"))
        if abs(measured.value - before[number].value) > SAME:
            wanted[number] = measured.value
    _check(key, wanted)
    elements = _moved(mechanism, Body(instrument), key, frame, before, wanted)
    made = KeySet(
        elements=tuple(
            _doubted(_sized(elements.get(each.name, each), key, wanted), key, given)
            for each in keys.elements
        ),
        source=keys.source,
    )
    if Number.TILT in wanted:
        made = _tilted(made, instrument, key, wanted[Number.TILT])
    return _swung(made, instrument, key, wanted)


def _check(key: str, wanted: Mapping[Number, float]) -> None:
    free = {Number.STATION, Number.HEIGHT, Number.TILT}
    for number, value in wanted.items():
        signed = number in free or number.element in (Touch, Foot)
        if not signed and value <= 0:
            raise _impossible(key, number, say("{value:g} is not more than 0", value=value))
        if abs(value) > 250 or (number.unit == "°" and abs(value) > 45):
            raise _impossible(key, number, say("{value:g} is no size of a key", value=value))


def _impossible(key: str, number: Number, cause: Message) -> KeyworkError:
    return KeyworkError(cause, place=(key, number.words), remedy=say("Measure it again."))


def _moved(
    mechanism: Mechanism,
    body: Body,
    key: str,
    frame: KeyFrame,
    before: Mapping[Number, Measured],
    wanted: Mapping[Number, float],
) -> dict[str, Element]:
    """Elements of the key, and posts of its hinge, at their new places."""

    def off(number: Number) -> float:
        return wanted[number] - before[number].value if number in wanted else 0.0

    keys, hinge = mechanism.keys, mechanism.keys.hinge(key)
    shared = [tube.key for tube in keys.of(Hinge) if tube.hinge == hinge.hinge and tube.key != key]
    pad = frame.way(off(Number.STATION), off(Number.ARM), -off(Number.HEIGHT))
    hinged = np.zeros(3) if shared else -pad
    pad = pad + hinged
    touch = hinged + frame.way(
        off(Number.TOUCH_ALONG), off(Number.TOUCH_ASIDE), off(Number.TOUCH_OVER)
    )
    foot = hinged + frame.way(off(Number.FOOT_ALONG), off(Number.FOOT_ASIDE), off(Number.FOOT_OVER))
    longer = frame.way(off(Number.LENGTH), 0.0, 0.0)
    whole = {Cup: pad, Touch: touch, Link: foot}
    joined = [
        (mechanism.points[each.name], _reach(each), move)
        for kind, move in ((Cup, pad), (Touch, touch))
        for each in keys.of_key(key)
        if type(each) is kind
    ]
    half = before[Number.LENGTH].value / 2
    found: dict[str, Element] = {}
    for each in keys.elements:
        first, second = mechanism.points[each.name]
        moves = (hinged, hinged)
        if isinstance(each, Post):
            if each.hinge != hinge.hinge or shared:
                continue
            if float((second - frame.origin) @ frame.along) > half:
                moves = (hinged + longer, hinged + longer)
        elif each.key != key:
            continue
        elif isinstance(each, Hinge):
            moves = (hinged, hinged + longer)
        elif type(each) in whole:
            moves = (whole[type(each)], whole[type(each)])
        elif isinstance(each, Foot):
            moves = (_end(first, joined, hinged), foot)
        elif isinstance(each, Arm):
            moves = (_end(first, joined, hinged), _end(second, joined, hinged))
        if max(np.abs(move).max() for move in moves) < SAME:
            continue
        offset = body.offset_mm[each.part]
        points = laid_on_body(mechanism, body, each, (first + moves[0], second + moves[1]))
        found[each.name] = each.model_copy(
            update={"first": surveyed(points[0], offset), "second": surveyed(points[1], offset)}
        )
    return found


def _reach(element: Element) -> float:
    """How near (mm) to a cup's or touch's own line a lever's end is soldered to it."""
    if isinstance(element, Cup):
        return element.outside_mm / 2
    return element.width_mm / 2 + 1.0 if isinstance(element, Touch) else 0.0


def _end(
    point: np.ndarray,
    joined: list[tuple[np.ndarray, float, np.ndarray]],
    otherwise: np.ndarray,
) -> np.ndarray:
    """How a lever's end goes: with what it is soldered to, else with the hinge."""
    for (first, second), reach, move in joined:
        way = second - first
        share = float(np.clip((point - first) @ way / (way @ way), 0.0, 1.0))
        if np.linalg.norm(point - first - share * way) <= reach:
            return move
    return otherwise


def _sized(element: Element, key: str, wanted: Mapping[Number, float]) -> Element:
    if element.key != key:
        return element
    fields: dict[str, float | None] = {
        field: wanted[number]
        for number, field in FIELDS.items()
        if number in wanted and number.element is type(element)
    }
    # A travel was read with the key as it was; the key now tells its own.
    if isinstance(element, Touch | Ring | Link) and _MOVING & set(wanted):
        fields["travel_mm"] = None
    return element.model_copy(update=fields) if fields else element


def _tilted(keys: KeySet, instrument: Instrument, key: str, degrees: float) -> KeySet:
    """The cup bent along its tube by an angle from square."""
    mechanism = Mechanism(keys, instrument)
    frame = key_frame(mechanism, key)
    cup = first_of(mechanism, key, Cup)
    if cup is None:
        return keys
    first, second = mechanism.points[cup.name]
    turn, height = math.radians(degrees), float(np.linalg.norm(second - first))
    top = first + height * (math.cos(turn) * frame.over + math.sin(turn) * frame.along)
    offset = Body(instrument).offset_mm[cup.part]
    bent = cup.model_copy(update={"second": surveyed(top, offset)})
    return _replaced(keys, cup, bent)


def _replaced(keys: KeySet, element: Element, by: Element) -> KeySet:
    return keys.model_copy(
        update={"elements": tuple(by if each is element else each for each in keys.elements)}
    )


def _doubted(element: Element, key: str, given: Mapping[Number, Measured]) -> Element:
    stated = [
        measured.uncertainty
        for number, measured in given.items()
        if number.element is type(element) and measured.uncertainty is not None
    ]
    if element.key != key or not stated:
        return element
    return element.model_copy(update={"uncertainty_mm": max(stated)})


def _swung(
    keys: KeySet, instrument: Instrument, key: str, wanted: Mapping[Number, float]
) -> KeySet:
    """The angle that gives the pad's stated lift, or the one measured."""
    hinge = keys.hinge(key)
    cup = next((each for each in keys.of_key(key) if isinstance(each, Cup)), None)
    if cup is not None and {Number.LIFT, Number.ARM, Number.HEIGHT} & set(wanted):
        now = numbers_of(Mechanism(keys, instrument), key)
        try:
            angle = angle_for_lift_deg(cup.lift_mm, now[Number.ARM].value, now[Number.HEIGHT].value)
        except ValueError as error:
            raise _impossible(
                key, Number.LIFT, say("no swing of this arm lifts the pad so far")
            ) from error
    elif Number.SWING in wanted:
        angle = wanted[Number.SWING]
    else:
        return keys
    signed = math.copysign(angle, hinge.open_deg)
    return _replaced(keys, hinge, hinge.model_copy(update={"open_deg": signed}))
