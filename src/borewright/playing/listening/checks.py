"""Listening to a sound through analysis: peaks, clicks, and pitch by an independent tracker."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from borewright.playing.recording import inspect
from borewright.playing.tracking import track

#: Above this frequency the model holds no sound, so what is there is a click.
CLICKS_ABOVE_HZ = 14_000.0
_FRAME_S = 0.005
_OVERSAMPLING = 4
#: The tracker's frames used for a note: the last of its steady part (s).
_WINDOW_S, _MARGIN_S = 0.2, 0.03
_FEWEST_FRAMES = 5


def true_peak_db(samples: np.ndarray) -> float:
    """Largest value between samples, dB re full scale (four times oversampled, BS.1770)."""
    from scipy.signal import resample_poly

    return _db(float(np.abs(resample_poly(samples, _OVERSAMPLING, 1)).max()))


def click_db(samples: np.ndarray, rate: int) -> float:
    """Level (dB re the sound's own peak) of the loudest 5 ms above 14 kHz.

    A jump or a cut spreads over all frequencies; the rendered sound ends at 10 kHz.
    """
    from scipy.signal import butter, sosfiltfilt

    # Both ends against silence, so that a cut there is seen as well.
    padded = np.pad(samples, round(0.05 * rate))
    high = sosfiltfilt(butter(8, CLICKS_ABOVE_HZ, "high", fs=rate, output="sos"), padded)
    width = round(_FRAME_S * rate)
    frames = high[: len(high) // width * width].reshape(-1, width)
    loudest = float(np.sqrt(np.mean(frames**2, axis=1)).max())
    return _db(loudest) - _db(float(np.abs(samples).max()))


def heard_pitches(
    path: Path, ends_s: Sequence[float], expected_hz: Sequence[float]
) -> list[float | None]:
    """Pitch (Hz) that the tracker of recordings finds before each note's release.

    Parameters
    ----------
    path
        The sound file.
    ends_s
        Where each note's steady part ends.
    expected_hz
        Only their lowest and highest are used, for the tracker's range; NaN counts for nothing.
    """
    known = [hz for hz in expected_hz if np.isfinite(hz)]
    if not known:
        return [None] * len(ends_s)
    frames = track(inspect(path), min(100.0, 0.8 * min(known)), max(2400.0, 1.5 * max(known)))
    found: list[float | None] = []
    for end in ends_s:
        inside = (frames.times > end - _WINDOW_S + _MARGIN_S) & (frames.times < end - _MARGIN_S)
        hz = frames.hz[inside & (frames.hz > 0)]
        found.append(float(np.median(hz)) if len(hz) >= _FEWEST_FRAMES else None)
    return found


def _db(size: float) -> float:
    return float(20 * np.log10(max(size, 1e-15)))
