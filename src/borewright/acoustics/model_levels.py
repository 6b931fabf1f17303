"""How far each model level is off, measured against the level above it.

They are for instruments of the examples' kind and replace nobody's own comparison.
"""

from __future__ import annotations

import math

from borewright.acoustics.side_holes import HoleLevel
from borewright.model import SideHoles

#: Root mean square (cents). Solved holes against whole resonators in 3-D, over the resonances of
#: the cases in docs/levels.md: 0.4, over those of the clarinet 0.6; 1.0 is counted, for the
#: reference's own mesh leaves 0.3 and rings, keys and posts are in neither. Closed forms against
#: solved holes, over the fingerings of the example clarinet (docs/acoustics.md): 5.0, which adds
#: in squares.
LEVEL_CENTS = {
    SideHoles.CLOSED_FORMS: 5.1,
    SideHoles.SOLVED: 1.0,
    SideHoles.EACH: 1.0,
}
#: What a bell's closed form adds in squares where the bell could not be solved: closed forms'
#: whole departure over the example clarinet's fingerings, of which the bell makes the most.
BELL_CENTS = 5.0
#: What closed forms of holes add: their mean departure in the random resonators of docs/levels.md.
HOLES_CENTS = 3.6


def model_cents(level: HoleLevel) -> float:
    """Standard deviation (cents) of a level, wider where something keeps its closed form."""
    parts = [LEVEL_CENTS[level.way]]
    if level.bell_fell_back:
        parts.append(BELL_CENTS)
    if level.holes_fell_back:
        parts.append(HOLES_CENTS)
    return math.hypot(*parts)
