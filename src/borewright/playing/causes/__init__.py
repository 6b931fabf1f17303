"""Causes: what is wrong with an instrument, judged jointly from takes and readings.

``unknowns`` lists what may differ and by how much it usually does, ``sounding`` what each does
to every note, ``suspects`` what may be wrong beyond that; ``evidence`` puts notes and readings
into rows, ``posterior`` judges all sets of faults, ``believed`` settles it on the full model.
``readings_to_take`` and ``next_reading`` ask for the one that decides; ``diagnosing`` tells.
"""

from borewright.listing import names
from borewright.playing.causes.diagnosing import diagnose as diagnose

__all__ = names(__file__)
