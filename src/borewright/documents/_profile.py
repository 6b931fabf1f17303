"""Outlines of a part in longitudinal section: pure geometry in millimetres.

Stations run from the part's top shoulder; heights are radii.
"""

from __future__ import annotations

from collections.abc import Callable

from borewright.model import Part

Point = tuple[float, float]


def reach(part: Part) -> tuple[float, float]:
    """Where the part's material begins and ends, tenons included (stations, mm)."""
    top = -part.tenon_top.length_mm if part.tenon_top else 0.0
    bottom = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)
    return top, bottom


def outer_line(part: Part) -> list[Point]:
    """The outside from the top end to the bottom end, tenons included (station, radius)."""
    line = [
        (s, d / 2) for s, d in _clipped(part.outside, part.outside_diameter_at, 0.0, part.length_mm)
    ]
    if part.tenon_top:
        radius = part.tenon_top.diameter_mm / 2
        line = [(-part.tenon_top.length_mm, radius), (0.0, radius), *line]
    if part.tenon_bottom:
        radius = part.tenon_bottom.diameter_mm / 2
        end = part.length_mm + part.tenon_bottom.length_mm
        line = [*line, (part.length_mm, radius), (end, radius)]
    return line


def inner_line(part: Part) -> list[Point]:
    """The inside from the top end to the bottom end: sockets, and the bore between them."""
    start, end = reach(part)
    head: list[Point] = []
    tail: list[Point] = []
    if part.socket_top:
        start = min(part.socket_top.depth_mm, part.length_mm)
        radius = part.socket_top.diameter_mm / 2
        head = [(0.0, radius), (start, radius)]
    if part.socket_bottom:
        end = max(part.length_mm - part.socket_bottom.depth_mm, start)
        radius = part.socket_bottom.diameter_mm / 2
        tail = [(end, radius), (part.length_mm, radius)]
    bore = [(s, d / 2) for s, d in _clipped(part.bore, part.bore_diameter_at, start, end)]
    return [*head, *bore, *tail]


def wall_outline(part: Part) -> list[Point]:
    """The closed outline of the wall on one side of the axis (station, radius)."""
    return outer_line(part) + inner_line(part)[::-1]


def cork_line(part: Part) -> list[tuple[float, float, float, float]]:
    """Cork grooves as (start, end, bottom radius, tenon radius), centred on their tenon."""
    grooves = []
    for tenon, middle in (
        (part.tenon_top, -0.5),
        (part.tenon_bottom, 0.5),
    ):
        if tenon and tenon.cork_length_mm and tenon.cork_depth_mm:
            shoulder = 0.0 if middle < 0 else part.length_mm
            centre = shoulder + middle * tenon.length_mm
            radius = tenon.diameter_mm / 2
            half = tenon.cork_length_mm / 2
            grooves.append((centre - half, centre + half, radius - tenon.cork_depth_mm, radius))
    return grooves


def _clipped(
    profile: list[Point], diameter_at: Callable[[float, int], float], start: float, end: float
) -> list[Point]:
    """A (station, diameter) polyline between two stations; end values go on beyond its ends.

    ``diameter_at`` reads the same polyline; at a step its second argument -1 asks for the
    value above it, 1 for the value below.
    """
    inside = [point for point in profile if start < point[0] < end]
    return [(start, diameter_at(start, 1)), *inside, (end, diameter_at(end, -1))]
