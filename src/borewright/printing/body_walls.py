"""Walls of the body itself: bore or socket to the outside, and between two sockets."""

from __future__ import annotations

import numpy as np

from borewright.model import Finding, Part
from borewright.printing.profiles import MaterialProfile
from borewright.printing.thin import thin
from borewright.solids import outlines
from borewright.words import Message, say

#: Just beside a step (mm), where two radii stand at one station.
_BESIDE_MM = 1e-4


def body_wall_findings(part: Part, material: MaterialProfile) -> list[Finding]:
    """Faults where the part, holes left out, is thinner than the process holds.

    Measured square to the axis: on a taper of 5 degrees that is 0.4 % more than across the wall.
    """
    least = material.least_wall_mm
    top = part.socket_top.depth_mm if part.socket_top else 0.0
    bottom = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
    if part.socket_top and part.socket_bottom and bottom - top < least:
        floors = (say("the floor of the top socket"), say("the floor of the bottom socket"))
        return thin(part, *floors, bottom - top, least)
    spans: list[tuple[Message, float, float]] = []
    if part.socket_top:
        spans.append((say("the top socket"), 0.0, top))
    spans.append((say("the bore"), top, bottom))
    if part.socket_bottom:
        spans.append((say("the bottom socket"), bottom, part.length_mm))
    outside, inside = outlines(part)
    findings = []
    for words, low, high in spans:
        station, wall = _least(outside, inside, low, high)
        there = say("the outside at {station_mm:.1f} mm", station_mm=station)
        findings += thin(part, words, there, wall, least)
    return findings


def _least(
    outside: list[tuple[float, float]], inside: list[tuple[float, float]], low: float, high: float
) -> tuple[float, float]:
    """Station and wall (mm) where it is thinnest: outlines are straight between their points."""
    corners = [station for _, station in (*outside, *inside) if low <= station <= high]
    beside = np.array([s + by for s in (low, high, *corners) for by in (-_BESIDE_MM, _BESIDE_MM)])
    beside = beside[(beside > low) & (beside < high)]
    walls = [np.interp(beside, *np.array(line)[:, ::-1].T) for line in (outside, inside)]
    wall = walls[0] - walls[1]
    at = int(np.argmin(wall))
    return float(beside[at]), float(wall[at])
