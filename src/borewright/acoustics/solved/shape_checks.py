"""Shapes that could not be made or meshed are refused, with place, cause and remedy."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.errors import AcousticsError
from borewright.words import Message, Place, Text, place_of, say

#: Steepest bore (dr/dx) that the plane-wave ends are placed for.
STEEPEST_SLOPE = 0.3
#: Largest size (mm) that is taken for millimetres.
LARGEST_MM = 1000.0

_POSITIVE = ("bore_radius_mm", "radius_mm", "height_mm", "pad_thickness_mm")
_MAY_BE_NEGATIVE = ("chimney_mm", "bore_slope")


def check_shape(shape: HoleShape, state: str, place: Text | Place = ()) -> None:
    """Raise AcousticsError unless ``shape`` can be solved ``"open"`` or ``"closed"``."""
    place = place or say("hole shape")
    if state not in ("open", "closed"):
        raise AcousticsError(
            say("the state is {state}", state=repr(state)),
            place=place,
            remedy=say("Ask for 'open' or 'closed'."),
        )
    _check_numbers(shape, place)
    for field, cause, remedy in _faults(shape, state):
        raise AcousticsError(cause, place=(*place_of(place), field), remedy=remedy)


def _check_numbers(shape: HoleShape, place: Text | Place) -> None:
    try:
        HoleCover(shape.cover)
    except ValueError as error:
        raise AcousticsError(
            say("the cover is {cover}", cover=repr(shape.cover)),
            place=(*place_of(place), "cover"),
            remedy=say("Covers are: {covers}.", covers=", ".join(HoleCover)),
        ) from error
    for field in dataclasses.fields(shape):
        value = getattr(shape, field.name)
        if field.name == "cover" or (field.name == "body_radius_mm" and value is None):
            continue
        at = (*place_of(place), field.name)
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise AcousticsError(
                say("{value} is no number", value=repr(value)),
                place=at,
                remedy=say("Give millimetres."),
            )
        if not math.isfinite(value):
            raise AcousticsError(
                say("the value is {value}", value=value),
                place=at,
                remedy=say("Give a finite number."),
            )
        if abs(value) > LARGEST_MM:
            raise AcousticsError(
                say("{value:g} mm is no size of a side hole", value=value),
                place=at,
                remedy=say("Give millimetres."),
            )
        if field.name in (*_POSITIVE, "body_radius_mm") and value <= 0:
            raise AcousticsError(
                say("the value is {value:g}", value=value),
                place=at,
                remedy=say("Give a size above 0 mm."),
            )
        if field.name not in _MAY_BE_NEGATIVE and value < 0:
            raise AcousticsError(
                say("the value is negative ({value:g})", value=value),
                place=at,
                remedy=say("Give 0 for none."),
            )


def _faults(shape: HoleShape, state: str) -> Iterator[tuple[str, Message, Message]]:
    """Field, cause and remedy of everything that does not fit together."""
    yield from _inside_faults(shape)
    yield from _outside_faults(shape)
    yield from _cover_faults(shape, state)


def _inside_faults(shape: HoleShape) -> Iterator[tuple[str, Message, Message]]:
    bore, hole = shape.bore_radius_mm, shape.radius_mm
    tube = shape.height_mm + shape.into_bore_mm
    if hole >= bore:
        yield (
            "radius_mm",
            say(
                "the hole ({hole:g} mm) is as wide as the bore ({bore:g} mm)", hole=hole, bore=bore
            ),
            say("A side hole must be narrower than the bore."),
        )
    if abs(shape.bore_slope) > STEEPEST_SLOPE:
        yield (
            "bore_slope",
            say("the bore widens by {bore_slope:g} mm a mm", bore_slope=shape.bore_slope),
            say("Slopes to {steepest:g} are solved.", steepest=STEEPEST_SLOPE),
        )
    if (shape.undercut_radius_mm > 0) != (shape.undercut_depth_mm > 0):
        yield (
            "undercut_radius_mm",
            say("an undercut has a radius or a depth but not both"),
            say("Give both, or 0 for both."),
        )
    if 0 < shape.undercut_radius_mm <= hole:
        yield (
            "undercut_radius_mm",
            say(
                "the undercut ({undercut_radius_mm:g} mm) is no wider than the hole ({hole:g} mm)",
                undercut_radius_mm=shape.undercut_radius_mm,
                hole=hole,
            ),
            say("An undercut widens the hole at the bore; give 0 for none."),
        )
    if shape.undercut_radius_mm >= bore:
        yield (
            "undercut_radius_mm",
            say(
                "the undercut ({undercut_radius_mm:g} mm) is as wide as the bore ({bore:g} mm)",
                undercut_radius_mm=shape.undercut_radius_mm,
                bore=bore,
            ),
            say("Make the undercut narrower."),
        )
    if shape.undercut_depth_mm >= tube:
        yield (
            "undercut_depth_mm",
            say(
                "the undercut ({undercut_depth_mm:g} mm) is as deep as the tube is high "
                "({tube:g} mm)",
                undercut_depth_mm=shape.undercut_depth_mm,
                tube=tube,
            ),
            say("Make the undercut shallower."),
        )
    if shape.undercut_straight_mm > shape.undercut_depth_mm:
        yield (
            "undercut_straight_mm",
            say(
                "the undercut's straight part ({undercut_straight_mm:g} mm) is deeper than "
                "the undercut ({undercut_depth_mm:g} mm)",
                undercut_straight_mm=shape.undercut_straight_mm,
                undercut_depth_mm=shape.undercut_depth_mm,
            ),
            say("Give 0 for a conical undercut, its depth for a cylindrical one."),
        )
    if (shape.into_bore_mm > 0) != (shape.lining_radius_mm > 0):
        yield (
            "lining_radius_mm",
            say("a lining tube needs both its outer radius and how far it stands into the bore"),
            say("Give into_bore_mm and lining_radius_mm, or 0 for both."),
        )
    if shape.into_bore_mm >= bore:
        yield (
            "into_bore_mm",
            say(
                "the lining stands {into_bore_mm:g} mm into a bore of radius {bore:g} mm",
                into_bore_mm=shape.into_bore_mm,
                bore=bore,
            ),
            say("Keep it short of the axis, usually 2 to 4 mm."),
        )
    if 0 < shape.lining_radius_mm <= shape.mouth_radius_mm:
        yield (
            "lining_radius_mm",
            say(
                "the lining ({lining_radius_mm:g} mm outside) has no wall round its mouth of "
                "{mouth_radius_mm:g} mm",
                lining_radius_mm=shape.lining_radius_mm,
                mouth_radius_mm=shape.mouth_radius_mm,
            ),
            say("Make it wider than the hole and its undercut."),
        )
    if shape.lining_radius_mm >= bore:
        yield (
            "lining_radius_mm",
            say(
                "the lining ({lining_radius_mm:g} mm outside) is as wide as the bore ({bore:g} mm)",
                lining_radius_mm=shape.lining_radius_mm,
                bore=bore,
            ),
            say("Use a narrower lining."),
        )


def _outside_faults(shape: HoleShape) -> Iterator[tuple[str, Message, Message]]:
    foot = shape.radius_mm + shape.chimney_wall_mm
    if shape.chimney_mm >= shape.height_mm:
        yield (
            "chimney_mm",
            say(
                "the chimney ({chimney_mm:g} mm) is as high as the whole tube ({height_mm:g} "
                "mm), so that no wall of the body is left",
                chimney_mm=shape.chimney_mm,
                height_mm=shape.height_mm,
            ),
            say("The height runs from the bore's wall to the rim, chimney included."),
        )
    if shape.chimney_mm > 0 and shape.chimney_wall_mm == 0:
        yield (
            "chimney_wall_mm",
            say("a raised chimney has no wall"),
            say("Give the chimney's wall, about 1.2 mm."),
        )
    if shape.chimney_mm < 0 and shape.counterbore_radius_mm <= foot:
        yield (
            "counterbore_radius_mm",
            say(
                "the seat is sunk by {chimney_mm:g} mm, but its counterbore "
                "({counterbore_radius_mm:g} mm) is no wider than hole and land ({foot:g} mm)",
                chimney_mm=-shape.chimney_mm,
                counterbore_radius_mm=shape.counterbore_radius_mm,
                foot=foot,
            ),
            say("Give the counterbore's radius, usually the pad's and half a millimetre."),
        )
    if shape.chimney_mm >= 0 and shape.counterbore_radius_mm > 0:
        yield (
            "counterbore_radius_mm",
            say("there is a counterbore but the rim is not sunk"),
            say("Give a negative chimney_mm, or no counterbore."),
        )
    if shape.seat_relief_mm > 0 and (shape.chimney_mm >= 0 or shape.chimney_wall_mm == 0):
        yield (
            "seat_relief_mm",
            say("a relieved seat needs a sunk rim and a land"),
            say("Give a negative chimney_mm and the land as chimney_wall_mm, or no relief."),
        )
    if shape.seat_relief_mm >= shape.height_mm:
        yield (
            "seat_relief_mm",
            say(
                "the seat's floor, {seat_relief_mm:g} mm below the rim, breaks into the bore",
                seat_relief_mm=shape.seat_relief_mm,
            ),
            say("Use less relief; 0.4 mm is usual."),
        )
    body = shape.body_radius_mm
    if body is None:
        return
    if foot >= body:
        yield (
            "body_radius_mm",
            say(
                "hole and wall ({foot:g} mm) are as wide as the body ({body:g} mm)",
                foot=foot,
                body=body,
            ),
            say("Use a smaller hole, a thinner wall or a wider body."),
        )
    if abs(shape.crown_mm - body) + shape.bore_radius_mm >= body:
        yield (
            "body_radius_mm",
            say(
                "the bore ({bore_radius_mm:g} mm) comes through a body of radius {body:g} mm "
                "whose crown is {crown_mm:g} mm from the axis",
                bore_radius_mm=shape.bore_radius_mm,
                body=body,
                crown_mm=shape.crown_mm,
            ),
            say("Round the bore's own axis the body's radius is bore radius + height - chimney."),
        )


def _cover_faults(shape: HoleShape, state: str) -> Iterator[tuple[str, Message, Message]]:
    if shape.cover == HoleCover.FINGER and state == "closed":
        deepest = min(shape.radius_mm, shape.height_mm - shape.undercut_depth_mm)
        if shape.flesh_mm >= 0.9 * deepest:
            yield (
                "flesh_mm",
                say(
                    "the finger would bulge {flesh_mm:g} mm into a hole of radius {radius_mm:g} "
                    "and height {height_mm:g} mm",
                    flesh_mm=shape.flesh_mm,
                    radius_mm=shape.radius_mm,
                    height_mm=shape.height_mm,
                ),
                say("Give a few tenths of a millimetre."),
            )
    if shape.cover != HoleCover.PAD:
        return
    if shape.pad_radius_mm <= shape.radius_mm:
        yield (
            "pad_radius_mm",
            say(
                "the pad ({pad_radius_mm:g} mm) does not cover the hole ({radius_mm:g} mm)",
                pad_radius_mm=shape.pad_radius_mm,
                radius_mm=shape.radius_mm,
            ),
            say("A pad is 1.5 to 2.5 mm larger on the radius than its hole."),
        )
    if state == "open" and shape.lift_mm == 0:
        yield (
            "lift_mm",
            say("the pad is to be open, but its lift is 0"),
            say("Give the lift, about a third of the hole's diameter or more."),
        )
    if shape.chimney_mm < 0 and shape.pad_radius_mm >= shape.counterbore_radius_mm:
        yield (
            "pad_radius_mm",
            say(
                "the pad ({pad_radius_mm:g} mm) does not go into its counterbore "
                "({counterbore_radius_mm:g} mm)",
                pad_radius_mm=shape.pad_radius_mm,
                counterbore_radius_mm=shape.counterbore_radius_mm,
            ),
            say("Use a wider counterbore or a smaller pad."),
        )
