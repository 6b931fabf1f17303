"""How an instrument will sound and respond: figures for projection, focus, warmth, resistance.

A table per note (impedance peaks, alignment, cut-off of the open-hole row, radiated share,
venting, evenness), two instruments compared, and what a little more bore does at each station.
"""

from borewright.acoustics.character.comparing import FIGURE_WORDS as FIGURE_WORDS
from borewright.acoustics.character.comparing import FIGURES as FIGURES
from borewright.acoustics.character.comparing import differences as differences
from borewright.acoustics.character.perturbation import bore_perturbation as bore_perturbation
from borewright.acoustics.character.perturbation import with_stations as with_stations
from borewright.acoustics.character.table import Spectra as Spectra
from borewright.acoustics.character.table import character as character
from borewright.acoustics.character.table import character_with_curves as character_with_curves
from borewright.acoustics.character.table import spectra as spectra
from borewright.listing import names

__all__ = names(__file__)
