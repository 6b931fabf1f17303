"""What differed beside the two things that are compared: loudness, and the order of the takes.

Pitch follows loudness, and an instrument warms up. Both are estimated from the takes themselves,
never from the difference that is looked for: loudness from single notes within a take, the course
of a day from the takes of one and the same thing. What is then taken out widens the answer by
its own error.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from borewright.playing.records import Record
from borewright.words import Message, say

#: A difference of loudness from which it is told (dB).
_TOLD_DB = 2.0
#: Where one thing comes later than the other by this share of what blocks would make, it is told.
_BLOCKS = 0.7
#: How far takes drift from one to the next, one standard deviation (cents; from memory).
_USUAL_DRIFT_CENTS = 1.0
_SWEEPS = 4

Couples = Sequence[tuple[list[Record], list[Record]]]


class Beside(NamedTuple):
    """One covariate: its slope (cents a unit) with error, and how far the things were apart."""

    slope: float
    error: float
    freedom: float
    apart: float
    notice: Message | None


def beside_the_things(couples: Couples, notes: set[str]) -> list[Beside]:
    """Loudness and order, where the takes tell them; cents are those of the takes.

    Parameters
    ----------
    couples
        Pairs of takes, the first thing's and the second's.
    notes
        That count.
    """
    found = [_loudness(couples, notes), _order(couples, notes)]
    return [each for each in found if each is not None]


def _loudness(couples: Couples, notes: set[str]) -> Beside | None:
    rows = [
        (record.cents, record.level_db, 2 * number + place, (place, record.note))
        for number, couple in enumerate(couples)
        for place, take in enumerate(couple)
        for record in take
        if record.note in notes and record.level_db is not None
    ]
    if len({take for _, _, take, _ in rows}) < 2 * len(couples):
        return None  # some take has no levels
    cents, level = (np.array([row[at] for row in rows], dtype=float) for at in (0, 1))
    takes = np.array([row[2] for row in rows])
    _, profile = np.unique([f"{place} {note}" for _, _, _, (place, note) in rows],
                           return_inverse=True)  # fmt: skip
    means = np.array([level[takes == take].mean() for take in range(2 * len(couples))])
    apart = float(np.mean(means[1::2] - means[::2]))
    cents, level = (_without(each, takes, profile) for each in (cents, level))
    spread = float(level @ level)
    freedom = len(couples) * 2 - 1
    if spread < 1e-6 or len(rows) < 3 * len(couples):
        return None
    slope = float(level @ cents) / spread
    rest = level * (cents - slope * level)
    # Errors of one take hang together: each take counts as one (clustered standard errors).
    sums = np.array([rest[takes == take].sum() for take in range(2 * len(couples))])
    error = float(np.sqrt(np.sum(sums**2) * (freedom + 1) / freedom)) / spread
    told = (
        say(
            "the second was blown {apart_db:+.1f} dB against the first; what loudness does to "
            "pitch in these takes ({slope:+.2f} cents a dB) is taken out, and its error counts",
            apart_db=apart,
            slope=slope,
        )
        if abs(apart) >= _TOLD_DB
        else None
    )
    return Beside(slope, error, float(freedom), apart, told)


def _without(values: np.ndarray, takes: np.ndarray, profile: np.ndarray) -> np.ndarray:
    """Values less what takes and notes share, by turns until both are out."""
    for _ in range(_SWEEPS):
        for groups in (takes, profile):
            sums = np.bincount(groups, values)
            values = values - (sums / np.maximum(np.bincount(groups), 1))[groups]
    return values


def _order(couples: Couples, notes: set[str]) -> Beside | None:
    """The course of a day, where the takes are numbered through."""
    places = _places(couples)
    if places is None:
        return None
    apart = float(np.mean(places[:, 1] - places[:, 0]))
    blocks = float(np.mean(np.abs(places[:, 1] - places[:, 0])))
    means = _take_means(couples, notes)
    days = [couple[0][0].player + " / " + couple[0][0].day for couple in couples]
    _, day = np.unique(days, return_inverse=True)
    # Pairs, not single takes: what the player does that moment is in both takes of a pair.
    pairs, middles = means.mean(axis=1), places.mean(axis=1)
    values, course = pairs.copy(), middles.copy()
    for group in range(int(day.max()) + 1):
        values[day == group] -= pairs[day == group].mean()
        course[day == group] -= middles[day == group].mean()
    freedom = len(couples) - int(day.max()) - 2
    # A thing that always comes later by about as much as blocks put it is confounded with time.
    total = len({record.take for couple in couples for take in couple for record in take})
    per_day = total / (int(day.max()) + 1)
    confounded = abs(apart) >= _BLOCKS * per_day / 2 and blocks > 1.5
    if freedom < 1 or abs(apart) < 1e-9 or not course.any():
        return None
    slope = float(course @ values) / float(course @ course)
    rest = values - slope * course
    error = float(np.sqrt(rest @ rest / freedom / (course @ course)))
    # No instrument drifts by much more than that: what scatter alone seems to say counts less.
    trust = _USUAL_DRIFT_CENTS**2 / (_USUAL_DRIFT_CENTS**2 + error**2)
    slope, error = slope * trust, error * float(np.sqrt(trust))
    told = (
        say(
            "one came after the other in a block: warming up and a tiring lip look like a "
            "difference; their course within each block is taken out, and the answer is wider "
            "for it. Next time mix the order (--blind)"
        )
        if confounded
        else None
    )
    return Beside(slope, error, float(freedom), apart, told)


def _places(couples: Couples) -> np.ndarray | None:
    """Place of every take in its day, [P, 2]; None where their names do not tell."""
    numbers = []
    for couple in couples:
        for take in couple:
            found = re.fullmatch(r"(\D*)(\d+)(?:\.\w+)?(?:#(\d+))?", take[0].take)
            if found is None:
                return None
            day = take[0].player, take[0].day
            numbers.append((day, found[1], int(found[2]), int(found[3] or 1)))
    if len({name for _, name, _, _ in numbers}) > 1 or len(set(numbers)) < len(numbers):
        return None  # counted for each thing on its own
    places = np.zeros(len(numbers))
    for day in {each[0] for each in numbers}:
        own = sorted(each for each in numbers if each[0] == day)
        for at, each in enumerate(numbers):
            if each[0] == day:
                places[at] = own.index(each)
    return places.reshape(-1, 2)


def _take_means(couples: Couples, notes: set[str]) -> np.ndarray:
    """Mean cents of every take [P, 2] over its notes, each less what the note is elsewhere."""
    rows = [
        (record.cents, 2 * number + place, record.note)
        for number, couple in enumerate(couples)
        for place, take in enumerate(couple)
        for record in take
        if record.note in notes
    ]
    cents = np.array([row[0] for row in rows])
    takes = np.array([row[1] for row in rows])
    _, profile = np.unique([row[2] for row in rows], return_inverse=True)
    means = np.zeros(2 * len(couples))
    for _ in range(_SWEEPS):
        rest = cents - means[takes]
        shape = np.bincount(profile, rest) / np.bincount(profile)
        means = np.bincount(takes, cents - shape[profile]) / np.bincount(takes)
    return means.reshape(-1, 2)
