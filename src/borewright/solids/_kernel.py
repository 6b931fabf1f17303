"""The only door to the B-rep kernel: revolve, join, cut, and say which hole it was that failed.

Loads build123d (about two seconds), so it is imported inside the functions that need it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from build123d import Axis, Face, SkipClean, Solid, Wire

from borewright.errors import SolidsError
from borewright.model import ToneHole
from borewright.solids._profiles import Points
from borewright.solids.axes import bearing_direction


class Tool(NamedTuple):
    """A solid to join or cut, with the words for it if that fails."""

    solid: Solid
    place: str
    tried: str
    remedy: str


def round_body(outline: Points, seam_bearing_deg: float) -> Solid:
    """Solid of revolution about the part's axis; the outline is (radius, station), open."""
    x, y = bearing_direction(seam_bearing_deg)
    closed = [*outline, (0.0, outline[-1][1]), (0.0, outline[0][1])]
    wire = Wire.make_polygon([(r * x, r * y, s) for r, s in closed], close=True)
    return Solid.revolve(Face(wire), 360.0, Axis((0, 0, 0), (0, 0, 1)))


def round_tool(outline: Points, hole: ToneHole) -> Solid:
    """Solid of revolution about a hole's axis; the outline is (radius, distance), closed."""
    x, y = bearing_direction(hole.bearing_deg)
    # The seam runs askew, away from where the tool touches the bore's crown and sides.
    half = math.sqrt(0.5)
    aside = (-half * y, half * x, half)
    points = [
        (d * x + r * aside[0], d * y + r * aside[1], hole.station_mm + r * aside[2])
        for r, d in outline
    ]
    axis = Axis((0, 0, hole.station_mm), (x, y, 0))
    return Solid.revolve(Face(Wire.make_polygon(points, close=True)), 360.0, axis)


def applied(body: Solid, tools: Sequence[Tool], operation: Literal["cut", "fuse"]) -> Solid:
    """The body with all tools joined or cut; one at a time if all at once fails.

    Raises SolidsError naming the first tool that the kernel cannot apply.
    """
    if not tools:
        return body
    try:
        return _checked(body, tools, operation)
    except Exception:  # the kernel's failures share no base class
        for tool in tools:
            try:
                body = _checked(body, [tool], operation)
            except Exception as error:
                raise SolidsError(
                    f"the kernel could not {'add' if operation == 'fuse' else 'cut'} {tool.tried} "
                    f"({error})",
                    place=tool.place,
                    remedy=tool.remedy,
                ) from error
        return body


def _checked(body: Solid, tools: Sequence[Tool], operation: str) -> Solid:
    with SkipClean():
        result = getattr(body, operation)(*(tool.solid for tool in tools))
    solids = result.solids() if result is not None else []
    if len(solids) != 1:
        raise ValueError(f"the result is {len(solids)} bodies instead of one")
    solid = solids[0]
    if not solid.is_valid:
        raise ValueError("the result is not a valid solid")
    before, after = body.volume, solid.volume
    if (after <= before) if operation == "fuse" else (after >= before):
        raise ValueError("nothing changed")
    return solid
