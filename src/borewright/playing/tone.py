"""Tone descriptors of a steady note, by published definitions.

Harmonic amplitudes come from one Hann-windowed transform of the steady part.

- Spectral centroid: mean frequency of the harmonics weighted by amplitude; Grey and Gordon,
  J. Acoust. Soc. Am. 63 (1978) 1493; Peeters, Giordano, Susini, Misdariis and McAdams,
  J. Acoust. Soc. Am. 130 (2011) 2902.
- Odd/even balance: energy of odd over energy of even harmonics, in dB, the fundamental left
  out; Peeters and others (2011) give the ratio with it.
- Harmonic slope: least-squares line of harmonic level (dB) over octaves above the
  fundamental (von Bismarck, Acustica 30 (1974) 146, for slopes in dB per octave).
- Attack time: from 10 % to 90 % of the steady amplitude (fixed-threshold method, as described
  by Peeters and others 2011).

All cited from memory.
"""

from __future__ import annotations

import numpy as np

from borewright.model.results.playtest import ToneFigures

MOST_HARMONICS = 20
#: Harmonics above this (Hz) are left out, so that takes of every sample rate are alike.
HIGHEST_HZ = 5000.0
_MOST_S = 2.0
_ENVELOPE_S = 0.005


def harmonic_amplitudes(samples: np.ndarray, rate: float, hz: float) -> np.ndarray:
    """Amplitudes of the harmonics of a steady tone of pitch ``hz``, from the first up."""
    samples = samples[: int(_MOST_S * rate)]
    size = 4 * (1 << (len(samples) - 1).bit_length())
    window = np.hanning(len(samples))
    spectrum = np.abs(np.fft.rfft(samples * window, size)) * 2 / window.sum()
    found = []
    for number in range(1, MOST_HARMONICS + 1):
        centre = number * hz * size / rate
        if number * hz > min(HIGHEST_HZ, 0.45 * rate):
            break
        reach = max(3, int(0.15 * hz * size / rate))
        low = max(0, int(centre) - reach)
        found.append(float(spectrum[low : int(centre) + reach + 1].max()))
    return np.array(found)


def attack_ms(samples: np.ndarray, rate: float) -> float:
    """Time (ms) from 10 % to 90 % of the steady amplitude at the beginning of a note."""
    hop = max(1, int(_ENVELOPE_S * rate))
    count = len(samples) // hop
    if count < 4:
        return 0.0
    envelope = np.sqrt(np.mean(samples[: count * hop].reshape(count, hop) ** 2, axis=1))
    envelope = np.convolve(np.pad(envelope, 1, mode="edge"), np.ones(3) / 3, mode="valid")
    steady = float(np.median(envelope[count // 2 :]))
    high = int(np.argmax(envelope >= 0.9 * steady))
    below = np.flatnonzero(envelope[: high + 1] < 0.1 * steady)
    low = int(below[-1]) if len(below) else 0
    return 1000.0 * (high - low) * hop / rate


def tone(steady: np.ndarray, beginning: np.ndarray, rate: float, hz: float) -> ToneFigures | None:
    """Descriptors of one note; None where fewer than four harmonics fit below the limit.

    Parameters
    ----------
    steady
        Samples of the steady part.
    beginning
        Samples from 50 ms before the note until it is steady.
    rate, hz
        Sample rate and pitch.
    """
    amplitudes = harmonic_amplitudes(steady, rate, hz)
    if len(amplitudes) < 4 or not amplitudes.max(initial=0.0) > 0:
        return None
    numbers = np.arange(1, len(amplitudes) + 1)
    level = 20 * np.log10(np.maximum(amplitudes / amplitudes.max(), 1e-5))
    odd, even = numbers % 2 == 1, numbers % 2 == 0
    odd[0] = False
    return ToneFigures(
        centroid_hz=float(hz * np.sum(numbers * amplitudes) / np.sum(amplitudes)),
        odd_even_db=float(10 * np.log10(np.mean(amplitudes[odd] ** 2) / _floor(amplitudes[even]))),
        slope_db_per_octave=float(np.polyfit(np.log2(numbers), level, 1)[0]),
        attack_ms=attack_ms(beginning, rate),
    )


def _floor(amplitudes: np.ndarray) -> float:
    return max(float(np.mean(amplitudes**2)), 1e-20)
