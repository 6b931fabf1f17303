"""The body as keys meet it: outside, inside, and the rims of its holes, in the keys' frame."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from borewright.keywork.frame import outward
from borewright.model import Cover, Instrument, ToneHole

#: A socket is taken to reach so much (mm) past its floor: its corner is a wall too.
SOCKET_MARGIN_MM = 1.5


@dataclass(frozen=True)
class Rim:
    """A hole's rim: the middle of it, the way out, and its radius from the bore's axis (mm)."""

    part: str
    hole: ToneHole
    centre: np.ndarray
    out: np.ndarray
    height_mm: float
    wall_mm: float

    @property
    def tube(self) -> tuple[np.ndarray, np.ndarray]:
        """The hole's centre line, from the axis to the rim."""
        return self.centre - self.out * self.height_mm, self.centre


class Body:
    """An instrument's outside, inside and holes, for arrays of stations x (mm) in the frame."""

    def __init__(self, instrument: Instrument) -> None:
        self.instrument = instrument
        self.offset_mm = {part.name: instrument.offset_mm(part.name) for part in instrument.parts}

    def outside_mm(self, x: np.ndarray | float) -> np.ndarray:
        """Radius of the outside, rings of wall and flats left out; end values go on beyond."""
        return np.asarray(np.interp(x, *self._outside))

    def inside_mm(self, part: str, x: np.ndarray | float) -> np.ndarray:
        """Radius of a part's bore, and of its sockets with their margin."""
        made = self.instrument.part(part)
        station = np.asarray(x, dtype=float) - self.offset_mm[part]
        stations, diameters = np.array(made.bore, dtype=float).T
        radius = np.interp(station, stations, diameters / 2)
        if made.socket_top:
            deep = station < made.socket_top.depth_mm + SOCKET_MARGIN_MM
            radius = np.where(deep, np.maximum(radius, made.socket_top.diameter_mm / 2), radius)
        if made.socket_bottom:
            floor = made.length_mm - made.socket_bottom.depth_mm - SOCKET_MARGIN_MM
            wide = np.maximum(radius, made.socket_bottom.diameter_mm / 2)
            radius = np.where(station > floor, wide, radius)
        return np.asarray(radius)

    @cached_property
    def _outside(self) -> tuple[np.ndarray, np.ndarray]:
        stations: list[float] = []
        radii: list[float] = []
        for part in self.instrument.parts:
            start = self.offset_mm[part.name]
            inner = [p for p in part.outside if 0 < p[0] < part.length_mm]
            profile = [
                (0.0, part.outside_diameter_at(0.0)),
                *inner,
                (part.length_mm, part.outside_diameter_at(part.length_mm, -1)),
            ]
            stations += [start + station for station, _ in profile]
            radii += [diameter / 2 for _, diameter in profile]
        return np.array(stations), np.array(radii)

    @cached_property
    def rims(self) -> dict[str, Rim]:
        """Every hole's rim, by its name."""
        found = {}
        for part, hole, x in self.instrument.placed_holes():
            height = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
            out = outward(hole.bearing_deg)
            centre = np.array([x, 0.0, 0.0]) + height * out
            wall = self.instrument.fit.chimney_wall_mm if hole.cover is not Cover.PAD else 0.0
            found[hole.name] = Rim(part.name, hole, centre, out, height, wall)
        return found
