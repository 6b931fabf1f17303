"""Maxima of the input impedance: where, how high, how wide.

A peak is a local maximum of |Z| that stands at least 1 dB above the troughs that part it from
higher ones. Its width is that between the half-power points, where |Z|² is half the peak's (none
where a trough beside it lies above them), and its quality factor the frequency over the width
(the textbook definition; Fletcher and Rossing, "The Physics of Musical Instruments", chapter 1,
from memory).

Between the points of the sweep the admittance runs almost straight near its zeros, so a cubic
spline through it is exact to some 1e-6 there.
"""

from __future__ import annotations

import itertools
import math

import numpy as np

from borewright.model import ImpedancePeak

_FINER = 16
_STANDS_OUT_DB = 1.0


def peaks_of(
    frequencies: np.ndarray, admittance: np.ndarray, most: int = 10
) -> list[list[ImpedancePeak]]:
    """Peaks of every fingering, from the lowest upwards.

    Parameters
    ----------
    frequencies
        [K] Hz, evenly spaced.
    admittance
        [F, K] complex, over the characteristic admittance at the top.
    most
        How many at most.
    """
    from scipy.interpolate import CubicSpline

    fine = np.linspace(frequencies[0], frequencies[-1], (len(frequencies) - 1) * _FINER + 1)
    smooth = CubicSpline(frequencies, admittance, axis=1)(fine)
    power = 1.0 / np.abs(smooth) ** 2
    return [_of_one(fine, row, most) for row in power]


def _of_one(fine: np.ndarray, power: np.ndarray, most: int) -> list[ImpedancePeak]:
    from scipy.signal import find_peaks, peak_widths

    tops, _ = find_peaks(10 * np.log10(power), prominence=_STANDS_OUT_DB)
    if not len(tops):
        return []
    edges = [0, *tops, len(power) - 1]
    troughs = [low + np.argmin(power[low : high + 1]) for low, high in itertools.pairwise(edges)]
    lefts, rights = np.array(troughs[:-1]), np.array(troughs[1:])
    places, heights = np.array([_summit(fine, power, top) for top in tops]).T
    down = power[tops] - heights / 2
    widths = peak_widths(power, tops, 1.0, prominence_data=(down, lefts, rights))[0]
    whole = np.maximum(power[lefts], power[rights]) <= heights / 2
    peaks = []
    rows = zip(places, heights, widths * (fine[1] - fine[0]), whole, strict=True)
    for number, (place, height, across, known) in enumerate(itertools.islice(rows, most), start=1):
        width = float(across) if known else None
        peaks.append(
            ImpedancePeak(
                number=number,
                frequency_hz=float(place),
                height=math.sqrt(height),
                height_db=10 * math.log10(height),
                width_hz=width,
                quality=float(place) / width if width else None,
            )
        )
    return peaks


def _summit(fine: np.ndarray, power: np.ndarray, top: int) -> tuple[float, float]:
    """Place (Hz) and height of a maximum: 1/|Z|² is a parabola near it."""
    before, at, after = 1.0 / power[top - 1 : top + 2]
    bend = before - 2 * at + after
    shift = 0.5 * (before - after) / bend if bend > 0 else 0.0
    lowest = at - 0.25 * (before - after) * shift
    return float(fine[top] + shift * (fine[1] - fine[0])), float(1.0 / lowest)
