"""From the pressure at the reed to the sound at the listener, and notes with breath and end."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from borewright.acoustics.blowing.attempts import Voices
from borewright.acoustics.blowing.helping import PREPARING_S
from borewright.acoustics.blowing.modes import Modes
from borewright.acoustics.blowing.player import Blowing
from borewright.acoustics.blowing.resonators import Resonators
from borewright.acoustics.blowing.response import Response
from borewright.acoustics.blowing.running import RATE, Stage, run
from borewright.acoustics.blowing.steady import WINDOW_S, Steady, steady

#: Samples a second of the sound, a whole part of the steps a second.
SOUND_RATE = 48_000
#: The sound is faded out between these frequencies: the modes reach to 6 kHz.
FADE_HZ = (7_000.0, 10_000.0)
#: Ringing after the end of the breath (s); room before the direct sound for nearer openings.
TAIL_S, AHEAD_S = 0.3, 0.02
#: What is left of a ringing is faded out over this time (s).
_END_S = 0.03


class Breathing(NamedTuple):
    """How a note begins and ends (s): the breath rises and falls along half a cosine."""

    attack_s: float = 0.03
    release_s: float = 0.06


class Event(NamedTuple):
    """One note to be played: which fingering, how strongly, and for how long (s)."""

    row: int
    pressure: float  # mouth pressure over closing pressure
    seconds: float  # from the start of the attack to the end of the release


class Played(NamedTuple):
    """Sounds of E events, each [T] in Pa at the listener, and their tones at the reed."""

    sounds: list[np.ndarray]
    tone: Steady  # before the release; NaN where none had settled
    rate: int


def transfer(answers: Response, row: int, rate: int = SOUND_RATE) -> np.ndarray:
    """Impulse response (per sample) from the pressure at the reed to the listener.

    Its direct sound comes ``AHEAD_S`` late, because openings nearer than the body's middle are
    heard earlier.
    """
    step = answers.frequencies[0]
    count = round(rate / step)
    spectrum = np.zeros(count // 2 + 1, complex)
    place = np.round(answers.frequencies / step).astype(int)
    inside = place < len(spectrum)
    low, high = FADE_HZ
    fade = np.clip((high - answers.frequencies) / (high - low), 0.0, 1.0)
    late = np.exp(-2j * np.pi * answers.frequencies * AHEAD_S)
    smooth = 0.5 - 0.5 * np.cos(np.pi * fade)
    spectrum[place[inside]] = (answers.radiated[row] * late * smooth)[inside]
    response: np.ndarray = np.fft.irfft(spectrum, count)
    return response


def play(
    bank: Resonators,
    played: Voices,
    blowing: Blowing,
    events: Sequence[Event],
    breathing: Breathing | None = None,
) -> Played:
    """Blow events one by one and carry each to the listener.

    Every event starts from rest; slurs between fingerings are not in the model.
    """
    from scipy.signal import fftconvolve, resample_poly

    breathing = breathing or Breathing()
    rows = np.array([event.row for event in events])
    ends = np.array([event.seconds for event in events])
    strong = np.array([event.pressure for event in events])
    early, late = (
        Modes(*(entry[rows] for entry in modes)) for modes in (played.early, played.late)
    )

    def breath(time: np.ndarray) -> np.ndarray:
        rise = np.clip(time / breathing.attack_s, 0.0, 1.0)[:, None]
        fall = np.clip((ends[None, :] - time[:, None]) / breathing.release_s, 0.0, 1.0)
        share = 0.25 * (1 - np.cos(np.pi * rise)) * (1 - np.cos(np.pi * fall))
        blown: np.ndarray = share * strong
        return blown

    lip = np.full(len(rows), blowing.embouchure)
    whole = max(float(ends.max()) + TAIL_S, PREPARING_S)
    motion = run(
        [Stage(PREPARING_S, early, lip), Stage(whole, late, lip)],
        bank.reed,
        bank.answers.reed_delay,
        breath,
    )
    sounds, tones = [], []
    filters = {row: transfer(bank.answers, row) for row in set(rows.tolist())}
    for number, event in enumerate(events):
        last = round((event.seconds - breathing.release_s) * RATE)
        first = max(0, last - round(WINDOW_S * RATE))
        tones.append(steady(motion.pressure[first:last, number : number + 1], RATE))
        inside = resample_poly(motion.pressure[:, number], 1, RATE // SOUND_RATE)
        heard = fftconvolve(inside, filters[event.row])[round(AHEAD_S * SOUND_RATE * 0.5) :]
        kept = heard[: round((event.seconds + TAIL_S) * SOUND_RATE)] * blowing.closing_kpa * 1000
        end = round(_END_S * SOUND_RATE)
        kept[-end:] *= 0.5 + 0.5 * np.cos(np.pi * np.arange(1, end + 1) / end)
        sounds.append(kept)
    joined = Steady(*(np.concatenate(entries) for entries in zip(*tones, strict=True)))
    return Played(sounds, joined, SOUND_RATE)
