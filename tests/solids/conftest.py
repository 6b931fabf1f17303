"""An invented clarinet, and a volume worked out without the kernel."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from borewright.model import BodyFeatures, Instrument, Pad, Part, Socket, Tenon, ToneHole
from borewright.solids import export_solids

HOLES = """\
name,part,station,diameter,height,bearing,cover,rest,pad,lift
RV,upper joint,13.0,3.0,12.5,180,pad,closed,9,1.5
S4,upper joint,21.5,5.0,7.0,-70,pad,closed,9.5,2.3
S3,upper joint,43.5,5.2,7.0,-70,pad,closed,9.5,2.3
A,upper joint,55.0,5.2,6.8,0,pad,closed,9.5,2.3
GS,upper joint,67.5,5.3,6.8,40,pad,closed,9.5,2.3
TP,upper joint,85.5,5.6,6.8,-20,pad,open,9.5,2.2
T,upper joint,94.0,7.0,8.0,180,ring,,,
S2,upper joint,95.0,5.4,7.2,-75,pad,closed,9.5,2.5
L1,upper joint,111.5,6.2,8.2,0,ring,,,
LP,upper joint,128.5,6.0,7.2,-25,pad,open,9.5,2.3
L2,upper joint,139.5,6.6,8.2,0,ring,,,
SV,upper joint,140.0,5.6,7.2,70,pad,closed,9.5,2.5
S1,upper joint,141.5,5.8,7.2,-75,pad,closed,9.5,2.5
L3,upper joint,160.5,7.8,8.0,0,finger,,,
CG,upper joint,171.5,5.2,7.6,50,pad,closed,10,2.3
RP,lower joint,27.0,8.4,6.8,-10,pad,open,12,3.0
R1,lower joint,43.0,9.0,8.0,0,ring,,,
SB,lower joint,45.0,8.0,7.2,-85,pad,closed,12,2.8
R2,lower joint,67.0,8.2,8.6,0,ring,,,
R3,lower joint,89.5,9.4,8.0,0,ring,,,
AE,lower joint,118.5,9.8,7.0,-55,pad,closed,13.5,3.3
FC,lower joint,145.5,11.5,6.6,-25,pad,open,16.5,3.9
FS,lower joint,177.0,11.2,6.4,60,pad,closed,16,3.8
EB,lower joint,214.0,12.2,6.2,15,pad,open,17,4.2
"""
HEIGHTS = {row["name"]: float(row["height"]) for row in csv.DictReader(io.StringIO(HOLES))}


def _holes(part: Part) -> list[ToneHole]:
    """The table's holes of a part; chimneys such that tubes have the table's heights."""
    holes = []
    for row in csv.DictReader(io.StringIO(HOLES)):
        if row["part"] != part.name:
            continue
        station, into = float(row["station"]), 4.0 if row["name"] == "RV" else 0.0
        wall = (part.outside_diameter_at(station) - part.bore_diameter_at(station)) / 2
        pad = None
        if row["cover"] == "pad":
            pad = Pad(diameter_mm=row["pad"], lift_mm=row["lift"], rest=row["rest"])
        holes.append(
            ToneHole(
                name=row["name"],
                station_mm=station,
                diameter_mm=row["diameter"],
                bearing_deg=row["bearing"],
                chimney_mm=float(row["height"]) - wall - into,
                into_bore_mm=into,
                cover=row["cover"],
                pad=pad,
            )
        )
    return holes


@pytest.fixture(scope="session")
def tube_heights_mm() -> dict[str, float]:
    """Heights (mm) that the clarinet's chimneys were chosen for."""
    return HEIGHTS


@pytest.fixture(scope="session")
def clarinet() -> Instrument:
    """Four parts, 24 holes: invented, consistent, nobody's instrument."""
    bare = [
        Part(
            name="barrel",
            length_mm=65,
            bore=[(0, 15.0), (65, 14.85)],
            outside=[(0, 31), (32, 34), (65, 31)],
            socket_top=Socket(depth_mm=16.4, diameter_mm=22.4),
            socket_bottom=Socket(depth_mm=16.4, diameter_mm=22.4),
        ),
        Part(
            name="upper joint",
            length_mm=180,
            bore=[(0, 14.95), (20, 14.85), (40, 14.70), (85, 14.65), (180, 14.65)],
            outside=[(0, 29.6), (180, 29.6)],
            tenon_top=Tenon(length_mm=16, diameter_mm=22, cork_length_mm=11, cork_depth_mm=1),
            tenon_bottom=Tenon(length_mm=21, diameter_mm=23, cork_length_mm=15, cork_depth_mm=1),
        ),
        Part(
            name="lower joint",
            length_mm=244,
            bore=[(0, 14.65), (150, 14.65), (192, 15.84), (244, 20.60)],
            outside=[(0, 31), (244, 34)],
            socket_top=Socket(depth_mm=21.4, diameter_mm=23.4),
            tenon_bottom=Tenon(length_mm=16.5, diameter_mm=26, cork_length_mm=11, cork_depth_mm=1),
        ),
        Part(
            name="bell",
            length_mm=100,
            bore=[(0, 21.0), (30, 23.8), (55, 28.5), (80, 38), (100, 58)],
            outside=[(0, 36), (25, 35), (45, 36), (60, 39), (80, 47), (100, 63.5)],
            socket_top=Socket(depth_mm=17, diameter_mm=26.4),
        ),
    ]
    parts = [Part.model_validate({**p.model_dump(), "holes": _holes(p)}) for p in bare]
    return Instrument(
        name="invented clarinet", parts=parts, body=BodyFeatures.plain(), invented=True
    )


@pytest.fixture(scope="session")
def exported(clarinet, tmp_path_factory):
    """The clarinet's files and their report: (folder, report)."""
    folder = tmp_path_factory.mktemp("solids")
    return folder, export_solids(clarinet, folder)


@pytest.fixture(scope="session")
def volume_mm3() -> Callable[[Part, float], float]:
    """A part's volume (mm³) by integrals over rings and over columns along each hole's axis."""
    return _volume


def _volume(part: Part, wall: float) -> float:
    top = -part.tenon_top.length_mm if part.tenon_top else 0.0
    bottom = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)
    edges = np.linspace(top, bottom, 1 + round((bottom - top) / 0.02))
    middles = (edges[1:] + edges[:-1]) / 2
    rings = [_outer(part, z) ** 2 - _inner(part, z) ** 2 for z in middles]
    total = math.pi * float(np.sum(np.array(rings) * np.diff(edges)))
    return total + sum(_hole_change(part, hole, wall) for hole in part.holes)


def _outer(part: Part, z: float) -> float:
    for tenon, beyond in (
        (part.tenon_top, -z),
        (part.tenon_bottom, z - part.length_mm),
    ):
        if tenon and beyond > 0:
            corked = abs(beyond - tenon.length_mm / 2) < tenon.cork_length_mm / 2
            return tenon.diameter_mm / 2 - (tenon.cork_depth_mm if corked else 0.0)
    return part.outside_diameter_at(z) / 2


def _inner(part: Part, z: float) -> float:
    if part.socket_top and z < part.socket_top.depth_mm:
        return part.socket_top.diameter_mm / 2
    if part.socket_bottom and z > part.length_mm - part.socket_bottom.depth_mm:
        return part.socket_bottom.diameter_mm / 2
    return part.bore_diameter_at(z) / 2


def _hole_change(part: Part, hole: ToneHole, wall: float) -> float:
    """What a hole, its rim and its lining add to a part's volume (mm³), mostly negative."""
    radius = hole.diameter_mm / 2
    body = part.outside_diameter_at(hole.station_mm) / 2
    bore = part.bore_diameter_at(hole.station_mm) / 2
    rim, end, ring = body + hole.chimney_mm, bore - hole.into_bore_mm, radius + wall
    mouth = hole.undercut.diameter_mm / 2 if hole.undercut else radius

    def over(start: float, stop: float, height) -> float:
        """Integral of a height over the ring of columns between two radii, midpoint rule."""
        count, turns = 40, 48
        step = (stop - start) / count
        total = 0.0
        for aside in start + (np.arange(count) + 0.5) * step:
            for angle in (np.arange(turns) + 0.5) * 2 * math.pi / turns:
                x, z = aside * math.sin(angle), hole.station_mm + aside * math.cos(angle)
                crown = math.sqrt(max(0.0, _outer(part, z) ** 2 - x**2))
                floor = math.sqrt(max(0.0, _inner(part, z) ** 2 - x**2))
                total += height(aside, crown, floor) * aside * step * 2 * math.pi / turns
        return total

    change = -over(0, radius, lambda _, crown, floor: crown - floor)
    if hole.into_bore_mm:
        change += over(mouth, mouth + wall, lambda _, __, floor: max(0.0, floor - end))
    if hole.undercut and hole.undercut.diameter_mm > hole.diameter_mm:
        slope = hole.undercut.depth_mm / (mouth - radius)
        # Above the cone stands wall or lining, below it air: signed, as the cone may be either.
        change += over(radius, mouth, lambda aside, _, floor: floor - end - (mouth - aside) * slope)
    if hole.pad is None and hole.chimney_mm == 0:
        return change
    change += over(radius, ring, lambda _, crown, __: rim - crown)
    if hole.chimney_mm <= 0:
        seat = hole.pad.diameter_mm / 2 + 0.5 if hole.pad else radius + 2.5
        return change - over(ring, seat, lambda _, crown, __: max(0.0, crown - rim))
    if hole.cover != "ring":
        foot = body + min(0.8, hole.chimney_mm / 2)
        steepest = max(ring, body * math.sqrt(0.5))
        return change + over(
            ring, steepest, lambda aside, crown, _: max(0.0, foot - (aside - ring) - crown)
        )
    return change


@pytest.fixture
def one_part() -> Callable[..., Instrument]:
    """Makes an instrument of one straight part, 100 long, 30 outside, 15 bore unless told."""

    def make(*holes: ToneHole, **changes) -> Instrument:
        part = {
            "name": "joint",
            "length_mm": 100,
            "bore": [(0, 15), (100, 15)],
            "outside": [(0, 30), (100, 30)],
        }
        # The model refuses some of these holes by now; the solids must notice by themselves.
        bare = Part.model_validate(part | changes)
        made = Instrument(parts=[bare], body=BodyFeatures.plain(), invented=True)
        return made.model_copy(update={"parts": [bare.model_copy(update={"holes": list(holes)})]})

    return make


@pytest.fixture
def stl_of(tmp_path: Path) -> Callable[[Instrument], Path]:
    """Exports an instrument and gives its first part's STL."""

    def write(instrument: Instrument) -> Path:
        return Path(export_solids(instrument, tmp_path / "files").parts[0].stl)

    return write
