"""A bore put into a part of an instrument."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pydantic import ValidationError

from borewright.errors import ModelError
from borewright.model.files.validation import model_error
from borewright.model.instrument import Instrument
from borewright.model.part import Part
from borewright.words import say

#: A line may be drawn on so far (mm) beyond the last reading; further would be guessing.
MOST_BEYOND_MM = 25.0


def with_bore(instrument: Instrument, part: str, line: Sequence[tuple[float, float]]) -> Instrument:
    """The instrument with another bore in one part.

    Parameters
    ----------
    instrument, part
        What receives it.
    line
        (station, diameter) in mm from the part's top shoulder downwards. Where it ends inside
        the part, its last diameters' straight line goes on to the part's end, by 25 mm at most.

    Raises
    ------
    ModelError
        For an unknown part, a line that is too short, and a bore that the body cannot hold.
    """
    names = [each.name for each in instrument.parts]
    if part not in names:
        raise ModelError(
            say("'{instrument}' has no part '{part}'", instrument=instrument.name, part=part),
            place="part",
            remedy=say("Parts are: {parts}.", parts=", ".join(names)),
        )
    data: dict[str, Any] = instrument.model_dump()
    data["parts"][names.index(part)]["bore"] = _covering(instrument.part(part), list(line))
    try:
        return Instrument.model_validate(data)
    except ValidationError as error:
        raise model_error(error, instrument.name, data) from error


def _covering(part: Part, line: list[tuple[float, float]]) -> list[tuple[float, float]]:
    ends = ((0.0, line[:2]), (part.length_mm, line[:-3:-1]))
    for wanted, (end, inner) in ends:
        beyond = end[0] - wanted if wanted == 0.0 else wanted - end[0]
        if beyond <= 0:
            continue
        if beyond > MOST_BEYOND_MM:
            raise ModelError(
                say(
                    "the bore ends {short_mm:.1f} mm before the end of '{part}' at {end_mm:g} mm",
                    short_mm=beyond,
                    part=part.name,
                    end_mm=wanted,
                ),
                place=(say("part '{name}'", name=part.name), "bore"),
                remedy=say(
                    "Measure on to the end, from the other side where the gauge does not reach."
                ),
            )
        slope = (inner[1] - end[1]) / (inner[0] - end[0]) if inner[0] != end[0] else 0.0
        point = (wanted, round(end[1] + slope * (wanted - end[0]), 3))
        line = [point, *line] if wanted == 0.0 else [*line, point]
    return line
