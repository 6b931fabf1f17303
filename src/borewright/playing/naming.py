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
#: An instrument may lie this far (cents) from the plan as a whole; looked for in such steps, and
#: each hundred of it must make the notes fit better by this much.
_COMMON_CENTS, _COMMON_STEP, _COMMON_COST = 150.0, 25.0, 0.25
#: From here on (cents) what is common to all notes is told.
_TOLD_CENTS = 50.0
#: A note once more lies this near (cents) to the first; where a planned note is missing in its
#: place it may be that note gone wrong, and must lie nearer.
_AGAIN_CENTS, _SAME_CENTS = 40.0, 10.0
#: Notes in another order are so near to their place (notes of the plan) and pitch (cents).
_SWAPPED_NOTES, _SWAPPED_CENTS = 3, 50.0
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
    """Names of all found notes, the planned notes that never came, and what all notes share.

    ``common_cents`` is how far all lie from the plan together, where that is told of, else None.
    """

    notes: list[Named]
    missing: list[Text]
    rounds: int
    common_cents: float | None = None


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
    # All notes may lie off together: one fact of the instrument, and no other names for them.
    trials: list[tuple[float, float, int, float, list[tuple[int, int]]]] = []
    wide = np.arange(-_COMMON_CENTS, _COMMON_CENTS + 1, _COMMON_STEP)
    for common in sorted(wide.tolist(), key=abs):
        if trials and common:
            _, _, best, _, found_pairs = min(trials)
            if len(found_pairs) == len(offset) == len(order) * best:
                break  # every note fits as it is
        own = offset - common
        for rounds in range(1, most + 1):
            cost, pairs = _align(np.tile(own, (1, rounds)))
            trials.append((cost + _COMMON_COST * abs(common) / 100, abs(common), rounds, common,
                           pairs))  # fmt: skip
    _, _, rounds, common, pairs = min(trials, key=lambda trial: trial[:3])
    own = [offset[i, j % len(order)] for i, j in pairs]
    near = [cents for cents in own if abs(cents - common) <= _NEAR_CENTS]
    if near and common:
        common = float(np.median(near))
        rest = _align(np.tile(offset - common, (1, rounds)))[1]
        pairs = rest if len(rest) >= len(pairs) else pairs
    told = float(np.median(near)) if near else 0.0
    found = _named(order, targets, offset - common, pairs, rounds)
    return found._replace(common_cents=told if abs(told) >= _TOLD_CENTS else None)


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


def _overblown(offset: float) -> bool:
    """Whether a note lies where the column's second or third resonance would sound."""
    return any(abs(offset - away) < _NEAR_CENTS for away in _OTHER_REGISTERS[:2])


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
        after = max((other for other in matched if other < i), default=None)
        before = min((other for other in matched if other > i), default=None)
        low = -1 if after is None else matched[after]
        high = count * rounds if before is None else matched[before]
        swapped = [
            place
            for place in missing
            if place % count == j
            and low - _SWAPPED_NOTES < place < high + _SWAPPED_NOTES
            and abs(offset[i, j]) <= _SWAPPED_CENTS
        ]
        again = any(
            other is not None
            and matched[other] % count == j
            and abs(offset[i, j] - offset[other, j])
            <= (_SAME_CENTS if high - low > 1 else _AGAIN_CENTS)
            for other in (after, before)
        )
        beside = [matched[other] % count for other in (after, before) if other is not None]
        if swapped:
            missing.remove(swapped[0])
            notes.append(Named(order[j], targets[j], take, NoteStatus.OUT_OF_ORDER))
        elif again:
            notes.append(Named(order[j], targets[j], take, NoteStatus.REPEATED))
        elif squeaks := [k for k in beside if _overblown(float(offset[i, k]))]:
            k = squeaks[-1]
            notes.append(Named(order[k], targets[k], take, NoteStatus.WRONG_REGISTER))
        else:
            notes.append(Named("", targets[j], take, NoteStatus.UNPLANNED))
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
