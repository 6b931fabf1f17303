"""A fair comparison of two instruments, barrels, bores or materials.

Takes are compared in pairs: one of each, next to each other, by one player on one day. What
player, day and room do falls out of the difference. Quantities are judged by Student's t over
pairs; the probabilities are corrected for how many quantities were looked at (Holm, Scand. J.
Statist. 6 (1979) 65), so that two equal things are rarely called different.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from borewright.errors import PlayingError
from borewright.model.results.campaign import Comparison, Difference, Interval
from borewright.playing.records import TONES, Record, counted

#: Two equal things are called different in three of a hundred comparisons at most.
CHANCE = 0.03
#: Differences of pitch below this (cents) do not matter to players (common practice).
MATTERS_CENTS = 4.0
_POWER = 0.93
_LEAST_PAIRS = 3
#: Quantities a full comparison looks at: pitch, its pattern over notes, four descriptors.
_QUANTITIES = 2 + len(TONES)

_UNITS = {
    "centroid_hz": ("%", "brighter", "darker"),
    "odd_even_db": ("dB", "more hollow (odd harmonics stronger)", "less hollow"),
    "slope_db_per_octave": ("dB/octave", "more upper harmonics", "fewer upper harmonics"),
    "attack_ms": ("%", "slower to speak", "quicker to speak"),
}


class _Pairs(NamedTuple):
    notes: list[str]  # common to all pairs
    values: dict[str, np.ndarray]  # differences [P, N] by quantity; NaN where unknown


def compare(
    records: Sequence[Record],
    first: str,
    second: str,
    *,
    by: str = "instrument",
    matters_cents: float = MATTERS_CENTS,
) -> Comparison:
    """Compare two things under test.

    Parameters
    ----------
    records
        Notes of takes, recorded along a blind order list.
    first, second
        Names of the two things; differences are second less first.
    by
        Column that names them: ``instrument`` or ``mouthpiece``.
    matters_cents
        The smallest difference of pitch that matters.

    Raises
    ------
    PlayingError
        For names that do not occur, and fewer than three pairs or two common notes.
    """
    if by not in ("instrument", "mouthpiece") or first == second:
        raise PlayingError(
            f"'{first}' and '{second}' by '{by}' cannot be compared",
            place="comparison",
            remedy="Name two different instruments or mouthpieces.",
        )
    pairs, notices = _paired(counted(records), first, second, by)
    count = len(pairs.values["cents"])
    tests = {name: _difference(name, values) for name, values in pairs.values.items()}
    by_note = [
        _note_difference(note, pairs.values["cents"][:, column], len(pairs.notes))
        for column, note in enumerate(pairs.notes)
    ]
    pattern = _pattern(pairs)
    probabilities = {name: test.p_value for name, test in tests.items()} | {"pattern": pattern}
    different = _holm(probabilities)
    differences = [
        test.model_copy(update={"different": name in different}) for name, test in tests.items()
    ]
    by_note = [
        note.model_copy(update={"different": note.p_value < CHANCE and bool(different)})
        for note in by_note
    ]
    scatter = float(np.std(np.mean(pairs.values["cents"], axis=1), ddof=1))
    verdict, sentence = _verdict(first, second, differences, by_note, different, matters_cents)
    return Comparison(
        first=first,
        second=second,
        pairs=count,
        differences=differences,
        notes=by_note,
        verdict=verdict,
        sentence=sentence,
        pairs_advised=pairs_needed(scatter, matters_cents),
        scatter_of_pairs_cents=scatter,
        notices=notices,
    )


def pairs_needed(scatter_of_pairs_cents: float, shift_cents: float) -> int:
    """Pairs that find a shift in at least nine of ten comparisons.

    Power of the paired t-test (statsmodels), at the strictest probability that the correction
    for several quantities may ask for.

    Parameters
    ----------
    scatter_of_pairs_cents
        Standard deviation of the differences of pairs, each a mean over notes.
    shift_cents
        The shift to be found.
    """
    from statsmodels.stats.power import TTestPower

    if shift_cents <= 0:
        raise PlayingError(
            f"a shift of {shift_cents:g} cents cannot be looked for",
            place="comparison",
            remedy="Give cents above 0.",
        )
    size = shift_cents / max(scatter_of_pairs_cents, 0.01)
    for count in range(_LEAST_PAIRS, 2000):
        if TTestPower().power(size, count, CHANCE / _QUANTITIES) >= _POWER:
            return count
    raise PlayingError(
        f"no reachable number of pairs finds {shift_cents:g} cents in this scatter",
        place="comparison",
        remedy="Record more evenly, or look for a larger difference.",
    )


def _natural(take: str) -> list[object]:
    return [int(piece) if piece.isdigit() else piece for piece in re.split(r"(\d+)", take)]


def _paired(records: list[Record], first: str, second: str, by: str) -> tuple[_Pairs, list[str]]:
    takes: dict[tuple[str, str, str], dict[str, list[Record]]] = {}
    names: dict[str, None] = {}
    for record in records:
        name = getattr(record, by)
        names[name] = None
        key = (record.player, record.day, name)
        takes.setdefault(key, {}).setdefault(record.take, []).append(record)
    for name in (first, second):
        if name not in names:
            raise PlayingError(
                f"there are no takes of '{name}'",
                place="comparison",
                remedy=f"There are: {', '.join(names)}.",
            )
    couples, left = [], 0
    for player, day in dict.fromkeys((player, day) for player, day, _ in takes):
        ours, theirs = (
            [own[take] for take in sorted(own, key=_natural)]
            for own in (takes.get((player, day, name), {}) for name in (first, second))
        )
        couples += list(zip(ours, theirs, strict=False))
        left += abs(len(ours) - len(theirs))
    if len(couples) < _LEAST_PAIRS:
        raise PlayingError(
            f"{len(couples)} pairs of takes are too few",
            place="comparison",
            remedy=f"Record at least {_LEAST_PAIRS} pairs, each by one player on one day.",
        )
    common = [
        note
        for note in dict.fromkeys(record.note for record in couples[0][0])
        if all(any(r.note == note for r in take) for couple in couples for take in couple)
    ]
    if len(common) < 2:
        raise PlayingError(
            "the takes share fewer than two notes", place="comparison", remedy="Play one order."
        )
    notices = [f"{left} takes had no partner and were left out"] if left else []
    values = {}
    for quantity in ("cents", *TONES):
        tables = [
            np.array([[_mean(take, note, quantity) for note in common] for take in takes_of])
            for takes_of in ([couple[0] for couple in couples], [couple[1] for couple in couples])
        ]
        if quantity in ("centroid_hz", "attack_ms"):
            # Ratios: a per cent is a per cent at any pitch.
            with np.errstate(divide="ignore", invalid="ignore"):
                tables = [100 * np.log(np.where(table > 0, table, np.nan)) for table in tables]
        difference = tables[1] - tables[0]
        if np.isfinite(difference).any(axis=1).all():
            values[quantity] = difference
    return _Pairs(common, values), notices


def _mean(take: list[Record], note: str, quantity: str) -> float:
    found = [getattr(record, quantity) for record in take if record.note == note]
    known = [value for value in found if value is not None]
    return float(np.mean(known)) if known else math.nan


def _t_test(values: np.ndarray, level: float = 0.05) -> tuple[Interval, float]:
    """Mean with its interval, and the two-sided probability of it by chance."""
    from scipy.stats import t

    count = len(values)
    mean, error = float(np.mean(values)), float(np.std(values, ddof=1)) / math.sqrt(count)
    error = max(error, 1e-9)
    half = float(t.ppf(1 - level / 2, count - 1)) * error
    probability = float(2 * t.sf(abs(mean) / error, count - 1))
    return Interval(value=mean, low=mean - half, high=mean + half), probability


def _difference(quantity: str, values: np.ndarray) -> Difference:
    interval, probability = _t_test(np.nanmean(values, axis=1))
    unit, more, less = _UNITS.get(quantity, ("cents", "higher", "lower"))
    return Difference(
        quantity=quantity,
        unit=unit,
        words=more if interval.value > 0 else less,
        value=interval,
        p_value=probability,
        different=False,
    )


def _note_difference(note: str, values: np.ndarray, notes: int) -> Difference:
    interval, probability = _t_test(values)
    return Difference(
        quantity=note,
        unit="cents",
        words="higher" if interval.value > 0 else "lower",
        value=interval,
        p_value=min(1.0, probability * notes),
        different=False,
    )


def _pattern(pairs: _Pairs) -> float:
    """Probability by chance that some note differs from the mean shift as much as it does."""
    values = pairs.values["cents"]
    rest = values - values.mean(axis=1, keepdims=True)
    least = min(_t_test(rest[:, column])[1] for column in range(rest.shape[1]))
    return min(1.0, float(least) * int(rest.shape[1]))


def _holm(probabilities: dict[str, float]) -> set[str]:
    """Quantities that differ, the chance of any false one kept below CHANCE."""
    found: set[str] = set()
    ordered = sorted(probabilities.items(), key=lambda entry: entry[1])
    for rank, (name, probability) in enumerate(ordered):
        if probability >= CHANCE / (len(ordered) - rank):
            break
        found.add(name)
    return found


def _verdict(
    first: str,
    second: str,
    differences: list[Difference],
    notes: list[Difference],
    different: set[str],
    matters: float,
) -> tuple[str, str]:
    pitch = differences[0].value
    words = [_said(each) for each in differences if each.different]
    if "pattern" in different:
        worst = min(notes, key=lambda note: note.p_value)
        words.append(f"tuned differently from note to note, most at {worst.quantity}")
    if words:
        return "different", f"Different: '{second}' is {'; '.join(words)} than '{first}'."
    if -matters < pitch.low and pitch.high < matters:
        return (
            "not different",
            f"Not different: '{second}' lies {pitch.low:+.1f} to {pitch.high:+.1f} cents from "
            f"'{first}', less than the {matters:g} cents that matter.",
        )
    return (
        "cannot tell",
        f"Cannot tell from these takes: '{second}' may lie anywhere from {pitch.low:+.1f} to "
        f"{pitch.high:+.1f} cents from '{first}'.",
    )


def _said(difference: Difference) -> str:
    value = difference.value
    return (
        f"{difference.words} by {abs(value.value):.1f} {difference.unit} "
        f"({value.low:+.1f} to {value.high:+.1f})"
    )
