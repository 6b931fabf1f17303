"""Maxima of the input impedance: where, how high, how wide.

A peak is a local maximum of |Z| that stands at least 1 dB above both troughs beside it. Its
width is that between the half-power points, where |Z|² is half the peak's, and its quality
factor the frequency over the width (the textbook definition; Fletcher and Rossing, "The
Physics of Musical Instruments", chapter 1, from memory).

Between the points of the sweep the admittance runs almost straight near its zeros, so a cubic
spline through it is exact to some 1e-6 there.
"""

from __future__ import annotations

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
    inner = power[1:-1]
    tops = np.flatnonzero((inner > power[:-2]) & (inner >= power[2:])) + 1
    peaks: list[ImpedancePeak] = []
    edges = [0, *tops.tolist(), len(power) - 1]
    for index, top in enumerate(tops.tolist(), start=1):
        left = edges[index - 1] + int(np.argmin(power[edges[index - 1] : top + 1]))
        right = top + int(np.argmin(power[top : edges[index + 1] + 1]))
        if 10 * math.log10(power[top] / max(power[left], power[right])) < _STANDS_OUT_DB:
            continue
        place, height = _summit(fine, power, top)
        width = _width(fine, power, (left, top, right), height / 2)
        peaks.append(
            ImpedancePeak(
                number=len(peaks) + 1,
                frequency_hz=place,
                height=math.sqrt(height),
                height_db=10 * math.log10(height),
                width_hz=width,
                quality=place / width if width else None,
            )
        )
        if len(peaks) == most:
            break
    return peaks


def _summit(fine: np.ndarray, power: np.ndarray, top: int) -> tuple[float, float]:
    """Place (Hz) and height of a maximum: 1/|Z|² is a parabola near it."""
    before, at, after = 1.0 / power[top - 1 : top + 2]
    bend = before - 2 * at + after
    shift = 0.5 * (before - after) / bend if bend > 0 else 0.0
    lowest = at - 0.25 * (before - after) * shift
    return float(fine[top] + shift * (fine[1] - fine[0])), float(1.0 / lowest)


def _width(
    fine: np.ndarray, power: np.ndarray, span: tuple[int, int, int], half: float
) -> float | None:
    """Distance (Hz) of the half-power points; None where a trough lies above one."""
    left, top, right = span
    if power[left] > half or power[right] > half:
        return None
    low = left + int(np.flatnonzero(power[left:top] <= half)[-1])
    high = top + int(np.flatnonzero(power[top : right + 1] <= half)[0])

    def crossing(first: int, second: int) -> float:
        share = (half - power[first]) / (power[second] - power[first])
        return float(fine[first] + share * (fine[second] - fine[first]))

    return crossing(high - 1, high) - crossing(low, low + 1)
