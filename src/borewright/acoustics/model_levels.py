"""How far each model level is off, measured against the level above it.

They are for instruments of the examples' kind and replace nobody's own comparison. Upper
resonances that sound through a bell are further off: see docs/levels.md.
"""

from __future__ import annotations

from borewright.acoustics.side_holes import SideHoles

#: Root mean square (cents): solved holes against whole resonators in 3-D, over the first
#: resonances of the cases in docs/levels.md, 2.0; closed forms against solved holes, over the
#: fingerings of the example clarinet (docs/acoustics.md), 4.8, which adds in squares.
LEVEL_CENTS = {SideHoles.CLOSED_FORMS: 5.2, SideHoles.SOLVED: 2.0}
