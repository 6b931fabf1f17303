"""What a player's mouth does for a register: lower resonances kept from sounding.

Players prepare and hold high notes with mouth and lip (vocal-tract resonances: Scavone, Lefebvre
and da Silva, J. Acoust. Soc. Am. 123 (2008) 2391; Chen, Smith and Wolfe, ibid. 126 (2009) 1511;
both from memory). The model has no mouth; it says how much help a note needs by weakening the
resonances below the wanted one.
"""

from __future__ import annotations

import numpy as np

from borewright.acoustics.blowing.modes import Modes

#: What is left of a lower resonance: our own choice, strong enough for every altissimo note.
LEFT = 0.1
#: How long help lasts that only prepares (s).
PREPARING_S = 0.2


def favouring(modes: Modes, wanted_hz: np.ndarray) -> Modes:
    """The same modes with those that resonate below ``wanted_hz`` [N] weakened."""
    turning = modes.poles.imag
    sharp = -modes.poles.real < 0.5 * turning  # a broad one carries the flow, not a note
    lower = sharp & (turning < 2 * np.pi * 0.8 * wanted_hz[:, None])
    return modes._replace(residues=np.where(lower, LEFT * modes.residues, modes.residues))
