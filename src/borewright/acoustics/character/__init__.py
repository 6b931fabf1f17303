"""How an instrument will sound and respond: figures for projection, focus, warmth, resistance.

A table per note (impedance peaks, alignment, cut-off of the open-hole row, radiated share,
venting, evenness), two instruments compared, and what a little more bore does at each station.
"""

from borewright.acoustics.character.comparing import FIGURE_WORDS, FIGURES, differences
from borewright.acoustics.character.perturbation import bore_perturbation, with_stations
from borewright.acoustics.character.table import (
    Spectra,
    character,
    character_with_curves,
    spectra,
)

__all__ = [
    "FIGURES",
    "FIGURE_WORDS",
    "Spectra",
    "bore_perturbation",
    "character",
    "character_with_curves",
    "differences",
    "spectra",
    "with_stations",
]
