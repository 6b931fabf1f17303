"""Runs of many notes in pieces of equal length, so that one compiled kernel serves them all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from borewright.acoustics.blowing.modes import Modes
from borewright.acoustics.blowing.reed import ReedModel
from borewright.acoustics.blowing.stepping import Motion, State, advance, at_rest, stepper

#: Steps a second. Doubling it moves no pitch by more than 0.1 cent below 1 kHz (tested).
RATE = 96_000
#: Seconds of one piece.
PIECE_S = 0.05
#: Batches are filled up to a multiple of this.
_BUCKET = 8

#: Mouth pressure over closing pressure, [T, N], of the times (s) [T].
Breath = Callable[[np.ndarray], np.ndarray]


class Stage(NamedTuple):
    """Modes and embouchure [N] that hold until a moment (s)."""

    until_s: float
    modes: Modes
    embouchure: np.ndarray


def run(
    stages: Sequence[Stage],
    reed: ReedModel,
    delay: float,
    breath: Breath,
    *,
    rate: int = RATE,
    kept_s: float | None = None,
) -> Motion:
    """Blow N notes until the last stage ends.

    Parameters
    ----------
    stages
        One after the other; their modes have the same poles, their moments are rounded up to
        whole pieces. More than one: a player's mouth prepares a register, or the lip moves.
    reed, delay
        As for :func:`borewright.acoustics.blowing.stepping.stepper`.
    breath
        The mouth pressure in time.
    rate
        Steps a second.
    kept_s
        Keep only the last so many seconds; None keeps all.

    Returns
    -------
    Motion
        Signals [T, N] at ``rate``.
    """
    count = len(stages[0].embouchure)
    filled = np.resize(np.arange(count), -(-count // _BUCKET) * _BUCKET)
    piece = round(PIECE_S * rate)
    ends = [-(-round(stage.until_s * rate) // piece) for stage in stages]
    first_kept = 0 if kept_s is None else ends[-1] - -(-round(kept_s * rate) // piece)
    kept: list[tuple[np.ndarray, ...]] = []
    state: State | None = None
    number = 0
    for stage, end in zip(stages, ends, strict=True):
        chosen = Modes(*(entry[filled] for entry in stage.modes))
        constants = stepper(chosen, reed, stage.embouchure[filled], delay, 1 / rate)
        state = at_rest(constants) if state is None else state
        while number < end:
            time = (number * piece + np.arange(1, piece + 1)) / rate
            state, signals = advance(constants, state, breath(time)[:, filled])
            if number >= first_kept:
                kept.append(tuple(np.asarray(signal)[:, :count] for signal in signals))
            number += 1
    return Motion(*(np.concatenate(each) for each in zip(*kept, strict=True)))


def swelling(pressure: np.ndarray, attack_s: float) -> Breath:
    """A breath that rises to each note's ``pressure`` [N] along half a cosine, and stays."""

    def breath(time: np.ndarray) -> np.ndarray:
        share = 0.5 - 0.5 * np.cos(np.pi * np.clip(time / attack_s, 0.0, 1.0))
        risen: np.ndarray = share[:, None] * pressure[None, :]
        return risen

    return breath


def gliding(
    start: np.ndarray, end: np.ndarray, attack_s: float, from_s: float, to_s: float
) -> Breath:
    """A breath that rises to ``start`` [N] and later glides to ``end`` [N]."""
    rising = swelling(start, attack_s)

    def breath(time: np.ndarray) -> np.ndarray:
        share = 0.5 - 0.5 * np.cos(np.pi * np.clip((time - from_s) / (to_s - from_s), 0.0, 1.0))
        glided: np.ndarray = rising(time) + share[:, None] * (end - start)[None, :]
        return glided

    return breath
