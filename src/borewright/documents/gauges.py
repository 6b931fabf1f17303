"""The gauge plan: which plug goes, which does not, and how deep, at every station of a bore."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from borewright.documents.tolerances import BORE_TOLERANCE_MM
from borewright.model import Instrument, Part, write_text
from borewright.model.files.tables import TableWriter
from borewright.words import Message, say

#: Bores steeper than this (mm of diameter per mm) are gauged by depth, others go / no-go.
_STEEP = 0.002
_SPACING_MM = 40.0
#: A plug's depth is read to so much (mm): a window narrower than this to both sides says nothing.
_READABLE_MM = 0.25
#: A plug passes what is wider than it by so much (mm).
_PASSES_MM = 0.005


class GaugeTool(StrEnum):
    """What a bore is gauged with: plugs are turned to size, the others bought."""

    PLUGS = "go and no-go plugs"
    DEPTH_PLUG = "plug and depth"
    BORE_GAUGE = "two-point bore gauge"
    CALLIPER = "calliper"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _TOOLS[self]


_TOOLS = {
    GaugeTool.PLUGS: say("go and no-go plugs"),
    GaugeTool.DEPTH_PLUG: say("plug and depth"),
    GaugeTool.BORE_GAUGE: say("two-point bore gauge"),
    GaugeTool.CALLIPER: say("calliper"),
}


@dataclass(frozen=True)
class GaugeRow:
    """One check (mm): on a cylinder a go and a no-go plug; in a cone one plug and its depths.

    ``least_depth_mm`` and ``most_depth_mm`` are stations between which the cone's plug, of the
    nominal size, must stop; None on a cylinder, and where a plug says nothing: ``tool`` then is
    a gauge that spans the bore. ``side`` is -1 just above a step, 1 just below one, else 0.
    """

    part: str
    station_mm: float
    nominal_mm: float
    go_mm: float
    no_go_mm: float
    least_depth_mm: float | None
    most_depth_mm: float | None
    side: int = 0
    tool: GaugeTool = GaugeTool.PLUGS

    @property
    def words(self) -> Message:
        """What to do, in words."""
        if self.tool in (GaugeTool.BORE_GAUGE, GaugeTool.CALLIPER):
            return say(
                "{tool}: {least_mm:.2f} to {most_mm:.2f}",
                tool=self.tool.words,
                least_mm=self.go_mm,
                most_mm=self.no_go_mm,
            )
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

    @property
    def plugs_mm(self) -> tuple[float, ...]:
        """The plugs to turn for this check; none where a bought gauge spans the bore."""
        if self.tool is GaugeTool.PLUGS:
            return self.go_mm, self.no_go_mm
        return (self.nominal_mm,) if self.tool is GaugeTool.DEPTH_PLUG else ()


def gauge_plan(instrument: Instrument, tolerance_mm: float = BORE_TOLERANCE_MM) -> list[GaugeRow]:
    """Checks at every listed bore station inside a part, and between far ones."""
    return [row for part in instrument.parts for row in part_gauge_plan(part, tolerance_mm)]


def part_gauge_plan(part: Part, tolerance_mm: float = BORE_TOLERANCE_MM) -> list[GaugeRow]:
    """The checks of one part from the top down, its tenons' bores and both sides of steps too."""
    top, bottom = _limits(part)
    listed = sorted({s for s, _ in part.bore if top <= s <= bottom} | {top, bottom})
    stations = [listed[0]]
    for station in listed[1:]:
        pieces = max(1, -int(-(station - stations[-1]) // _SPACING_MM))
        start, step = stations[-1], (station - stations[-1]) / pieces
        stations += [start + step * (number + 1) for number in range(pieces)]
    rows = []
    for station in stations:
        above, below = (part.bore_diameter_at(station, side) for side in (-1, 1))
        if top < station < bottom and abs(above - below) > 1e-6:
            rows += [_row(part, station, side, tolerance_mm, step=True) for side in (-1, 1)]
        else:
            side = -1 if station >= bottom - 1e-9 else 1
            rows.append(_row(part, station, side, tolerance_mm))
    return rows


def _limits(part: Part) -> tuple[float, float]:
    """Where the bore begins and ends: at the floors of sockets, the ends of tenons (stations)."""
    top = -part.tenon_top.length_mm if part.tenon_top else 0.0
    bottom = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)
    if part.socket_top:
        top = part.socket_top.depth_mm
    if part.socket_bottom:
        bottom = part.length_mm - part.socket_bottom.depth_mm
    return top, bottom


def _row(
    part: Part, station: float, side: int, tolerance: float, *, step: bool = False
) -> GaugeRow:
    top, bottom = _limits(part)
    nominal = part.bore_diameter_at(station, side)
    reach = 0.5
    above = (nominal - part.bore_diameter_at(station - reach, side)) / reach
    below = (part.bore_diameter_at(station + reach, side) - nominal) / reach
    # At a kink between cylinder and cone a plug has nowhere to stop: go and no-go there.
    slope = min(above, below, key=abs)
    if station + reach > bottom or (step and side < 0):
        slope = above
    elif station - reach < top or step:
        slope = below
    at_mouth = (station <= top and not part.socket_top) or (
        station >= bottom and not part.socket_bottom
    )
    depths: tuple[float | None, float | None] = (None, None)
    half = tolerance / abs(slope) if slope else 0.0
    tool = GaugeTool.PLUGS
    if not _reached(part, station, nominal) or not (
        abs(slope) > _STEEP or at_mouth or _no_go_comes(part, station, nominal + tolerance)
    ):
        tool = GaugeTool.BORE_GAUGE
    elif abs(slope) > _STEEP and half >= _READABLE_MM:
        tool = GaugeTool.DEPTH_PLUG
        depths = (max(station - half, top), min(station + half, bottom))
    elif abs(slope) > _STEEP:
        tool = GaugeTool.CALLIPER if at_mouth else GaugeTool.BORE_GAUGE
    return GaugeRow(
        part=part.name,
        station_mm=station,
        nominal_mm=nominal,
        go_mm=nominal - tolerance,
        no_go_mm=nominal + tolerance,
        least_depth_mm=depths[0],
        most_depth_mm=depths[1],
        side=side if step else 0,
        tool=tool,
    )


def _no_go_comes(part: Part, station: float, no_go: float) -> bool:
    """Whether a no-go plug would find the bore too wide there: it must come so far first."""
    top, bottom = _limits(part)
    above = [part.bore_diameter_at(s, -1) for s, _ in part.bore if top < s < station]
    below = [part.bore_diameter_at(s, 1) for s, _ in part.bore if station < s < bottom]
    return (station <= top or min([*above, part.bore_diameter_at(top)]) > no_go) or (
        station >= bottom or min([*below, part.bore_diameter_at(bottom, -1)]) > no_go
    )


def _reached(part: Part, station: float, nominal: float) -> bool:
    """Whether a plug of the bore's size comes there from one end or the other."""
    top, bottom = _limits(part)

    def free(first: float, last: float) -> bool:
        inner = [d for s, d in part.bore if first < s < last]
        ends = [part.bore_diameter_at(first, 1), part.bore_diameter_at(last, -1)]
        return (
            min([*inner, *(ends if last > first else [])], default=nominal) > nominal - _PASSES_MM
        )

    return free(top, station) or free(station, bottom)


def plugs_to_turn(rows: Sequence[GaugeRow]) -> list[float]:
    """Diameters (mm, hundredths) of all plugs that the checks need, each once, rising."""
    return sorted({round(plug, 2) for row in rows for plug in row.plugs_mm})


def write_gauge_plan(instrument: Instrument, path: Path | str) -> Path:
    """Write the gauge plan as CSV (mm), one row a check."""
    stream = io.StringIO()
    writer = TableWriter(stream)
    writer.writerow(
        [
            "part",
            "station_mm",
            "nominal_mm",
            "go_mm",
            "no_go_mm",
            "stops_from_mm",
            "stops_to_mm",
            "step",
            "tool",
        ]
    )
    for row in gauge_plan(instrument):
        depths = ["" if d is None else f"{d:.1f}" for d in (row.least_depth_mm, row.most_depth_mm)]
        sizes = [f"{value:.3f}" for value in (row.nominal_mm, row.go_mm, row.no_go_mm)]
        step = {-1: "above", 0: "", 1: "below"}[row.side]
        writer.writerow([row.part, f"{row.station_mm:.2f}", *sizes, *depths, step, row.tool.value])
    target = Path(path)
    write_text(target, stream.getvalue())
    return target
