"""The as-built instrument: a revision of the design by what the gauges say.

A leak becomes a tiny hole that is always open, with the area of its orifice and a path 1 mm
long. A joint's leak without a known place is put at the joint's middle, and says so: its
effect depends on where it is.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import ValidationError

from borewright.errors import ModelError, PlayingError
from borewright.model import FingeringTable, Instrument, ToneHole
from borewright.model.files.validation import model_error
from borewright.model.plausible import SMALLEST_HOLE_MM
from borewright.model.profile import diameter_at
from borewright.model.results.advice import AppliedReading, Leak
from borewright.playing.readings import JOINTS, Item, Reading, check_names, orifice_mm
from borewright.words import Message, Said, say

#: A reading this far (mm) from the design is more likely a slip than a deviation.
_SLIP_MM = 3.0
_LEAK_PATH_MM = 1.0
_BEARINGS = (90, -90, 135, -135, 45, -45, 180, 0, 110, -110, 70, -70, 155, -155, 20, -20)


class AsBuilt:
    """What the readings made of a design.

    Attributes
    ----------
    instrument
        The revision, with leaks as holes.
    fingerings
        The table with every leak open in every fingering.
    applied, leaks, notices
        What changed, the leaks, and what was not modelled.
    """

    def __init__(
        self,
        instrument: Instrument,
        fingerings: FingeringTable,
        applied: list[AppliedReading],
        leaks: list[Leak],
        notices: list[Said],
    ) -> None:
        self.instrument = instrument
        self.fingerings = fingerings
        self.applied = applied
        self.leaks = leaks
        self.notices = notices


def as_built(instrument: Instrument, fingerings: FingeringTable, found: list[Reading]) -> AsBuilt:
    """Revise a design by gauge readings.

    Parameters
    ----------
    instrument, fingerings
        The design.
    found
        Readings, several of one dimension are averaged.

    Raises
    ------
    PlayingError
        For readings of parts or holes that do not exist, and values that must be slips.
    ModelError
        Where the readings describe no possible instrument.
    """
    check_names(instrument, found)
    data: dict[str, Any] = instrument.model_dump()
    parts = {part["name"]: part for part in data["parts"]}
    applied: list[AppliedReading] = []
    _lengths(instrument, parts, found, applied)
    _bores(instrument, parts, found, applied)
    _joints(instrument, parts, found, applied)
    _holes(instrument, parts, found, applied)
    _top(instrument, data, found)
    try:
        built = Instrument.model_validate(data)
    except ValidationError as error:
        raise model_error(error, (instrument.name, say("as built")), data) from error
    built, leaks, notices = _with_leaks(built, found)
    names = tuple(leak.hole for leak in leaks)
    table = fingerings.model_copy(
        update={
            "fingerings": [
                each.model_copy(update={"open_holes": each.open_holes + names})
                for each in fingerings.fingerings
            ]
        }
    )
    return AsBuilt(built, table, applied, leaks, notices)


def _mean(found: list[Reading]) -> float:
    return float(np.mean([each.value for each in found]))


def _note(
    applied: list[AppliedReading], what: Message, old: float, new: float, found: list[Reading]
) -> None:
    if abs(new - old) > _SLIP_MM:
        raise PlayingError(
            say(
                "{what} was designed as {old_mm:.2f} mm and read as {new_mm:.2f}",
                what=what,
                old_mm=old,
                new_mm=new,
            ),
            place=found[0].place,
            remedy=say("Measure again; a difference this large is usually a slip."),
        )
    applied.append(AppliedReading(what=what, from_mm=old, to_mm=new))


def _lengths(
    instrument: Instrument,
    parts: dict[str, Any],
    found: list[Reading],
    applied: list[AppliedReading],
) -> None:
    for part in instrument.parts:
        own = [each for each in found if each.item is Item.LENGTH and each.part == part.name]
        if not own:
            continue
        new = _mean(own)
        _note(applied, say("{part} length", part=part.name), part.length_mm, new, own)
        parts[part.name]["length_mm"] = new
        for profile in ("bore", "outside"):
            parts[part.name][profile] = [
                (station + new - part.length_mm, diameter)
                if station >= part.length_mm - 1e-9
                else (station, diameter)
                for station, diameter in parts[part.name][profile]
            ]


def _bores(
    instrument: Instrument,
    parts: dict[str, Any],
    found: list[Reading],
    applied: list[AppliedReading],
) -> None:
    """Add the deviation read, straight between stations, steady beyond the outermost ones."""
    for part in instrument.parts:
        own = [each for each in found if each.item is Item.BORE and each.part == part.name]
        if not own:
            continue
        stations = sorted({float(each.station_mm or 0.0) for each in own})
        design = part.bore
        # The bore goes on through tenons, whether it is listed there or not.
        top = min(design[0][0], -part.tenon_top.length_mm if part.tenon_top else 0.0)
        beyond = part.tenon_bottom.length_mm if part.tenon_bottom else 0.0
        bottom = max(design[-1][0], part.length_mm + beyond)
        deviations = []
        for station in stations:
            if not top <= station <= bottom:
                raise PlayingError(
                    say(
                        "station {station:g} is outside the bore of '{part}'",
                        station=station,
                        part=part.name,
                    ),
                    place=own[0].place,
                    remedy=say(
                        "It runs from {top_mm:g} to {bottom_mm:g} mm.",
                        top_mm=top,
                        bottom_mm=bottom,
                    ),
                )
            here = [each for each in own if each.station_mm == station]
            old = diameter_at(design, station)
            _note(
                applied,
                say("{part} bore at {station_mm:g}", part=part.name, station_mm=station),
                old,
                _mean(here),
                here,
            )
            deviations.append(_mean(here) - old)
        grown = parts[part.name]["length_mm"] - part.length_mm
        points = list(parts[part.name]["bore"])
        known = {station for station, _ in points}
        points += [(s, diameter_at(design, s)) for s in stations if s not in known]
        points.sort(key=lambda point: point[0])
        parts[part.name]["bore"] = [
            (station, diameter + float(np.interp(station - max(grown, 0), stations, deviations)))
            for station, diameter in points
        ]


def _joints(
    instrument: Instrument,
    parts: dict[str, Any],
    found: list[Reading],
    applied: list[AppliedReading],
) -> None:
    for part in instrument.parts:
        for item in JOINTS:
            own = [each for each in found if each.item is item and each.part == part.name]
            if not own:
                continue
            joint = getattr(part, item.value)
            if joint is None:
                raise PlayingError(
                    say("'{part}' has no {joint}", part=part.name, joint=item.words),
                    place=own[0].place,
                    remedy=say("Read the joints that it has."),
                )
            new = _mean(own)
            what = say("{part} {joint}", part=part.name, joint=item.words)
            _note(applied, what, joint.diameter_mm, new, own)
            parts[part.name][item.value]["diameter_mm"] = new


def _top(instrument: Instrument, data: dict[str, Any], found: list[Reading]) -> None:
    """Room in the mouthpiece and warmth of the air in it; the player's pitch is none of both."""
    rooms = [each for each in found if each.item is Item.CHAMBER]
    if rooms and instrument.mouthpiece is None:
        raise PlayingError(
            say("'{instrument}' has no mouthpiece", instrument=instrument.name),
            place=rooms[0].place,
            remedy=say("Take that reading out."),
        )
    if rooms:
        data["mouthpiece"]["chamber_mm3"] = _mean(rooms)
    warmths = [each for each in found if each.item is Item.REED_END]
    if warmths:
        data["climate"]["reed_end_c"] = _mean(warmths)


def _holes(
    instrument: Instrument,
    parts: dict[str, Any],
    found: list[Reading],
    applied: list[AppliedReading],
) -> None:
    for part, hole, _ in instrument.placed_holes():
        data = next(each for each in parts[part.name]["holes"] if each["name"] == hole.name)
        own = {
            item: [each for each in found if each.item is item and each.hole == hole.name]
            for item in Item
        }
        if own[Item.DIAMETER]:
            new = _mean(own[Item.DIAMETER])
            _note(
                applied,
                say("{hole} diameter", hole=hole.name),
                hole.diameter_mm,
                new,
                own[Item.DIAMETER],
            )
            data["diameter_mm"] = new
            if hole.undercut and hole.undercut.diameter_mm < new:
                data["undercut"]["diameter_mm"] = new
        if own[Item.HEIGHT]:
            old, new = part.tube_height_mm(hole), _mean(own[Item.HEIGHT])
            _note(applied, say("{hole} tube height", hole=hole.name), old, new, own[Item.HEIGHT])
            data["chimney_mm"] = hole.chimney_mm + new - old
        if own[Item.LIFT]:
            if hole.pad is None:
                raise PlayingError(
                    say("'{hole}' has no pad", hole=hole.name),
                    place=own[Item.LIFT][0].place,
                    remedy=say("Read lifts of pads only."),
                )
            new = _mean(own[Item.LIFT])
            _note(
                applied, say("{hole} lift", hole=hole.name), hole.pad.lift_mm, new, own[Item.LIFT]
            )
            data["pad"]["lift_mm"] = new


def _with_leaks(
    instrument: Instrument, found: list[Reading]
) -> tuple[Instrument, list[Leak], list[Said]]:
    leaks: list[Leak] = []
    notices: list[Said] = []
    for each in found:
        if each.item not in (Item.LEAK, Item.LEAK_FLOW):
            continue
        size = each.value
        if each.item is Item.LEAK_FLOW:
            size = orifice_mm(each.value, each.pressure_hpa or 0.0)
        owner = next(
            part
            for part in instrument.parts
            if part.name == each.part or each.hole in [hole.name for hole in part.holes]
        )
        if size < SMALLEST_HOLE_MM:
            notices.append(
                say(
                    "the leak of '{hole}' ({size_mm:.2f} mm) is below {least_mm:g} mm and was "
                    "not modelled",
                    hole=each.hole or owner.name,
                    size_mm=size,
                    least_mm=SMALLEST_HOLE_MM,
                )
            )
            continue
        station = owner.length_mm / 2
        place = say("middle of the joint, its place being unknown")
        if each.hole:
            station = owner.hole(each.hole).station_mm
            place = say("at {hole}", hole=each.hole)
        elif each.station_mm is not None:
            station = each.station_mm
            place = say("at station {station_mm:g}", station_mm=each.station_mm)
        name = f"leak{len(leaks) + 1}"
        instrument = _bored(instrument, owner.name, name, station, size, each)
        leaks.append(
            Leak(
                hole=name,
                part=owner.name,
                diameter_mm=size,
                place=place,
                place_known=bool(each.hole) or each.station_mm is not None,
            )
        )
    return instrument, leaks, notices


def _bored(
    instrument: Instrument, part: str, name: str, station: float, size: float, found: Reading
) -> Instrument:
    """The instrument with a leak, on a bearing that no other hole takes."""
    index = [each.name for each in instrument.parts].index(part)
    owner = instrument.parts[index]
    wall = (owner.outside_diameter_at(station) - owner.bore_diameter_at(station)) / 2
    for bearing in _BEARINGS:
        leak = ToneHole(
            name=name,
            station_mm=station,
            diameter_mm=size,
            bearing_deg=bearing,
            chimney_mm=_LEAK_PATH_MM - wall,
        )
        data = instrument.model_dump()
        data["parts"][index]["holes"].append(leak.model_dump())
        try:
            return Instrument.model_validate(data)
        except (ValidationError, ModelError):
            continue
    raise PlayingError(
        say(
            "a leak of {size_mm:.2f} mm finds no room at station {station:g} of '{part}'",
            size_mm=size,
            station=station,
            part=part,
        ),
        place=found.place,
        remedy=say("Give another station."),
    )
