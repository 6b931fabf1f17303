"""The bore that the sound meets in an assembled instrument, as one line."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.instrument import Instrument
from borewright.model.part import Part
from borewright.model.profile import diameter_at

Point = tuple[float, float]


class BoreLine(Entity):
    """A named bore as (station, diameter) in mm, joined by straight lines.

    ``marks`` are single readings to be shown beside the line, ``joints`` the stations of
    shoulders with the name of the part below.
    """

    name: str
    points: list[Point]
    marks: list[Point] = []
    joints: list[tuple[float, str]] = []

    @property
    def span_mm(self) -> tuple[float, float]:
        """First and last station."""
        return self.points[0][0], self.points[-1][0]

    def diameter_mm(self, station_mm: float, side: int = 1) -> float:
        """Diameter at a station; at a step ``side`` -1 is above it, 1 below."""
        return diameter_at(self.points, station_mm, side)


def part_bore(part: Part, start_mm: float, end_mm: float) -> list[Point]:
    """A part's bore between two of its stations; the end diameters go on beyond its list."""
    inside = [point for point in part.bore if start_mm < point[0] < end_mm]
    first = (start_mm, part.bore_diameter_at(start_mm, 1))
    last = (end_mm, part.bore_diameter_at(end_mm, -1))
    return [first, *inside, last]


def assembled_bore(instrument: Instrument, part: str | None = None) -> BoreLine:
    """The bore from the top of the body down, or that of one part from its own shoulder.

    In a joint the sound meets the tenon's bore; the short ring where a socket is deeper than
    its tenon is left out. Raises KeyError for an unknown part.
    """
    parts = instrument.parts
    if part is not None:
        one = instrument.part(part)
        low, high = _reach(one, first=False, last=False)
        return BoreLine(name=instrument.name, points=part_bore(one, low, high))
    points: list[Point] = []
    joints: list[tuple[float, str]] = []
    offset = 0.0
    for number, each in enumerate(parts):
        low, high = _reach(each, first=number == 0, last=number == len(parts) - 1)
        # The ring between a socket's floor and the tenon's end counts as the part above it.
        low = low if not points else points[-1][0] - offset if low > 0 else low
        points = [point for point in points if point[0] <= offset + low]
        points += [(offset + s, d) for s, d in part_bore(each, low, high)]
        joints.append((offset, each.name))
        offset += each.length_mm
    return BoreLine(name=instrument.name, points=_without_repeats(points), joints=joints)


def _reach(part: Part, *, first: bool, last: bool) -> Point:
    """First and last station whose own bore the sound meets."""
    top = 0.0 if first else -part.tenon_top.length_mm if part.tenon_top else 0.0
    if not first and part.socket_top:
        top = part.socket_top.depth_mm
    bottom = part.length_mm
    if not last and part.tenon_bottom:
        bottom += part.tenon_bottom.length_mm
    if not last and part.socket_bottom:
        bottom -= part.socket_bottom.depth_mm
    return top, bottom


def _without_repeats(points: list[Point]) -> list[Point]:
    kept: list[Point] = []
    for point in points:
        if not kept or point != kept[-1]:
            kept.append(point)
    return kept
