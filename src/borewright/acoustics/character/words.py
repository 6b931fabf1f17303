"""What players report, in plain words, beside the figures.

The limits are common practice unless a measure says otherwise: nobody has shown at which
figure a word begins. They serve to compare notes and instruments, not to judge one.
"""

from __future__ import annotations

from borewright.model import ImpedancePeak, LatticeCutoff

COMMON = "common practice"


def cutoff_words(lattice: LatticeCutoff) -> str:
    """Dark, round, open or bright, by the cut-off."""
    if lattice.cutoff_hz is None:
        return "no cut-off found"
    if lattice.cutoff_hz < 1200:
        return "dark, covered"
    if lattice.cutoff_hz < 1450:
        return "warm, round"
    if lattice.cutoff_hz < 1750:
        return "open, clear"
    return "bright, thin"


def peak_words(peak: ImpedancePeak | None) -> str:
    """How firmly the note sits, by the height of its peak."""
    if peak is None:
        return "no peak carries the note"
    if peak.height_db >= 25:
        return "sits firmly, resists bending"
    if peak.height_db >= 18:
        return "sits well, bends a little"
    return "loose, bends easily"


def alignment_words(cents: float | None) -> str:
    """Focus, by the strongest helping resonance."""
    if cents is None:
        return "no upper resonance helps"
    if abs(cents) <= 15:
        return "focused, rings"
    if abs(cents) <= 40:
        return "less focused"
    return "stuffy, colour changes with loudness"
