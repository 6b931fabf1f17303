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
from borewright.words import Message, say

#: Measures of a dimension, by their key.
MEASURES = {
    "length": say("length"),
    "bore_station": say("bore station"),
    "bore_diameter": say("bore diameter"),
    "bore_length": say("bore length"),
    "station": say("station"),
    "diameter": say("diameter"),
    "chimney": say("chimney"),
    "into_bore": say("into bore"),
    "lift": say("lift"),
    "undercut_diameter": say("undercut diameter"),
    "undercut_depth": say("undercut depth"),
}


@dataclass(frozen=True)
class Dimension:
    """One changeable number (mm): which part, which hole or bore point, which measure."""

    part: str
    measure: str
    hole: str = ""
    index: int = -1

    @property
    def words(self) -> Message:
        """What a reader is told: ``L3 diameter``, ``bell bore diameter 3``."""
        owner, measure = self.hole or self.part, MEASURES[self.measure]
        if self.index < 0:
            return say("{owner} {measure}", owner=owner, measure=measure)
        number = self.index + 1
        return say("{owner} {measure} {number}", owner=owner, measure=measure, number=number)

    @property
    def label(self) -> str:
        """The same in English: its name in scripts and records."""
        return str(self.words)


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
    return [float(owner[key]) for owner, key in _places(instrument, instrument.model_dump())]


def _places(instrument: Instrument, data: dict[str, Any]) -> list[tuple[Any, Any]]:
    """Table or bore point, and key in it, of every dimension in an instrument's dumped data.

    Bore points become lists, which can be written to.
    """
    parts = {part["name"]: part for part in data["parts"]}
    holes = {(part["name"], hole["name"]): hole for part in data["parts"] for hole in part["holes"]}
    for part in parts.values():
        part["bore"] = [list(point) for point in part["bore"]]
    found: list[tuple[Any, Any]] = []
    for each in dimensions(instrument):
        owner: Any = parts.get(each.part)
        key: Any = f"{each.measure}_mm"
        if each.index >= 0:
            owner, key = owner["bore"][each.index], int(each.measure == "bore_diameter")
        elif each.hole:
            owner = holes[each.part, each.hole]
            if each.measure == "lift":
                owner = owner["pad"]
            elif each.measure.startswith("undercut_"):
                owner, key = owner["undercut"], key.removeprefix("undercut_")
        elif each.part == "mouthpiece" and each.measure != "length":
            owner = data["mouthpiece"]
        found.append((owner, key))
    return found


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
    for (owner, key), raw in zip(_places(instrument, data), values, strict=True):
        old = owner[key]
        value = old if raw == old else float(raw)
        owner[key] = round(value, digits) if digits is not None and value != old else value
    _follow_length(instrument, {part["name"]: part for part in data["parts"]})
    try:
        return Instrument.model_validate(data)
    except ValidationError as error:
        raise model_error(error, instrument.name, data) from error


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
