"""How parts stand in files for a printer: which end down, and where on the bed."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.solids.supports import Support


class Placed(Entity):
    """One part on a bed (mm): its axis' place from the bed's front left corner.

    ``turned`` is whether its bottom end stands on the bed; otherwise its top end does, as solids
    are drawn.
    """

    part: str
    x_mm: float
    y_mm: float
    turned: bool


class Bed(Entity):
    """Parts that are printed together, and what their file is called (without its ending)."""

    name: str
    places: list[Placed]


class Layout(Entity):
    """Each part alone in the middle of its bed, beds of several, and what to tell of each part.

    ``supports`` are printed with a part and taken off.
    """

    alone: list[Placed]
    beds: list[Bed]
    notes: dict[str, str]
    supports: dict[str, list[Support]] = {}

    def of(self, part: str) -> Placed | None:
        """A part's own stance, or None where there is none."""
        return next((one for one in self.alone if one.part == part), None)
