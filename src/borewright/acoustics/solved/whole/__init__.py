"""Whole resonators in three dimensions: the reference that faster levels are held to.

Lossless, outer air included; see docs/levels.md for method, cases and errors. NGSolve is
imported when a resonator is solved (extra ``solve3d``).
"""

from borewright.acoustics.solved.whole.detail import WholeDetail
from borewright.acoustics.solved.whole.result import WholeResonator
from borewright.acoustics.solved.whole.solving import REFERENCE_AIR, whole_resonances

__all__ = ["REFERENCE_AIR", "WholeDetail", "WholeResonator", "whole_resonances"]
