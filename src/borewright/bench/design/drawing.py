"""What the drawn section needs, as plain numbers in millimetres; the page scales it."""

from __future__ import annotations

import math
from typing import Any

from borewright.bench.design.limits import Range
from borewright.bench.words import _
from borewright.documents.outlines import cork_line, inner_line, outer_line
from borewright.model import Dimension, Instrument, Part, ToneHole, dimensions, read_values

#: Parts beyond these many are set in the same colours again.
_TINTS = 5


def drawing_of(instrument: Instrument, limits: dict[int, Range]) -> dict[str, Any]:
    """Parts, holes and bore points of the assembled instrument, for ``section.js``.

    Stations are distances from the top of the first part, heights radii. ``rows`` says where
    a drawing in two rows is cut: at the joint nearest the middle.
    """
    columns = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    values = read_values(instrument)
    top = -instrument.mouthpiece.shown_mm if instrument.mouthpiece else 0.0
    parts, holes, points = [], [], []
    offset = 0.0
    for number, part in enumerate(instrument.parts):
        parts.append(
            {
                "name": part.name,
                "offset": offset,
                "length": part.length_mm,
                "tint": number % _TINTS + 1,
                "outer": outer_line(part),
                "inner": inner_line(part),
                "corks": cork_line(part),
            }
        )
        for hole in part.holes:
            holes.append(_hole(instrument, part, hole, offset, columns, limits))
        points += _points(part, offset, columns, limits)
        offset += part.length_mm
    return {
        "top": top,
        "bottom": instrument.length_mm,
        "cut": _cut(instrument, top),
        "parts": parts,
        "holes": holes,
        "points": points,
        "values": values,
    }


def _cut(instrument: Instrument, top: float) -> float:
    joints = [instrument.offset_mm(part.name) for part in instrument.parts[1:]]
    middle = (top + instrument.length_mm) / 2
    return min(joints, key=lambda joint: abs(joint - middle), default=middle)


def _range(column: int | None, limits: dict[int, Range]) -> dict[str, Any] | None:
    found = limits.get(column) if column is not None else None
    if found is None:
        return None
    return {
        "low": found.low,
        "high": found.high,
        "low_words": _.tell(found.low_words),
        "high_words": _.tell(found.high_words),
    }


def _hole(
    instrument: Instrument,
    part: Part,
    hole: ToneHole,
    offset: float,
    columns: dict[Dimension, int],
    limits: dict[int, Range],
) -> dict[str, Any]:
    station = columns[Dimension(part.name, "station", hole=hole.name)]
    diameter = columns[Dimension(part.name, "diameter", hole=hole.name)]
    outside = part.outside_diameter_at(hole.station_mm) / 2
    return {
        "name": hole.name,
        "part": part.name,
        "offset": offset,
        "length": part.length_mm,
        "turn": math.cos(math.radians(hole.bearing_deg)),
        "bearing": hole.bearing_deg,
        "bore": part.bore_diameter_at(hole.station_mm) / 2,
        "outside": outside,
        "rim": outside + hole.chimney_mm,
        "wall": instrument.fit.chimney_wall_mm,
        "cover": hole.cover.value,
        "pad": hole.pad.diameter_mm if hole.pad else 0.0,
        "lift": hole.pad.lift_mm if hole.pad else 0.0,
        "station": station,
        "diameter": diameter,
        "station_range": _range(station, limits),
        "diameter_range": _range(diameter, limits),
    }


def _points(
    part: Part, offset: float, columns: dict[Dimension, int], limits: dict[int, Range]
) -> list[dict[str, Any]]:
    """Bore points; those at an end, in a joint or at a step keep their station."""
    stations = [station for station, _diameter in part.bore]
    found = []
    for index, station in enumerate(stations):
        if not 0 <= station <= part.length_mm:
            continue
        fixed = station in (0, part.length_mm) or stations.count(station) > 1
        diameter = columns[Dimension(part.name, "bore_diameter", index=index)]
        found.append(
            {
                "name": f"{part.name} {index + 1}",
                "part": part.name,
                "offset": offset,
                "station": columns[Dimension(part.name, "bore_station", index=index)],
                "diameter": diameter,
                "fixed": fixed,
                "low": stations[index - 1] if index else 0.0,
                "high": stations[index + 1] if index + 1 < len(stations) else part.length_mm,
                "diameter_range": _range(diameter, limits),
            }
        )
    return found
