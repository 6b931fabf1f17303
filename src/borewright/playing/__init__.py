"""From a play test to what to do next: takes, as-built readings, corrections, comparison.

This room knows no CAD and no screen.
"""

from borewright.playing.as_built import AsBuilt, as_built
from borewright.playing.readings import Reading, read_readings
from borewright.playing.takes import analyse_take

__all__ = ["AsBuilt", "Reading", "analyse_take", "as_built", "read_readings"]
