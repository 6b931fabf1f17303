"""How far each model level is off, measured against the level above it.

They are for instruments of the examples' kind and replace nobody's own comparison.
"""

from __future__ import annotations

from borewright.acoustics.side_holes import SideHoles

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
