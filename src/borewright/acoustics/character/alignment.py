"""How the upper resonances stand to the harmonics of the note.

A reed's flow holds all harmonics of the note, and the resonances that lie near them lend
their support (Benade, "Fundamentals of Musical Acoustics", chapters 20 and 21, from memory).
"""

from __future__ import annotations

import math

from borewright.model import ImpedancePeak

#: Beyond a semitone a resonance is no neighbour of the harmonic: our own limit.
WITHIN_CENTS = 100.0
#: Peaks weaker than the sounding one by more than this help nothing: our own limit.
WITHIN_DB = 15.0


def sounding_number(peaks: list[ImpedancePeak], sounding_hz: float | None) -> int | None:
    """Number of the peak that sounds: the nearest to the pitch, within a whole tone."""
    if sounding_hz is None or not peaks:
        return None
    nearest = min(peaks, key=lambda peak: abs(math.log(peak.frequency_hz / sounding_hz)))
    apart = abs(1200 * math.log2(nearest.frequency_hz / sounding_hz))
    return nearest.number if apart < 200 else None


def aligned(
    peaks: list[ImpedancePeak], sounding: int | None, sounding_hz: float | None
) -> list[ImpedancePeak]:
    """The peaks, those above the sounding one with their nearest harmonic and its distance."""
    if sounding is None or sounding_hz is None:
        return peaks
    return [
        peak.model_copy(update=_beside(peak.frequency_hz, sounding_hz))
        if peak.number > sounding
        else peak
        for peak in peaks
    ]


def _beside(frequency_hz: float, sounding_hz: float) -> dict[str, float]:
    harmonic = max(2, round(frequency_hz / sounding_hz))
    cents = 1200 * math.log2(frequency_hz / (harmonic * sounding_hz))
    return {"harmonic": harmonic, "harmonic_cents": cents}


def alignment_cents(peaks: list[ImpedancePeak], sounding: int | None) -> float | None:
    """Distance (cents) of the strongest helper from its harmonic; None where there is none.

    The helper is the highest upper peak within a semitone of a harmonic, no more than 15 dB
    below the sounding peak.
    """
    carrying = [peak for peak in peaks if peak.number == sounding]
    near = [
        (peak.height, peak.harmonic_cents)
        for peak in peaks
        if peak.harmonic_cents is not None
        and abs(peak.harmonic_cents) <= WITHIN_CENTS
        and peak.height_db >= carrying[0].height_db - WITHIN_DB
    ]
    return max(near)[1] if near else None
