"""Faults planted in a good body and its good keys, one change each."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from borewright.keywork.gate import Check
from borewright.model import Instrument, KeySet, ThumbRest
from borewright.model.keys import KeyPoint

Made = tuple[Instrument, KeySet]


def _element(keys: KeySet, name: str, **fields: Any) -> KeySet:
    assert any(element.name == name for element in keys.elements)
    return KeySet(
        elements=tuple(
            element.model_copy(update=fields) if element.name == name else element
            for element in keys.elements
        )
    )


def _shifted(
    keys: KeySet, name: str, along: float = 0.0, turn: float = 0.0, out: float = 0.0
) -> KeySet:
    element = next(e for e in keys.elements if e.name == name)
    points = {
        which: KeyPoint(
            station_mm=point.station_mm + along,
            bearing_deg=point.bearing_deg + turn,
            height_mm=point.height_mm + out,
        )
        for which, point in (("first", element.first), ("second", element.second))
    }
    return _element(keys, name, **points)


def shifted(name: str, **by: float) -> Callable[[Made], Made]:
    """One element moved."""
    return lambda made: (made[0], _shifted(made[1], name, **by))


def changed(name: str, **fields: Any) -> Callable[[Made], Made]:
    """One element's fields changed."""
    return lambda made: (made[0], _element(made[1], name, **fields))


def hole(name: str, **fields: Any) -> Callable[[Made], Made]:
    """One hole's fields changed."""

    def change(made: Made) -> Made:
        instrument, keys = made
        parts = [
            part.model_copy(
                update={
                    "holes": [
                        each.model_copy(update=fields) if each.name == name else each
                        for each in part.holes
                    ]
                }
            )
            for part in instrument.parts
        ]
        return instrument.model_copy(update={"parts": parts}), keys

    return change


def thumb_rest(part: str, station: float) -> Callable[[Made], Made]:
    """A thumb rest on a part's back."""

    def change(made: Made) -> Made:
        instrument, keys = made
        parts = [
            each.model_copy(update={"thumb_rest": ThumbRest(station_mm=station)})
            if each.name == part
            else each
            for each in instrument.parts
        ]
        return instrument.model_copy(update={"parts": parts}), keys

    return change


def both(*changes: Callable[[Made], Made]) -> Callable[[Made], Made]:
    """Several changes that make one fault."""

    def change(made: Made) -> Made:
        for each in changes:
            made = each(made)
        return made

    return change


def bent(
    name: str, along: float = 0.0, turn: float = 0.0, out: float = 0.0
) -> Callable[[Made], Made]:
    """The second end of an arm bent away."""

    def change(made: Made) -> Made:
        point = next(e for e in made[1].elements if e.name == name).second
        second = KeyPoint(
            station_mm=point.station_mm + along,
            bearing_deg=point.bearing_deg + turn,
            height_mm=point.height_mm + out,
        )
        return made[0], _element(made[1], name, second=second)

    return change


#: Fault: what is done, which check must name it, and an element that it must name.
FAULTS: dict[str, tuple[Callable[[Made], Made], Check, str]] = {
    "post in a hole": (shifted("P-A1", along=16.0, turn=0.0), Check.POST_IN_HOLE, "P-A1"),
    "post under a ring": (shifted("P-LP2", along=-6.0, turn=-32.0), Check.POST_UNDER_RING, "P-LP2"),
    "cup off its hole": (shifted("C-S2", along=1.5), Check.CUP_OFF_HOLE, "C-S2"),
    "ring too small": (changed("R-R2", inside_mm=10.5), Check.RING_TOO_SMALL, "R-R2"),
    "chimney too high": (hole("CG", chimney_mm=-0.3), Check.CHIMNEY_TOO_HIGH, "C-CG"),
    "seat too low": (hole("AE", chimney_mm=-1.4), Check.CUP_HEIGHT, "C-AE"),
    "pad over a chimney": (
        both(hole("L3", station_mm=167.0, bearing_deg=24.0)),
        Check.PAD_OVER_CHIMNEY,
        "C-CG",
    ),
    "ring against ring": (shifted("R-R1", along=6.0), Check.RING_AGAINST_RING, "R-R1"),
    "posts against each other": (shifted("P-LP1", along=-1.0), Check.FIXED_PARTS, "P-LP1"),
    "keys against each other at rest": (
        bent("A-S22", along=9.0, turn=-20.0),
        Check.PARTS_AT_REST,
        "A-S22",
    ),
    "keys against each other moving": (bent("A-GS2", turn=3.0), Check.PARTS_MOVING, "A-GS2"),
    "hinge out of line": (shifted("P-FS2", out=0.3), Check.HINGE_OUT_OF_LINE, "P-FS2"),
    "tube longer than its room": (shifted("P-EB2", along=-0.06), Check.END_PLAY, "P-EB2"),
    "rod on the body": (
        both(
            shifted("H-LE", out=-2.0),
            shifted("P-LE1", out=-2.0),
            shifted("P-LE2", out=-2.0),
        ),
        Check.ROD_ON_BODY,
        "H-LE",
    ),
    "lever on the body": (bent("A-LE-tail1", out=-4.0), Check.LEVER_ON_BODY, "A-LE-tail1"),
    "pad tilted": (shifted("C-GS", turn=2.0), Check.PAD_TILT, "C-GS"),
    "thumb rest over a hole": (thumb_rest("upper joint", 95.0), Check.THUMB_REST, "T"),
    "needle on the body": (bent("S-TP", out=-0.6), Check.SPRING_ROOM, "S-TP"),
    "flat spring in the air": (bent("S-RV", out=2.0), Check.SPRING_ROOM, "S-RV"),
    "spring overstressed": (changed("S-GS", free_length_mm=9.0), Check.SPRING_STRESS, "S-GS"),
    "post through the wall": (shifted("P-RP1", along=-10.0), Check.POST_WALL, "P-RP1"),
    "ring below its rim": (hole("R2", chimney_mm=1.4), Check.RING_HEIGHT, "R-R2"),
    "ring high over its rim": (hole("L1", chimney_mm=0.2), Check.RING_HEIGHT, "R-L1"),
    "loose link": (changed("N-FS-FC", gap_mm=0.8), Check.LINK, "N-FS-FC"),
    "pad too small": (hole("S1", diameter_mm=7.8), Check.PAD_TOO_SMALL, "C-S1"),
}
