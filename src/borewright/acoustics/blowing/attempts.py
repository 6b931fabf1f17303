"""Three ways to get a register to speak: from rest, prepared for a moment, helped throughout."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.acoustics.blowing.helping import PREPARING_S, favouring
from borewright.acoustics.blowing.modes import Modes
from borewright.acoustics.blowing.player import Blowing
from borewright.acoustics.blowing.resonators import Resonators
from borewright.acoustics.blowing.running import RATE, Stage, gliding, run, swelling
from borewright.acoustics.blowing.steady import WINDOW_S, Steady, steady
from borewright.model.results.blowing import Speaking

#: The breath rises in this time (s); the tone is judged at the end of the run.
ATTACK_S, RUN_S = 0.03, 0.9
#: Other ways of blowing set in from here (s).
STARTED_S = 0.5
#: A note this near (cents) to a resonance is that resonance's: registers are 1,000 apart.
_NEAR_CENTS = 150.0
#: A tone that still changes by so much between two tenths of a second has not settled.
_SETTLED_CENTS = 5.0
_ORDER = (Speaking.BY_ITSELF, Speaking.PREPARED, Speaking.HELPED)


class Voices(NamedTuple):
    """How each of N fingerings is played: first with ``early`` modes, then with ``late`` ones."""

    early: Modes
    late: Modes
    speaking: tuple[Speaking, ...]
    from_rest: tuple[int | None, ...]  # number of the resonance that speaks from rest
    tone: Steady  # at the base of the way of blowing
    beats: np.ndarray  # [N] whether the reed reaches the lay


def voices(bank: Resonators, blowing: Blowing) -> Voices:
    """Try each fingering from rest, prepared and helped, and keep the first that speaks.

    Where none does, the helped one is kept.
    """
    count = len(bank.wanted)
    plain, kept_low = bank.modes, favouring(bank.modes, bank.wanted_hz)
    early, late = _joined(plain, kept_low, kept_low), _joined(plain, plain, kept_low)
    lip = np.full(3 * count, blowing.embouchure)
    motion = run(
        [Stage(PREPARING_S, early, lip), Stage(RUN_S, late, lip)],
        bank.reed,
        bank.answers.reed_delay,
        swelling(np.full(3 * count, blowing.pressure), ATTACK_S),
        kept_s=WINDOW_S,
    )
    tone = steady(motion.pressure, RATE)
    beats = motion.opening.min(axis=0) < 0
    cents = 1200 * np.abs(np.log2(tone.hz.reshape(3, count) / bank.wanted_hz))
    changes = np.abs(tone.change_cents.reshape(3, count))
    good = (cents < _NEAR_CENTS) & (changes < _SETTLED_CENTS)
    choice = np.where(good.any(axis=0), good.argmax(axis=0), 2)
    row = choice * count + np.arange(count)
    speaking = tuple(
        _ORDER[chosen] if good[chosen, k] else
        Speaking.OTHER if np.isfinite(tone.hz[row[k]]) else Speaking.SILENT
        for k, chosen in enumerate(choice)
    )  # fmt: skip
    from_rest = tuple(_number(tone.hz[k], bank.onset.resonance_hz[k]) for k in range(count))
    return Voices(
        _taken(early, row), _taken(late, row), speaking, from_rest,
        Steady(*(entry[row] for entry in tone)), beats[row],
    )  # fmt: skip


def _joined(*several: Modes) -> Modes:
    return Modes(*(np.concatenate(entries) for entries in zip(*several, strict=True)))


def _taken(modes: Modes, rows: np.ndarray) -> Modes:
    return Modes(*(entry[rows] for entry in modes))


def _number(hz: float, resonances: np.ndarray) -> int | None:
    """Which resonance a tone belongs to: the nearest, or None for silence.

    A tone that repeats only after several periods of a resonance counts as the one whose
    period it is nearest to: such a note growls.
    """
    if not np.isfinite(hz):
        return None
    away = np.abs(np.log2(np.where(np.isfinite(resonances), resonances, 1e9) / hz))
    return int(np.argmin(away)) + 1


def blown(
    bank: Resonators, played: Voices, blowing: Blowing, pressure: np.ndarray, lip: np.ndarray
) -> tuple[Steady, np.ndarray]:
    """Tones at C other ways of blowing, [C N], and whether the reed beats.

    Each tone starts as ``blowing`` says; then breath and lip move to ``pressure`` [C] and
    ``lip`` [C], as in a swell.
    """
    count, ways = len(bank.wanted), len(pressure)
    early, late = _joined(*[played.early] * ways), _joined(*[played.late] * ways)
    start_lip, end_lip = np.full(ways * count, blowing.embouchure), np.repeat(lip, count)
    start = np.full(ways * count, blowing.pressure)
    moved = STARTED_S + (RUN_S - STARTED_S) / 2
    motion = run(
        [
            Stage(PREPARING_S, early, start_lip),
            Stage(STARTED_S, late, start_lip),
            Stage(moved + RUN_S - STARTED_S, late, end_lip),
        ],
        bank.reed,
        bank.answers.reed_delay,
        gliding(start, np.repeat(pressure, count), ATTACK_S, STARTED_S, moved),
        kept_s=WINDOW_S,
    )
    return steady(motion.pressure, RATE), motion.opening.min(axis=0) < 0
