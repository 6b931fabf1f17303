"""The gauge plan: which plug goes, which does not, and how deep, at every station of a bore."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from borewright.model import Instrument, Part, write_text
from borewright.words import Message, say

#: Workshop tolerances on finished diameters (mm, from memory): bore, side holes.
BORE_TOLERANCE_MM, HOLE_TOLERANCE_MM = 0.05, 0.1
#: Bores steeper than this (mm of diameter per mm) are gauged by depth, others go / no-go.
_STEEP = 0.002
_SPACING_MM = 40.0


@dataclass(frozen=True)
class GaugeRow:
    """One check (mm): on a cylinder a go and a no-go plug; in a cone one plug and its depths.

    ``least_depth_mm`` and ``most_depth_mm`` are stations between which the cone's plug, of the
    nominal size, must stop; None on a cylinder.
    """

    part: str
    station_mm: float
    nominal_mm: float
    go_mm: float
    no_go_mm: float
    least_depth_mm: float | None
    most_depth_mm: float | None

    @property
    def words(self) -> Message:
        """What to do, in words."""
        if self.least_depth_mm is None or self.most_depth_mm is None:
            return say(
                "{go_mm:.2f} goes, {no_go_mm:.2f} does not",
                go_mm=self.go_mm,
                no_go_mm=self.no_go_mm,
            )
        return say(
            "plug {nominal_mm:.2f} stops at {least_mm:.1f} to {most_mm:.1f}",
            nominal_mm=self.nominal_mm,
            least_mm=self.least_depth_mm,
            most_mm=self.most_depth_mm,
        )


def gauge_plan(instrument: Instrument, tolerance_mm: float = BORE_TOLERANCE_MM) -> list[GaugeRow]:
    """Checks at every listed bore station inside a part, and between far ones."""
    return [row for part in instrument.parts for row in part_gauge_plan(part, tolerance_mm)]


def part_gauge_plan(part: Part, tolerance_mm: float = BORE_TOLERANCE_MM) -> list[GaugeRow]:
    """The checks of one part, from the top down."""
    top = part.socket_top.depth_mm if part.socket_top else 0.0
    bottom = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
    listed = sorted({s for s, _ in part.bore if top <= s <= bottom} | {top, bottom})
    stations = [listed[0]]
    for station in listed[1:]:
        pieces = max(1, -int(-(station - stations[-1]) // _SPACING_MM))
        start, step = stations[-1], (station - stations[-1]) / pieces
        stations += [start + step * (number + 1) for number in range(pieces)]
    return [_row(part, station, tolerance_mm) for station in stations]


def _row(part: Part, station: float, tolerance: float) -> GaugeRow:
    # A little inside the part, so that a step or an end is gauged on its own side.
    side = -1 if station >= part.length_mm - 1e-9 else 1
    nominal = part.bore_diameter_at(station, side)
    reach = 0.5
    above = (nominal - part.bore_diameter_at(station - reach, side)) / reach
    below = (part.bore_diameter_at(station + reach, side) - nominal) / reach
    # At a kink between cylinder and cone a plug has nowhere to stop: go and no-go there.
    slope = min(above, below, key=abs)
    if station + reach > part.bore[-1][0]:
        slope = above
    elif station - reach < part.bore[0][0]:
        slope = below
    depths: tuple[float | None, float | None] = (None, None)
    if abs(slope) > _STEEP:
        half = tolerance / abs(slope)
        depths = (max(station - half, 0.0), min(station + half, part.length_mm))
    return GaugeRow(
        part=part.name,
        station_mm=station,
        nominal_mm=nominal,
        go_mm=nominal - tolerance,
        no_go_mm=nominal + tolerance,
        least_depth_mm=depths[0],
        most_depth_mm=depths[1],
    )


def write_gauge_plan(instrument: Instrument, path: Path | str) -> Path:
    """Write the gauge plan as CSV (mm), one row a check."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(
        ["part", "station_mm", "nominal_mm", "go_mm", "no_go_mm", "stops_from_mm", "stops_to_mm"]
    )
    for row in gauge_plan(instrument):
        depths = ["" if d is None else f"{d:.1f}" for d in (row.least_depth_mm, row.most_depth_mm)]
        sizes = [f"{value:.3f}" for value in (row.nominal_mm, row.go_mm, row.no_go_mm)]
        writer.writerow([row.part, f"{row.station_mm:.2f}", *sizes, *depths])
    target = Path(path)
    write_text(target, stream.getvalue())
    return target
