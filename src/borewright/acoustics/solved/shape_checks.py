"""Shapes that could not be made or meshed are refused, with place, cause and remedy."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.errors import AcousticsError

#: Steepest bore (dr/dx) that the plane-wave ends are placed for.
STEEPEST_SLOPE = 0.3
#: Largest size (mm) that is taken for millimetres.
LARGEST_MM = 1000.0

_POSITIVE = ("bore_radius_mm", "radius_mm", "height_mm", "pad_thickness_mm")
_MAY_BE_NEGATIVE = ("chimney_mm", "bore_slope")


def check_shape(shape: HoleShape, state: str, place: str = "hole shape") -> None:
    """Raise AcousticsError unless ``shape`` can be solved ``"open"`` or ``"closed"``."""
    if state not in ("open", "closed"):
        raise AcousticsError(
            f"the state is {state!r}", place=place, remedy="Ask for 'open' or 'closed'."
        )
    _check_numbers(shape, place)
    for field, cause, remedy in _faults(shape, state):
        raise AcousticsError(cause, place=f"{place}, {field}", remedy=remedy)


def _check_numbers(shape: HoleShape, place: str) -> None:
    try:
        HoleCover(shape.cover)
    except ValueError as error:
        raise AcousticsError(
            f"the cover is {shape.cover!r}",
            place=f"{place}, cover",
            remedy=f"Covers are: {', '.join(HoleCover)}.",
        ) from error
    for field in dataclasses.fields(shape):
        value = getattr(shape, field.name)
        if field.name == "cover" or (field.name == "body_radius_mm" and value is None):
            continue
        at = f"{place}, {field.name}"
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise AcousticsError(f"{value!r} is no number", place=at, remedy="Give millimetres.")
        if not math.isfinite(value):
            raise AcousticsError(f"the value is {value}", place=at, remedy="Give a finite number.")
        if abs(value) > LARGEST_MM:
            raise AcousticsError(
                f"{value:g} mm is no size of a side hole", place=at, remedy="Give millimetres."
            )
        if field.name in (*_POSITIVE, "body_radius_mm") and value <= 0:
            raise AcousticsError(
                f"the value is {value:g}", place=at, remedy="Give a size above 0 mm."
            )
        if field.name not in _MAY_BE_NEGATIVE and value < 0:
            raise AcousticsError(
                f"the value is negative ({value:g})", place=at, remedy="Give 0 for none."
            )


def _faults(shape: HoleShape, state: str) -> Iterator[tuple[str, str, str]]:
    """Field, cause and remedy of everything that does not fit together."""
    yield from _inside_faults(shape)
    yield from _outside_faults(shape)
    yield from _cover_faults(shape, state)


def _inside_faults(shape: HoleShape) -> Iterator[tuple[str, str, str]]:
    bore, hole = shape.bore_radius_mm, shape.radius_mm
    tube = shape.height_mm + shape.into_bore_mm
    if hole >= bore:
        yield (
            "radius_mm",
            f"the hole ({hole:g} mm) is as wide as the bore ({bore:g} mm)",
            "A side hole must be narrower than the bore.",
        )
    if abs(shape.bore_slope) > STEEPEST_SLOPE:
        yield (
            "bore_slope",
            f"the bore widens by {shape.bore_slope:g} mm a mm",
            f"Slopes to {STEEPEST_SLOPE:g} are solved.",
        )
    if (shape.undercut_radius_mm > 0) != (shape.undercut_depth_mm > 0):
        yield (
            "undercut_radius_mm",
            "an undercut has a radius or a depth but not both",
            "Give both, or 0 for both.",
        )
    if 0 < shape.undercut_radius_mm <= hole:
        yield (
            "undercut_radius_mm",
            f"the undercut ({shape.undercut_radius_mm:g} mm) is no wider than the hole "
            f"({hole:g} mm)",
            "An undercut widens the hole at the bore; give 0 for none.",
        )
    if shape.undercut_radius_mm >= bore:
        yield (
            "undercut_radius_mm",
            f"the undercut ({shape.undercut_radius_mm:g} mm) is as wide as the bore ({bore:g} mm)",
            "Make the undercut narrower.",
        )
    if shape.undercut_depth_mm >= tube:
        yield (
            "undercut_depth_mm",
            f"the undercut ({shape.undercut_depth_mm:g} mm) is as deep as the tube is high "
            f"({tube:g} mm)",
            "Make the undercut shallower.",
        )
    if shape.undercut_straight_mm > shape.undercut_depth_mm:
        yield (
            "undercut_straight_mm",
            f"the undercut's straight part ({shape.undercut_straight_mm:g} mm) is deeper than "
            f"the undercut ({shape.undercut_depth_mm:g} mm)",
            "Give 0 for a conical undercut, its depth for a cylindrical one.",
        )
    if (shape.into_bore_mm > 0) != (shape.lining_radius_mm > 0):
        yield (
            "lining_radius_mm",
            "a lining tube needs both its outer radius and how far it stands into the bore",
            "Give into_bore_mm and lining_radius_mm, or 0 for both.",
        )
    if shape.into_bore_mm >= bore:
        yield (
            "into_bore_mm",
            f"the lining stands {shape.into_bore_mm:g} mm into a bore of radius {bore:g} mm",
            "Keep it short of the axis, usually 2 to 4 mm.",
        )
    if 0 < shape.lining_radius_mm <= shape.mouth_radius_mm:
        yield (
            "lining_radius_mm",
            f"the lining ({shape.lining_radius_mm:g} mm outside) has no wall round its mouth of "
            f"{shape.mouth_radius_mm:g} mm",
            "Make it wider than the hole and its undercut.",
        )
    if shape.lining_radius_mm >= bore:
        yield (
            "lining_radius_mm",
            f"the lining ({shape.lining_radius_mm:g} mm outside) is as wide as the bore "
            f"({bore:g} mm)",
            "Use a narrower lining.",
        )


def _outside_faults(shape: HoleShape) -> Iterator[tuple[str, str, str]]:
    foot = shape.radius_mm + shape.chimney_wall_mm
    if shape.chimney_mm >= shape.height_mm:
        yield (
            "chimney_mm",
            f"the chimney ({shape.chimney_mm:g} mm) is as high as the whole tube "
            f"({shape.height_mm:g} mm), so that no wall of the body is left",
            "The height runs from the bore's wall to the rim, chimney included.",
        )
    if shape.chimney_mm > 0 and shape.chimney_wall_mm == 0:
        yield (
            "chimney_wall_mm",
            "a raised chimney has no wall",
            "Give the chimney's wall, about 1.2 mm.",
        )
    if shape.chimney_mm < 0 and shape.counterbore_radius_mm <= foot:
        yield (
            "counterbore_radius_mm",
            f"the seat is sunk by {-shape.chimney_mm:g} mm, but its counterbore "
            f"({shape.counterbore_radius_mm:g} mm) is no wider than hole and land ({foot:g} mm)",
            "Give the counterbore's radius, usually the pad's and half a millimetre.",
        )
    if shape.chimney_mm >= 0 and shape.counterbore_radius_mm > 0:
        yield (
            "counterbore_radius_mm",
            "there is a counterbore but the rim is not sunk",
            "Give a negative chimney_mm, or no counterbore.",
        )
    if shape.seat_relief_mm > 0 and (shape.chimney_mm >= 0 or shape.chimney_wall_mm == 0):
        yield (
            "seat_relief_mm",
            "a relieved seat needs a sunk rim and a land",
            "Give a negative chimney_mm and the land as chimney_wall_mm, or no relief.",
        )
    if shape.seat_relief_mm >= shape.height_mm:
        yield (
            "seat_relief_mm",
            f"the seat's floor, {shape.seat_relief_mm:g} mm below the rim, breaks into the bore",
            "Use less relief; 0.4 mm is usual.",
        )
    body = shape.body_radius_mm
    if body is None:
        return
    if foot >= body:
        yield (
            "body_radius_mm",
            f"hole and wall ({foot:g} mm) are as wide as the body ({body:g} mm)",
            "Use a smaller hole, a thinner wall or a wider body.",
        )
    if abs(shape.crown_mm - body) + shape.bore_radius_mm >= body:
        yield (
            "body_radius_mm",
            f"the bore ({shape.bore_radius_mm:g} mm) comes through a body of radius {body:g} mm "
            f"whose crown is {shape.crown_mm:g} mm from the axis",
            "Round the bore's own axis the body's radius is bore radius + height - chimney.",
        )


def _cover_faults(shape: HoleShape, state: str) -> Iterator[tuple[str, str, str]]:
    if shape.cover == HoleCover.FINGER and state == "closed":
        deepest = min(shape.radius_mm, shape.height_mm - shape.undercut_depth_mm)
        if shape.flesh_mm >= 0.9 * deepest:
            yield (
                "flesh_mm",
                f"the finger would bulge {shape.flesh_mm:g} mm into a hole of radius "
                f"{shape.radius_mm:g} and height {shape.height_mm:g} mm",
                "Give a few tenths of a millimetre.",
            )
    if shape.cover != HoleCover.PAD:
        return
    if shape.pad_radius_mm <= shape.radius_mm:
        yield (
            "pad_radius_mm",
            f"the pad ({shape.pad_radius_mm:g} mm) does not cover the hole "
            f"({shape.radius_mm:g} mm)",
            "A pad is 1.5 to 2.5 mm larger on the radius than its hole.",
        )
    if state == "open" and shape.lift_mm == 0:
        yield (
            "lift_mm",
            "the pad is to be open, but its lift is 0",
            "Give the lift, about a third of the hole's diameter or more.",
        )
    if shape.chimney_mm < 0 and shape.pad_radius_mm >= shape.counterbore_radius_mm:
        yield (
            "pad_radius_mm",
            f"the pad ({shape.pad_radius_mm:g} mm) does not go into its counterbore "
            f"({shape.counterbore_radius_mm:g} mm)",
            "Use a wider counterbore or a smaller pad.",
        )
