"""The table [drawing]: what the drawing board said before fits moved it."""

from __future__ import annotations

from pydantic import Field

from borewright.model.base import Entity, Finite, HoleName, Name
from borewright.model.profile import Profile

#: Drawn value and fitted value (mm).
Pair = tuple[Finite, Finite]


class DrawnHole(Entity):
    """Measures of a hole that fits moved, each [drawn, fitted]."""

    station_mm: Pair | None = None
    diameter_mm: Pair | None = None
    chimney_mm: Pair | None = None
    undercut_diameter_mm: Pair | None = None


class DrawnPart(Entity):
    """Length ([drawn, fitted]) and bore of a part that fits moved."""

    length_mm: Pair | None = None
    bore: Profile | None = None
    fitted_bore: Profile | None = None


class Drawing(Entity):
    """What fits moved, with the values of the drawing board.

    Limits such as "within 15 % of the drawing" and the pull towards the drawing are taken from
    here, so that a second fit changes nothing. A dimension that no longer stands as the fit
    left it was changed by a person: its present value counts as drawn. Delete the table to make
    the present dimensions the drawing.
    """

    part: dict[Name, DrawnPart] = Field(default={}, max_length=30)
    hole: dict[HoleName, DrawnHole] = Field(default={}, max_length=400)
