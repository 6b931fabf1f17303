"""What the figures of character are called on the page."""

from __future__ import annotations

from borewright.acoustics.character import FIGURE_WORDS, FIGURES
from borewright.bench.words import _


def figure_title(name: str) -> str:
    """A figure with its unit."""
    return f"{_.tell(FIGURE_WORDS[name])} ({unit_words(FIGURES[name][0])})"


def unit_words(unit: str) -> str:
    """A unit; signs such as dB and Hz are the same in every language."""
    return _("cents") if unit == "cents" else unit
