"""Whole resonators in three dimensions: the reference that faster levels are held to.

Lossless, outer air included; see docs/levels.md for method, cases and errors. NGSolve is
imported when a resonator is solved (extra ``solve3d``).
"""

from borewright.acoustics.solved.whole.detail import WholeDetail as WholeDetail
from borewright.acoustics.solved.whole.held import HeldResonance as HeldResonance
from borewright.acoustics.solved.whole.held import held_resonances as held_resonances
from borewright.acoustics.solved.whole.held import hold_fingering as hold_fingering
from borewright.acoustics.solved.whole.result import WholeResonator as WholeResonator
from borewright.acoustics.solved.whole.solving import REFERENCE_AIR as REFERENCE_AIR
from borewright.acoustics.solved.whole.solving import whole_resonances as whole_resonances
from borewright.listing import names

__all__ = names(__file__)
