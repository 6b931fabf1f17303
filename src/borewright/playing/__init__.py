"""From a play test to what to do next: takes, as-built readings, corrections, comparison.

This room knows no CAD and no screen.
"""

from borewright.playing.takes import analyse_take

__all__ = ["analyse_take"]
