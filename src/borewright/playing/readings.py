"""Gauge readings of a finished instrument, from a table.

Columns: item, part, hole, station_mm, value, pressure_hpa, comment. Items:

- ``bore``: a part's bore diameter (mm) at ``station_mm``;
- ``diameter``, ``height``, ``lift``: a hole's diameter, tube height (bore wall to rim) and
  pad lift (mm);
- ``length``: a part's body length (mm);
- ``tenon_top``, ``tenon_bottom``, ``socket_top``, ``socket_bottom``: a joint's diameter (mm);
- ``leak``: a part's leak (or that of one ``hole``) as the diameter (mm) of the orifice that
  leaks as much, from a test against reference orifices;
- ``leak_flow``: the same as a flow (ml/min) at a gauge pressure of ``pressure_hpa``;
- ``chamber``: room (mm³) in the mouthpiece above its cylinder, by water;
- ``reed_end``: temperature (°C) in the barrel right after playing;
- ``player``: how far (cents) the player blew above the known pitch of another instrument, in
  the same room on the same day, with the same mouthpiece and reed; the part may name a register
  (``clarion``).

The table of an inspection sheet is one of these; its rows without a value were not measured.
"""

from __future__ import annotations

import io
import math
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from borewright.errors import PlayingError
from borewright.model import Instrument, Register
from borewright.model.base import Entity
from borewright.model.bounds import refusal
from borewright.model.files.tables import TableWriter, number, read_table
from borewright.words import Choice, Where, place_of, say

_REQUIRED = ("item", "value")
_OPTIONAL = ("part", "hole", "station_mm", "pressure_hpa", "comment")
#: What an inspection sheet says of each size beside the measured one; nothing here reads it.
_INSPECTION = ("nominal_mm", "lower_mm", "upper_mm", "tool", "kind", "drawn_mm", "bed", "lot")
#: Bounds of what is read, by item.
_BOUNDS = {
    "bore": "gauged_bore_mm",
    "diameter": "gauged_hole_mm",
    "height": "tube_height_mm",
    "lift": "gauged_lift_mm",
    "length": "part_length_mm",
    "tenon_top": "gauged_joint_mm",
    "tenon_bottom": "gauged_joint_mm",
    "socket_top": "gauged_joint_mm",
    "socket_bottom": "gauged_joint_mm",
    "leak": "leak_mm",
    "leak_flow": "leak_flow_ml_min",
    "chamber": "chamber_mm3",
    "reed_end": "reed_end_c",
    "player": "player_cents",
}
#: Discharge coefficient of a sharp-edged orifice (from memory), and the density of air.
_DISCHARGE, _DENSITY = 0.6, 1.2


class Item(Choice):
    """What a reading measures."""

    BORE = "bore", say("bore")
    DIAMETER = "diameter", say("diameter")
    HEIGHT = "height", say("height")
    LIFT = "lift", say("lift")
    LENGTH = "length", say("length")
    TENON_TOP = "tenon_top", say("top tenon")
    TENON_BOTTOM = "tenon_bottom", say("bottom tenon")
    SOCKET_TOP = "socket_top", say("top socket")
    SOCKET_BOTTOM = "socket_bottom", say("bottom socket")
    LEAK = "leak", say("leak")
    LEAK_FLOW = "leak_flow", say("leak flow")
    CHAMBER = "chamber", say("room in the mouthpiece")
    REED_END = "reed_end", say("air at the reed")
    PLAYER = "player", say("the player's own pitch")


#: Items that are a joint's diameter: named as the part's own keys.
JOINTS = (Item.TENON_TOP, Item.TENON_BOTTOM, Item.SOCKET_TOP, Item.SOCKET_BOTTOM)
#: Items of a whole part.
OF_PART = (Item.BORE, Item.LENGTH, *JOINTS)
#: Items that are leaks, and no sizes.
LEAKS = (Item.LEAK, Item.LEAK_FLOW)
#: Items that belong to no part and no hole.
OF_ALL = (Item.CHAMBER, Item.REED_END, Item.PLAYER)


class Reading(Entity):
    """One reading; ``place`` says where it was written, for messages."""

    item: Item
    value: float
    part: str = ""
    hole: str = ""
    station_mm: float | None = None
    pressure_hpa: float | None = None
    comment: str = ""
    place: Where = "readings"


def read_readings(path: Path | str) -> list[Reading]:
    """Read a table of gauge readings; PlayingError or ModelError with line and remedy."""
    path = Path(path)
    found = []
    for line, cells in read_table(path, _REQUIRED, (*_OPTIONAL, *_INSPECTION)):
        value = number(cells["value"], path, line, "value")
        if value is None and cells["nominal_mm"]:
            continue
        found.append(
            reading(
                cells["item"],
                value,
                part=cells["part"],
                hole=cells["hole"],
                station_mm=number(cells["station_mm"], path, line, "station_mm"),
                pressure_hpa=number(cells["pressure_hpa"], path, line, "pressure_hpa"),
                comment=cells["comment"],
                place=(str(path), say("line {line}", line=line)),
            )
        )
    if not found:
        raise PlayingError(
            say("nothing in it was measured"),
            place=str(path),
            remedy=say("Write what was measured into the column 'value'."),
        )
    return found


def readings_text(found: Sequence[Reading]) -> str:
    """Readings as the CSV that :func:`read_readings` reads back."""
    text = io.StringIO()
    writer = TableWriter(text)
    columns = ("item", "part", "hole", "station_mm", "value", "pressure_hpa", "comment")
    writer.writerow(columns)
    for each in found:
        cells = [getattr(each, name) for name in columns]
        writer.writerow([f"{c:g}" if isinstance(c, float) else c or "" for c in cells])
    return text.getvalue()


def reading(
    item: str,
    value: float | None,
    *,
    part: str = "",
    hole: str = "",
    station_mm: float | None = None,
    pressure_hpa: float | None = None,
    comment: str = "",
    place: Where = "readings",
) -> Reading:
    """One reading, checked as far as it can be without the instrument."""
    if item not in set(Item):
        raise PlayingError(
            say("'{item}' is no item", item=item[:40]),
            place=place,
            remedy=say("Items are: {items}.", items=", ".join(Item)),
        )
    kind = Item(item)
    if value is None or not (value > 0 or kind is Item.PLAYER):
        raise PlayingError(
            say("the value is missing or not above 0"), place=place, remedy=say("Measure it.")
        )
    for column, bounds, figure in (
        ("value", _BOUNDS[kind.value], value),
        ("pressure_hpa", "gauge_pressure_hpa", pressure_hpa),
    ):
        refused = None if figure is None else refusal(bounds, figure)
        if refused is not None:
            cell = (*place_of(place), say("column '{column}'", column=column))
            raise PlayingError(refused[0], place=cell, remedy=refused[1])
    of_part = kind in OF_PART
    of_leak = kind in LEAKS
    of_hole = not of_part and not of_leak and kind not in OF_ALL
    if (of_part and not part) or (of_hole and not hole):
        raise PlayingError(
            say("a reading of {item} needs the name of a part", item=kind.value)
            if of_part
            else say("a reading of {item} needs the name of a hole", item=kind.value),
            place=place,
            remedy=say("Write it into that column."),
        )
    if kind is Item.PLAYER and part and part not in set(Register):
        raise PlayingError(
            say("'{name}' is no register", name=part[:40]),
            place=place,
            remedy=say("Registers are: {registers}.", registers=", ".join(Register)),
        )
    if of_leak and not (part or hole):
        raise PlayingError(
            say("a leak needs the name of a part or a hole"),
            place=place,
            remedy=say("Write it down."),
        )
    if kind is Item.BORE and station_mm is None:
        raise PlayingError(
            say("a bore reading needs station_mm"),
            place=place,
            remedy=say("Give the distance from the part's top shoulder."),
        )
    if kind is Item.LEAK_FLOW and not (pressure_hpa and pressure_hpa > 0):
        raise PlayingError(
            say("a leak flow needs pressure_hpa"),
            place=place,
            remedy=say("Give the gauge pressure."),
        )
    return Reading(
        item=kind, value=value, part=part, hole=hole, station_mm=station_mm,
        pressure_hpa=pressure_hpa, comment=comment, place=place,
    )  # fmt: skip


def orifice_mm(flow_ml_min: float, pressure_hpa: float) -> float:
    """Diameter (mm) of the sharp-edged orifice that passes a flow at a gauge pressure.

    Flow = C A sqrt(2 p / rho), C = 0.6 (Bernoulli with a discharge coefficient).
    """
    speed = math.sqrt(2 * pressure_hpa * 100 / _DENSITY)
    area = flow_ml_min * 1e-6 / 60 / (_DISCHARGE * speed)
    return 1000 * math.sqrt(4 * area / math.pi)


#: More readings of one thing than anybody takes; a table that repeats itself is refused.
MOST_ALIKE = 200


def check_names(instrument: Instrument, found: list[Reading]) -> None:
    """Raise PlayingError for a part or hole that the instrument lacks, and for wrong places."""
    _check_alike(found)
    _check_stations(instrument, found)
    parts = [part.name for part in instrument.parts]
    for each in found:
        for name, known, cause in (
            (
                each.part,
                parts,
                say(
                    "'{instrument}' has no part '{name}'",
                    instrument=instrument.name,
                    name=each.part,
                ),
            ),
            (
                each.hole,
                instrument.hole_names(),
                say(
                    "'{instrument}' has no hole '{name}'",
                    instrument=instrument.name,
                    name=each.hole,
                ),
            ),
        ):
            if name and name not in known and each.item is not Item.PLAYER:
                raise PlayingError(
                    cause,
                    place=each.place,
                    remedy=say("It has: {known}.", known=", ".join(known)),
                )


def _check_alike(found: list[Reading]) -> None:
    alike = Counter((each.item, each.part, each.hole, each.station_mm) for each in found)
    for worst, times in alike.most_common(1):
        if times <= MOST_ALIKE:
            return
        last = next(e for e in found if (e.item, e.part, e.hole, e.station_mm) == worst)
        raise PlayingError(
            say(
                "the same {item} is read {times} times at one place",
                item=last.item.value,
                times=times,
            ),
            place=last.place,
            remedy=say("Keep at most {most} readings of one place.", most=MOST_ALIKE),
        )


def _check_stations(instrument: Instrument, found: list[Reading]) -> None:
    parts = {part.name: part for part in instrument.parts}
    for each in found:
        if each.station_mm is None or each.part not in parts:
            continue
        part = parts[each.part]
        top = part.tenon_top.length_mm if part.tenon_top else 0.0
        bottom = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)
        if not -top - 1.0 <= each.station_mm <= bottom + 1.0:
            raise PlayingError(
                say(
                    "station {station_mm:g} is beyond part '{part}', which runs from {top_mm:g} "
                    "to {bottom_mm:g} mm",
                    station_mm=each.station_mm,
                    part=part.name,
                    top_mm=0.0 - top,
                    bottom_mm=bottom,
                ),
                place=(*place_of(each.place), say("column '{column}'", column="station_mm")),
                remedy=say("Measure stations in mm from the part's own top shoulder."),
            )
