"""The steady end of a run: its period, its playing frequency and its harmonics."""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

#: The tone is looked at over this long (s), in two halves for the frequency.
WINDOW_S = 0.2
_LOWEST_HZ, _HIGHEST_HZ = 60.0, 3000.0
#: A later maximum of the autocorrelation this near to the largest is only a multiple period.
_AS_GOOD = 0.93
#: Quieter than this (over the closing pressure) nothing sounds.
_SILENT = 0.01


class Steady(NamedTuple):
    """What N signals do at their end; NaN where there is no tone."""

    hz: np.ndarray  # [N]
    change_cents: np.ndarray  # [N] from the first half of the window to the second
    amplitude: np.ndarray  # [N, harmonics] root mean square of each


def steady(signals: np.ndarray, rate: float, harmonics: int = 12) -> Steady:
    """Frequency and harmonics of the last 0.2 s of signals [T, N] sampled at ``rate`` (Hz).

    The period is the first maximum of the autocorrelation that is as good as the largest; the
    frequency is then the rate at which the phase of that harmonic turns between two Hann windows.
    """
    tail = signals[-round(WINDOW_S * rate) :]
    tail = tail - tail.mean(axis=0)
    guess = np.array([_first_guess(column, rate) for column in tail.T])
    rows = [
        _measured(column, rate, hz, harmonics) for column, hz in zip(tail.T, guess, strict=True)
    ]
    hz, change, amplitude = zip(*rows, strict=True)
    return Steady(np.array(hz), np.array(change), np.array(amplitude))


def _first_guess(signal: np.ndarray, rate: float) -> float:
    from scipy.signal import find_peaks

    if np.std(signal) < _SILENT:
        return np.nan
    count = len(signal)
    spectrum = np.fft.rfft(signal, 2 * count)
    match = np.fft.irfft(np.abs(spectrum) ** 2)[:count] / np.arange(count, 0, -1)
    match = match[: round(rate / _LOWEST_HZ)]
    # The first lobe falls from lag 0; only what comes after it can be a period.
    start = max(int(np.argmax(match < 0)), round(rate / _HIGHEST_HZ))
    if not np.any(match < 0) or start >= len(match) - 3:
        return np.nan
    tops = start + find_peaks(match[start:])[0]
    if not len(tops):
        return np.nan
    at = int(tops[match[tops] >= _AS_GOOD * match[tops].max()][0])
    left, middle, right = match[at - 1 : at + 2]
    return float(rate / (at + (left - right) / (left - 2 * middle + right) / 2))


def _measured(
    signal: np.ndarray, rate: float, guess: float, harmonics: int
) -> tuple[float, float, np.ndarray]:
    nothing = np.full(harmonics, np.nan)
    if not np.isfinite(guess):
        return np.nan, np.nan, nothing
    time = np.arange(len(signal)) / rate
    hz, change = guess, 0.0
    for _ in range(3):
        thirds = [_turned(part, moment, hz, rate) for part, moment in _parts(signal, time)]
        first, second = (np.angle(b / a) for a, b in itertools.pairwise(thirds))
        step = len(signal) / 4 / rate  # from the middle of one part to that of the next
        early, late = (hz + phase / (2 * np.pi * step) for phase in (first, second))
        hz, change = (early + late) / 2, 1200 * np.log2(late / early)
    window = np.hanning(len(signal))
    turns = np.exp(-2j * np.pi * hz * np.outer(np.arange(1, harmonics + 1), time))
    amplitude = np.abs(turns @ (window * signal)) / np.sum(window) * np.sqrt(2)
    amplitude[np.arange(1, harmonics + 1) * hz > rate / 2] = 0.0
    return float(hz), float(change), amplitude


def _parts(signal: np.ndarray, time: np.ndarray) -> list[tuple[np.ndarray, np.ndarray]]:
    """Three windows, half as long as the whole, each a quarter later."""
    quarter = len(signal) // 4
    spans = [slice(k * quarter, (k + 2) * quarter) for k in range(3)]
    return [(signal[span], time[span]) for span in spans]


def _turned(signal: np.ndarray, time: np.ndarray, hz: float, rate: float) -> complex:
    return complex(np.sum(np.hanning(len(signal)) * signal * np.exp(-2j * np.pi * hz * time)))
