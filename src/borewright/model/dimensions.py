"""Every number of an instrument that a person may change, as one flat vector.

The order is fixed by the instrument's structure, so that fits, sensitivities and virtual
builds all speak of the same columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from borewright.model.files.validation import model_error
from borewright.model.instrument import Instrument


@dataclass(frozen=True)
class Dimension:
    """One changeable number (mm): which part, which hole or bore point, which measure."""

    part: str
    measure: str
    hole: str = ""
    index: int = -1

    @property
    def label(self) -> str:
        """Words for a table: ``L3 diameter``, ``bell bore diameter 3``."""
        owner = self.hole or self.part
        words = self.measure.replace("_", " ")
        return f"{owner} {words} {self.index + 1}" if self.index >= 0 else f"{owner} {words}"


def dimensions(instrument: Instrument) -> list[Dimension]:
    """All dimensions of an instrument, part by part, then hole by hole."""
    found: list[Dimension] = []
    for part in instrument.parts:
        found.append(Dimension(part.name, "length"))
        for index in range(len(part.bore)):
            found.append(Dimension(part.name, "bore_station", index=index))
        for index in range(len(part.bore)):
            found.append(Dimension(part.name, "bore_diameter", index=index))
    for part in instrument.parts:
        for hole in part.holes:
            measures = ["station", "diameter", "chimney"]
            measures += ["into_bore"] if hole.into_bore_mm else []
            measures += ["lift"] if hole.pad else []
            measures += ["undercut_diameter", "undercut_depth"] if hole.undercut else []
            found += [Dimension(part.name, measure, hole=hole.name) for measure in measures]
    if instrument.mouthpiece:
        found.append(Dimension("mouthpiece", "bore_length"))
        found.append(Dimension("mouthpiece", "bore_diameter"))
    return found


def read_values(instrument: Instrument) -> list[float]:
    """Values (mm) of all dimensions, in the order of :func:`dimensions`."""
    return [_read(instrument, dimension) for dimension in dimensions(instrument)]


def _read(instrument: Instrument, dimension: Dimension) -> float:
    if dimension.part == "mouthpiece" and instrument.mouthpiece:
        return float(getattr(instrument.mouthpiece, f"{dimension.measure}_mm"))
    part = instrument.part(dimension.part)
    if dimension.hole:
        hole = part.hole(dimension.hole)
        if dimension.measure == "lift" and hole.pad:
            return hole.pad.lift_mm
        if dimension.measure.startswith("undercut_") and hole.undercut:
            return float(getattr(hole.undercut, f"{dimension.measure.split('_')[1]}_mm"))
        return float(getattr(hole, f"{dimension.measure}_mm"))
    if dimension.measure == "length":
        return part.length_mm
    return part.bore[dimension.index][0 if dimension.measure == "bore_station" else 1]


def with_values(
    instrument: Instrument, values: Sequence[float], digits: int | None = None
) -> Instrument:
    """The instrument with every dimension replaced (mm), validated anew.

    Parameters
    ----------
    instrument
        The structure; it is not changed.
    values
        One value per dimension, in the order of :func:`dimensions`.
    digits
        Round to so many decimals, as a person would write them; None keeps all.

    Raises
    ------
    ModelError
        Where the values make no sound instrument. A wrong number of values is a ValueError.

    Where a part's length changes, profile stations at its bottom end and beyond it (in the
    tenon) follow, unless they were given new values themselves.
    """
    data: dict[str, Any] = instrument.model_dump()
    parts = {part["name"]: part for part in data["parts"]}
    holes = {(part["name"], hole["name"]): hole for part in data["parts"] for hole in part["holes"]}
    for dimension, raw, old in zip(
        dimensions(instrument), values, read_values(instrument), strict=True
    ):
        value = old if raw == old else float(raw)
        if digits is not None and value != old:
            value = round(value, digits)
        if dimension.part == "mouthpiece":
            data["mouthpiece"][f"{dimension.measure}_mm"] = value
        elif dimension.hole:
            hole = holes[dimension.part, dimension.hole]
            if dimension.measure == "lift":
                hole["pad"]["lift_mm"] = value
            elif dimension.measure.startswith("undercut_"):
                hole["undercut"][f"{dimension.measure.split('_')[1]}_mm"] = value
            else:
                hole[f"{dimension.measure}_mm"] = value
        else:
            _set_part(parts[dimension.part], dimension, value)
    _follow_length(instrument, parts)
    try:
        return Instrument.model_validate(data)
    except ValidationError as error:
        raise model_error(error, instrument.name, data) from error


def _set_part(part: dict[str, Any], dimension: Dimension, value: float) -> None:
    if dimension.measure == "length":
        part["length_mm"] = value
        return
    point = list(part["bore"][dimension.index])
    point[0 if dimension.measure == "bore_station" else 1] = value
    part["bore"][dimension.index] = tuple(point)


def _follow_length(instrument: Instrument, parts: dict[str, dict[str, Any]]) -> None:
    """Let the profiles' last stations follow where a part's length was changed."""
    for old in instrument.parts:
        part = parts[old.name]
        if part["length_mm"] == old.length_mm:
            continue
        for profile, old_profile in (("bore", old.bore), ("outside", old.outside)):
            part[profile] = [
                (_moved(old_station, old.length_mm, part["length_mm"]), diameter)
                if _at_bottom(old_station, old.length_mm) and station == old_station
                else (station, diameter)
                for (station, diameter), (old_station, _) in zip(
                    part[profile], old_profile, strict=True
                )
            ]


def _at_bottom(station: float, length: float) -> bool:
    return station >= length - 1e-9


def _moved(station: float, length: float, new_length: float) -> float:
    # The shoulder's own station is the length itself, free of rounding.
    return new_length if abs(station - length) < 1e-9 else new_length + (station - length)
