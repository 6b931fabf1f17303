"""Equal loudness for comparison, after ITU-R BS.1770."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from borewright.errors import PlayingError
from borewright.playing.listening.checks import true_peak_db
from borewright.words import say

#: EBU R 128's programme loudness, and how near to full scale a true peak may come.
TARGET_LUFS, HIGHEST_PEAK_DB = -23.0, -1.0


def loudness_lufs(samples: np.ndarray, rate: int) -> float:
    """Integrated loudness (LUFS) of a mono sound, at least 0.4 s long."""
    import pyloudnorm

    return float(pyloudnorm.Meter(rate).integrated_loudness(samples))


def made_equal(sounds: Sequence[np.ndarray], rate: int) -> list[np.ndarray]:
    """Sounds of one loudness: -23 LUFS, or less where a peak would come near full scale.

    Raises PlayingError where a sound is silent: then nothing spoke.
    """
    equal = []
    for sound in sounds:
        largest = float(np.abs(sound).max())
        if largest < 1e-4:  # Pa; 14 dB above hearing's zero
            raise PlayingError(
                say("no note speaks, so there is nothing to hear"),
                place="sound",
                remedy=say("Blow harder (--pressure), or look at the blowing table."),
            )
        loud = loudness_lufs(sound / largest, rate)
        equal.append(sound / largest * 10 ** ((TARGET_LUFS - loud) / 20))
    highest = max(true_peak_db(sound) for sound in equal)
    lower = 10 ** (min(0.0, HIGHEST_PEAK_DB - highest) / 20)
    return [sound * lower for sound in equal]
