"""Which note is which: along a planned order, or free."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from borewright.errors import PlayingError, RefusedValue
from borewright.model import FingeringTable, PitchStandard, note_name
from borewright.model.results.playtest import NoteStatus
from borewright.words import Text, say

#: A planned note is recognised within this (cents): less than a semitone, with room for a
#: flat instrument on a cold day.
_NEAR_CENTS = 75.0
#: The column may sound another of its resonances: third, fifth or second over first, fifth
#: over third, and the same downwards (cents).
_OTHER_REGISTERS = (1901.955, 2786.314, 1200.0, 884.359)
#: Costs of the alignment, in units of a note that is nearly too far off.
_EXTRA, _MISSING, _WRONG_REGISTER = 1.0, 1.0, 1.3
_MOST_ROUNDS = 10


class Named(NamedTuple):
    """Name of one found note; ``take`` counts rounds of the planned order from 1."""

    name: str
    target_hz: float
    take: int
    status: NoteStatus


class Naming(NamedTuple):
    """Names of all found notes, and the planned notes that never came."""

    notes: list[Named]
    missing: list[Text]
    rounds: int


def planned(order: Sequence[str], pitch: PitchStandard, hz: Sequence[float]) -> Naming:
    """Name found notes along a planned order, which may be played several times through.

    Parameters
    ----------
    order
        Fingering names such as ``B3`` or ``B3 (sliver)``, in the order of playing.
    pitch
        Gives the targets; its ``a4_hz`` is the reference of the take.
    hz
        Pitches found, in the order of time.

    Raises
    ------
    PlayingError
        For a plan without notes or with something that is no note.
    """
    targets = [target_hz(name, pitch) for name in order]
    if not targets:
        raise PlayingError(
            say("names no note"), place=say("planned order"), remedy=say("Write it as E3 F3 G3.")
        )
    offset = 1200 * np.log2(np.divide.outer(np.asarray(hz, dtype=float), targets))
    most = min(_MOST_ROUNDS, max(1, math.ceil(len(hz) / len(order) * 1.5)))
    trials = [_align(np.tile(offset, (1, rounds))) for rounds in range(1, most + 1)]
    rounds = int(np.argmin([cost for cost, _ in trials]))
    pairs = trials[rounds][1]
    return _named(order, targets, offset, pairs, rounds + 1)


def target_hz(name: str, pitch: PitchStandard) -> float:
    """Sounding frequency (Hz) of a planned fingering such as ``B3 (sliver)``."""
    try:
        return pitch.target_hz(name.split(" (")[0])
    except RefusedValue as error:
        raise PlayingError(error.cause, place=say("planned order"), remedy=error.remedy) from error


def _off_register(offset: np.ndarray) -> np.ndarray:
    gaps = [np.abs(np.abs(offset) - away) for away in _OTHER_REGISTERS]
    off: np.ndarray = np.min(gaps, axis=0) < _NEAR_CENTS
    return off


def _align(offset: np.ndarray) -> tuple[float, list[tuple[int, int]]]:
    """Cheapest pairing of found with planned notes, order kept (dynamic programming)."""
    found, plan = offset.shape
    pair = np.where(np.abs(offset) <= _NEAR_CENTS, np.abs(offset) / _NEAR_CENTS, np.inf)
    pair = np.where(_off_register(offset), np.minimum(pair, _WRONG_REGISTER), pair)
    cost = np.zeros((found + 1, plan + 1))
    cost[:, 0] = np.arange(found + 1) * _EXTRA
    cost[0] = np.arange(plan + 1) * _MISSING
    for i in range(1, found + 1):
        above = np.minimum(cost[i - 1, 1:] + _EXTRA, cost[i - 1, :-1] + pair[i - 1])
        left = cost[i, 0]
        row = cost[i]
        for j, value in enumerate(above.tolist(), start=1):
            left = min(left + _MISSING, value)
            row[j] = left
    pairs = []
    i, j = found, plan
    while i and j:
        if cost[i, j] == cost[i - 1, j - 1] + pair[i - 1, j - 1]:
            pairs.append((i - 1, j - 1))
            i, j = i - 1, j - 1
        elif cost[i, j] == cost[i - 1, j] + _EXTRA:
            i -= 1
        else:
            j -= 1
    return float(cost[found, plan]), pairs[::-1]


def _named(
    order: Sequence[str],
    targets: Sequence[float],
    offset: np.ndarray,
    pairs: list[tuple[int, int]],
    rounds: int,
) -> Naming:
    count = len(order)
    matched = dict(pairs)
    missing = [j for j in range(count * rounds) if j not in set(matched.values())]
    notes, take = [], 1
    for i in range(len(offset)):
        if i in matched:
            take, j = matched[i] // count + 1, matched[i] % count
            near = abs(offset[i, j]) <= _NEAR_CENTS
            status = NoteStatus.OK if near else NoteStatus.WRONG_REGISTER
            notes.append(Named(order[j], targets[j], take, status))
            continue
        # Not in its place: a planned note that came elsewhere, once more, or nothing planned.
        j = int(np.argmin(np.abs(offset[i])))
        place = (take - 1) * count + j
        if abs(offset[i, j]) > _NEAR_CENTS:
            notes.append(Named("", targets[j], take, NoteStatus.UNPLANNED))
        elif place in missing:
            missing.remove(place)
            notes.append(Named(order[j], targets[j], take, NoteStatus.OUT_OF_ORDER))
        else:
            notes.append(Named(order[j], targets[j], take, NoteStatus.REPEATED))
    absent: list[Text] = [
        say("{note} (round {round})", note=order[j % count], round=j // count + 1)
        if rounds > 1
        else order[j % count]
        for j in missing
    ]
    return Naming(notes, absent, rounds)


def free(pitch: PitchStandard, hz: Sequence[float], table: FingeringTable | None = None) -> Naming:
    """Name every found note by the nearest semitone, as written.

    A fingering table only says which written notes the instrument has; a note outside it is
    unplanned.
    """
    known = {fingering.written for fingering in table.fingerings} if table else None
    notes, seen = [], set()
    for value in hz:
        number = round(69 + 12 * math.log2(value / pitch.a4_hz))
        number = min(max(number - pitch.written_to_sounding_semitones, 0), 127)
        name = note_name(number)
        status = NoteStatus.REPEATED if name in seen else NoteStatus.OK
        if known is not None and name not in known:
            status = NoteStatus.UNPLANNED
        seen.add(name)
        notes.append(Named(name, pitch.target_hz(name), 1, status))
    return Naming(notes, [], 1)
