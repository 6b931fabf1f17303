"""Round things printed from triangles: what a polygon does to a pin."""

from __future__ import annotations

import math

from borewright.errors import PrintingError
from borewright.words import say


def pin_through_mm(diameter_mm: float, facets: int) -> float:
    """Largest pin (mm) through a round hole drawn as a polygon with its corners on the circle.

    Closed form: the circle inscribed in a regular polygon, D · cos(π/n). Raises PrintingError
    for fewer than three facets.
    """
    if facets < 3:
        raise PrintingError(
            say("a hole of {facets} facets is no hole", facets=facets),
            place=say("facets"),
            remedy=say("Give at least three."),
        )
    return diameter_mm * math.cos(math.pi / facets)


def facets_for(diameter_mm: float, shrink_mm: float) -> int:
    """Fewest facets that keep a pin's size within ``shrink_mm`` of the hole's (mm)."""
    if not 0 < shrink_mm < diameter_mm:
        raise PrintingError(
            say(
                "a shrink of {shrink_mm:g} mm cannot be asked of a hole of {diameter_mm:g} mm",
                shrink_mm=shrink_mm,
                diameter_mm=diameter_mm,
            ),
            place=say("facets"),
            remedy=say("Give a shrink between 0 and the diameter."),
        )
    return max(3, math.ceil(math.pi / math.acos(1 - shrink_mm / diameter_mm) - 1e-9))
