"""Parts laid out on a printer's bed, standing as planned, as many on one as fit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from borewright.printing.profiles import PrinterProfile
from borewright.printing.standing import Down, Standing
from borewright.solids import Bed, Layout, Placed, Support

#: Air between neighbours, for the nozzle's tip and the hand (mm; memory).
APART_MM = 8.0


def plan_layout(
    standings: Sequence[Standing],
    printer: PrinterProfile,
    notes: Mapping[str, str],
    supports: Mapping[str, list[Support]] | None = None,
) -> Layout:
    """Every part alone in the middle of its bed, and beds of several where more than one fits.

    Beds are filled shelf by shelf, the widest first. ``notes`` and ``supports`` go into the
    parts' files.
    """
    middle = printer.build_mm[0] / 2, printer.build_mm[1] / 2
    alone = [_placed(one, *middle) for one in standings]
    beds: list[Bed] = []
    supports = supports or {}
    rooms = {one.part: _room_mm(one, supports.get(one.part, [])) for one in standings}
    left = sorted(standings, key=lambda one: -rooms[one.part])
    while left:
        places, left = _filled(left, rooms, printer)
        if len(places) > 1:
            beds.append(Bed(name=f"bed-{len(beds) + 1}", places=places))
        if not places:
            break  # what is left fits no bed, and its own finding says so
    return Layout(alone=alone, beds=beds, notes=dict(notes), supports=dict(supports))


def _placed(one: Standing, x: float, y: float) -> Placed:
    return Placed(part=one.part, x_mm=x, y_mm=y, turned=one.down is Down.BOTTOM)


def _room_mm(one: Standing, supports: Sequence[Support]) -> float:
    """Across of the square that a part takes, its collar and brim included (mm)."""
    reach = [radius for support in supports for radius, _ in support.outline]
    return max(one.across_mm, 2 * max(reach, default=0.0))


def _filled(
    parts: list[Standing], rooms: Mapping[str, float], printer: PrinterProfile
) -> tuple[list[Placed], list[Standing]]:
    """One bed's parts in shelves from the front left corner, and those that are left."""
    wide, deep = (side - printer.margin_mm for side in printer.build_mm[:2])
    places: list[Placed] = []
    left: list[Standing] = []
    x = y = printer.margin_mm
    shelf = 0.0
    for one in parts:
        room = rooms[one.part]
        if x + room > wide and shelf:
            x, y, shelf = printer.margin_mm, y + shelf + APART_MM, 0.0
        if x + room > wide or y + room > deep:
            left.append(one)
            continue
        places.append(_placed(one, x + room / 2, y + room / 2))
        x += room + APART_MM
        shelf = max(shelf, room)
    return places, left
