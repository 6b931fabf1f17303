"""How far each model level is off, measured against the level above it.

Figures are those of the tables in docs/acoustics.md; they are for instruments of the
examples' kind and replace nobody's own comparison.
"""

from __future__ import annotations

from borewright.acoustics.side_holes import SideHoles

#: Root mean square (cents) over the fingerings of the example clarinet: closed forms against
#: solved holes 4.8, and these against whole resonators about 1, which adds in squares.
LEVEL_CENTS = {SideHoles.CLOSED_FORMS: 4.9, SideHoles.SOLVED: 1.0}
