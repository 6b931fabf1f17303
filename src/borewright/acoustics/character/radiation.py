"""What share of the entering power leaves as sound, by frequency.

At each frequency the power that enters the top of the bore is lost along the walls of bore
and holes or radiated by holes and bottom end. The three are computed apart, and their balance
is the table's own check. Radiated power is the sum of the real parts of all radiation
impedances times squared flows; where openings hear each other outside, what they add to each
other belongs to it (a single opening may then take in power, the sum cannot).

Bands are thirds of an octave at the nominal frequencies of IEC 61260-1, exact centres
1000 * 10^(n/10) Hz; a band's figure is the mean share over its frequencies.
"""

from __future__ import annotations

import numpy as np

from borewright.model import BandFraction

_LOWEST, _HIGHEST = -10, 5  # 100 Hz to 3150 Hz
_EDGE = 10**0.05
_NOMINAL = {
    -10: 100.0, -9: 125.0, -8: 160.0, -7: 200.0, -6: 250.0, -5: 315.0, -4: 400.0, -3: 500.0,
    -2: 630.0, -1: 800.0, 0: 1000.0, 1: 1250.0, 2: 1600.0, 3: 2000.0, 4: 2500.0, 5: 3150.0,
}  # fmt: skip


def bands_of(frequencies: np.ndarray, radiated: np.ndarray) -> list[BandFraction]:
    """Mean radiated share [K] in each third of an octave that the frequencies cover."""
    bands = []
    for number in range(_LOWEST, _HIGHEST + 1):
        centre = 1000.0 * 10 ** (number / 10)
        inside = (frequencies >= centre / _EDGE) & (frequencies < centre * _EDGE)
        if inside.sum() >= 2 and frequencies[-1] >= centre * _EDGE:
            bands.append(
                BandFraction(centre_hz=_NOMINAL[number], radiated=float(np.mean(radiated[inside])))
            )
    return bands


def at_pitch(
    frequencies: np.ndarray, holes: np.ndarray, end: np.ndarray, sounding_hz: float | None
) -> tuple[float | None, float | None]:
    """Radiated share, and the bottom end's part of it, at the pitch; None without a pitch."""
    if sounding_hz is None or not frequencies[0] <= sounding_hz <= frequencies[-1]:
        return None, None
    by_holes, by_end = (float(np.interp(sounding_hz, frequencies, row)) for row in (holes, end))
    whole = by_holes + by_end
    return whole, by_end / whole if whole > 0 else None
