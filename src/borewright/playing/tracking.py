"""The pitch track of a recording: autocorrelation by Praat's own code, frame by frame.

Boersma, Proc. Inst. Phonetic Sciences Amsterdam 17 (1993) 97: the autocorrelation of the
windowed signal over that of the window, interpolated between samples. Three periods of the
lowest pitch make a window.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from borewright.playing.recording import Recording, pieces

STEP_S = 0.01
_LEVEL_WINDOW_S = 0.02
#: Autocorrelation below which a frame has no pitch.
_VOICING = 0.5


class Track(NamedTuple):
    """Frames at rising times; ``hz`` is 0 where there is no pitch."""

    times: np.ndarray  # [K] s
    hz: np.ndarray  # [K]
    level_db: np.ndarray  # [K] re full scale


def track(
    recording: Recording,
    lowest_hz: float = 100.0,
    highest_hz: float = 2400.0,
    progress: Callable[[float], None] | None = None,
) -> Track:
    """Pitch and level every 10 ms, piece by piece.

    Parameters
    ----------
    recording
        From :func:`borewright.playing.recording.inspect`.
    lowest_hz, highest_hz
        Range of pitches looked for.
    progress
        Called before each piece with the share that is done.
    """
    import parselmouth

    rate = recording.sample_rate / recording.decimation
    columns: list[np.ndarray] = []
    for offset, start, end, samples in pieces(recording):
        if progress is not None:
            progress(start / recording.seconds)
        if len(samples) < 4 * rate / lowest_hz:
            continue  # shorter than a window: the very end of a file
        sound = parselmouth.Sound(samples, rate)
        pitch = sound.to_pitch_ac(
            time_step=STEP_S,
            pitch_floor=lowest_hz,
            pitch_ceiling=min(highest_hz, 0.45 * rate),
            silence_threshold=0.001,
            voicing_threshold=_VOICING,
        )
        times = np.asarray(pitch.xs())
        frames = np.stack(
            [
                times + offset,
                pitch.selected_array["frequency"],
                _levels(samples, times, rate),
            ]
        )
        columns.append(frames[:, (frames[0] >= start) & (frames[0] < end)])
    joined = np.concatenate(columns, axis=1) if columns else np.zeros((3, 0))
    return Track(*joined)


def _levels(samples: np.ndarray, times: np.ndarray, rate: float) -> np.ndarray:
    energy = np.concatenate([[0.0], np.cumsum(samples**2)])
    half = _LEVEL_WINDOW_S / 2
    first = np.clip(((times - half) * rate).astype(int), 0, len(samples))
    last = np.clip(((times + half) * rate).astype(int), 0, len(samples))
    mean = (energy[last] - energy[first]) / np.maximum(last - first, 1)
    level: np.ndarray = 10 * np.log10(np.maximum(mean, 1e-15))
    return level
