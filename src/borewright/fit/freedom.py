"""Which dimensions may move, how far, and which limit in words stops each side."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.errors import FitError
from borewright.model import (
    Cover,
    Dimension,
    Instrument,
    KeyworkSurvey,
    SurveyItem,
    ToneHole,
    dimensions,
    read_values,
)

#: A step (mm) that counts as moderate for each measure; it scales what "close" means.
_SCALE_MM = {
    "station": 1.0,
    "diameter": 0.5,
    "chimney": 0.5,
    "length": 1.0,
    "bore_station": 5.0,
    "bore_diameter": 0.1,
    "undercut_diameter": 0.5,
}
#: A pad lifts a third of its hole's diameter at least (common practice).
_LIFT_TO_DIAMETER = 3.0
#: A side hole stays clearly narrower than the bore (common practice).
_HOLE_TO_BORE = 0.9


@dataclass(frozen=True)
class Side:
    """One end of a range: the value (mm) and the limit that sets it."""

    value: float
    words: str


@dataclass(frozen=True)
class Freedom:
    """One free dimension with its range."""

    column: int  # in model.dimensions
    dimension: Dimension
    low: Side
    high: Side
    scale: float


def freedoms(instrument: Instrument, survey: KeyworkSurvey | None) -> list[Freedom]:
    """Free dimensions and their ranges.

    Raises
    ------
    FitError
        Where a wish frees nothing, or the limits of a dimension exclude each other.
    """
    found = []
    all_dimensions = dimensions(instrument)
    values = read_values(instrument)
    for wish in instrument.fit.free:
        if not any(_frees(wish, dimension) for dimension in all_dimensions):
            raise FitError(
                f"'{wish}' matches nothing in '{instrument.name}'",
                place="fit.free",
                remedy="Name an existing part or hole, or 'hole' for all holes.",
            )
    for column, dimension in enumerate(all_dimensions):
        if not any(_frees(wish, dimension) for wish in instrument.fit.free):
            continue
        if dimension.measure == "bore_station" and _fixed_station(instrument, dimension):
            continue
        low, high = _range(instrument, survey, dimension, values[column])
        if low.value > high.value:
            raise FitError(
                f"nothing is left between {low.value:g} mm ({low.words}) and "
                f"{high.value:g} mm ({high.words})",
                place=dimension.label,
                remedy="Relax one of the two limits.",
            )
        scale = _SCALE_MM[dimension.measure]
        found.append(Freedom(column, dimension, low, high, scale))
    if not found:
        raise FitError("nothing is free", place="fit.free", remedy="Free hole.diameter, say.")
    return found


def _frees(wish: str, dimension: Dimension) -> bool:
    owner, _, measure = wish.rpartition(".")
    if measure != dimension.measure:
        return False
    if dimension.hole:
        return owner in ("hole", "*", dimension.hole)
    return owner in ("*", dimension.part)


def _fixed_station(instrument: Instrument, dimension: Dimension) -> bool:
    """Whether a bore point stands at an end, in a tenon or at a step: such points stay."""
    part = instrument.part(dimension.part)
    stations = [station for station, _ in part.bore]
    station = stations[dimension.index]
    return not 0 < station < part.length_mm or stations.count(station) > 1


def _range(
    instrument: Instrument, survey: KeyworkSurvey | None, dimension: Dimension, value: float
) -> tuple[Side, Side]:
    wishes = instrument.fit
    if not dimension.hole:
        window = {
            "length": wishes.length_window_mm,
            "bore_diameter": wishes.bore_window_mm,
            "bore_station": wishes.bore_station_window_mm,
        }[dimension.measure]
        words = f"window of {dimension.measure.replace('_', ' ')}"
        return Side(value - window, words), Side(value + window, words)
    hole = instrument.part(dimension.part).hole(dimension.hole)
    if dimension.measure == "station":
        return _station_range(instrument, survey, hole, value)
    if dimension.measure == "diameter":
        return _diameter_range(instrument, survey, dimension, hole)
    if dimension.measure == "chimney":
        low = max(
            Side(value - wishes.chimney_window_mm, "chimney window"),
            Side(wishes.lowest_chimney_mm, "lowest chimney"),
            key=lambda side: side.value,
        )
        high = min(
            Side(value + wishes.chimney_window_mm, "chimney window"),
            Side(wishes.highest_chimney_mm, "highest chimney"),
            key=lambda side: side.value,
        )
        return low, high
    bore = instrument.part(dimension.part).bore_diameter_at(hole.station_mm)
    return Side(hole.diameter_mm, "the hole itself"), Side(_HOLE_TO_BORE * bore, "bore")


def _station_range(
    instrument: Instrument, survey: KeyworkSurvey | None, hole: ToneHole, value: float
) -> tuple[Side, Side]:
    row = survey.for_hole(hole.name) if survey else None
    if row is not None:
        word = "cup" if row.item is SurveyItem.CUP else "ring"
        return (
            Side(row.station_mm - row.up_mm, f"{word} window {hole.name} (up)"),
            Side(row.station_mm + row.down_mm, f"{word} window {hole.name} (down)"),
        )
    if hole.cover is Cover.PAD:
        window, words = instrument.fit.unkeyed_pad_window_mm, "window of a pad without survey"
    else:
        window, words = instrument.fit.finger_hole_window_mm, "finger hole window"
    return Side(value - window, f"{words} (up)"), Side(value + window, f"{words} (down)")


def _diameter_range(
    instrument: Instrument, survey: KeyworkSurvey | None, dimension: Dimension, hole: ToneHole
) -> tuple[Side, Side]:
    wishes = instrument.fit
    bore = instrument.part(dimension.part).bore_diameter_at(hole.station_mm)
    highest = [Side(_HOLE_TO_BORE * bore, f"{_HOLE_TO_BORE:.0%} of the bore")]
    row = survey.for_hole(hole.name) if survey else None
    if hole.into_bore_mm:
        highest.append(Side(wishes.largest_vent_mm, "largest vent"))
    if hole.pad:
        pad = row.pad_diameter_mm if row and row.pad_diameter_mm else hole.pad.diameter_mm
        lift = row.lift_mm if row and row.lift_mm else hole.pad.lift_mm
        highest.append(
            Side(
                pad - 2 * wishes.pad_overlap_mm,
                f"pad {pad:g} mm less {wishes.pad_overlap_mm:g} mm of seat all round",
            )
        )
        highest.append(Side(_LIFT_TO_DIAMETER * lift, f"three times the lift of {lift:g} mm"))
    else:
        highest.append(Side(wishes.largest_finger_hole_mm, "largest finger hole"))
    if row and row.ring_inside_mm:
        highest.append(
            Side(
                row.ring_inside_mm - 2 * wishes.chimney_wall_mm,
                f"ring {row.ring_inside_mm:g} mm inside less the chimney's wall",
            )
        )
    if hole.undercut and dimension.measure == "diameter":
        highest.append(Side(hole.undercut.diameter_mm, "its undercut"))
    low = Side(wishes.smallest_hole_mm, "smallest hole")
    return low, min(highest, key=lambda side: side.value)
