"""What players report, in plain words, beside the figures.

The limits are common practice unless a measure says otherwise: nobody has shown at which
figure a word begins. They serve to compare notes and instruments, not to judge one.
"""

from __future__ import annotations

from borewright.model import ImpedancePeak, LatticeCutoff
from borewright.words import Message, say

COMMON = say("common practice")


def cutoff_words(lattice: LatticeCutoff) -> Message:
    """Dark, round, open or bright, by the cut-off."""
    if lattice.cutoff_hz is None:
        return say("no cut-off found")
    if lattice.cutoff_hz < 1200:
        return say("dark, covered")
    if lattice.cutoff_hz < 1450:
        return say("warm, round")
    if lattice.cutoff_hz < 1750:
        return say("open, clear")
    return say("bright, thin")


def peak_words(peak: ImpedancePeak | None) -> Message:
    """How firmly the note sits, by the height of its peak."""
    if peak is None:
        return say("no peak carries the note")
    if peak.height_db >= 25:
        return say("sits firmly, resists bending")
    if peak.height_db >= 18:
        return say("sits well, bends a little")
    return say("loose, bends easily")


def alignment_words(cents: float | None) -> Message:
    """Focus, by the strongest helping resonance."""
    if cents is None:
        return say("no upper resonance helps")
    if abs(cents) <= 15:
        return say("focused, rings")
    if abs(cents) <= 40:
        return say("less focused")
    return say("stuffy, colour changes with loudness")
