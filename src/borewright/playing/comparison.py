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
from borewright.model.results.campaign import Comparison, Difference, Interval, Verdict
from borewright.playing.beside import Beside, beside_the_things
from borewright.playing.joints import unlike_joints
from borewright.playing.records import TONES, Record, counted
from borewright.words import Message, Said, joined, say

#: Two equal things are called different in five of a hundred comparisons at most.
CHANCE = 0.05
#: Differences of pitch below this (cents) do not matter to players (common practice).
MATTERS_CENTS = 4.0
_POWER = 0.93
_LEAST_PAIRS = 3
_SWEEPS = 3
#: Quantities a full comparison looks at: pitch, its pattern over notes, four descriptors.
_QUANTITIES = 2 + len(TONES)

_HIGHER, _LOWER = say("higher"), say("lower")
_UNITS = {
    "centroid_hz": ("%", say("brighter"), say("darker")),
    "odd_even_db": ("dB", say("more hollow (odd harmonics stronger)"), say("less hollow")),
    "slope_db_per_octave": ("dB/octave", say("more upper harmonics"), say("fewer upper harmonics")),
    "attack_ms": ("%", say("slower to speak"), say("quicker to speak")),
}


class _Pairs(NamedTuple):
    notes: list[str]  # of the pairs
    values: dict[str, np.ndarray]  # differences [P, N] by quantity; NaN where unknown
    beside: list[Beside]  # what else differed between the two things


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
            say(
                "'{first}' and '{second}' by '{by}' cannot be compared",
                first=first,
                second=second,
                by=by,
            ),
            place="comparison",
            remedy=say("Name two different instruments or mouthpieces."),
        )
    pairs, notices = _paired(counted(records), first, second, by)
    notices += unlike_joints([each for each in records if getattr(each, by) in (first, second)])
    count = len(pairs.values["cents"])
    tests = {
        name: _difference(name, values, pairs.beside if name == "cents" else [])
        for name, values in pairs.values.items()
    }
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
    means = np.nanmean(pairs.values["cents"], axis=1)
    scatter = float(np.std(means, ddof=1))
    # What is taken out leaves an error that lessens with the pairs like their own scatter.
    whole = math.sqrt(count * sum(share for share, _ in _shares(means, pairs.beside)))
    verdict, sentence = _verdict(first, second, differences, by_note, different, matters_cents)
    return Comparison(
        first=first,
        second=second,
        pairs=count,
        differences=differences,
        notes=by_note,
        verdict=verdict,
        sentence=sentence,
        pairs_advised=pairs_needed(whole, matters_cents),
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
            say("a shift of {shift_cents:g} cents cannot be looked for", shift_cents=shift_cents),
            place="comparison",
            remedy=say("Give cents above 0."),
        )
    size = shift_cents / max(scatter_of_pairs_cents, 0.01)
    for count in range(_LEAST_PAIRS, 2000):
        if TTestPower().power(size, count, CHANCE / _QUANTITIES) >= _POWER:
            return count
    raise PlayingError(
        say(
            "no reachable number of pairs finds {shift_cents:g} cents in this scatter",
            shift_cents=shift_cents,
        ),
        place="comparison",
        remedy=say("Record more evenly, or look for a larger difference."),
    )


def _natural(take: str) -> list[object]:
    return [int(piece) if piece.isdigit() else piece for piece in re.split(r"(\d+)", take)]


def _paired(records: list[Record], first: str, second: str, by: str) -> tuple[_Pairs, list[Said]]:
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
                say("there are no takes of '{name}'", name=name),
                place="comparison",
                remedy=say("There are: {known}.", known=", ".join(names)),
            )
    couples: list[tuple[list[Record], list[Record]]] = []
    left = 0
    for player, day in dict.fromkeys((player, day) for player, day, _ in takes):
        ours, theirs = (
            [own[take] for take in sorted(own, key=_natural)]
            for own in (takes.get((player, day, name), {}) for name in (first, second))
        )
        couples += list(zip(ours, theirs, strict=False))
        left += abs(len(ours) - len(theirs))
    if len(couples) < _LEAST_PAIRS:
        raise PlayingError(
            say("{pairs} pairs of takes are too few", pairs=len(couples)),
            place="comparison",
            remedy=say(
                "Record at least {pairs} pairs, each by one player on one day.",
                pairs=_LEAST_PAIRS,
            ),
        )
    # A note may be missing here and there: it counts where both takes of a pair have it.
    shared = [
        {record.note for record in ours} & {record.note for record in theirs}
        for ours, theirs in couples
    ]
    least = max(_LEAST_PAIRS, len(couples) // 2)
    common = [
        note
        for note in dict.fromkeys(record.note for couple in couples for record in couple[0])
        if sum(note in notes for notes in shared) >= least
    ]
    common = common if all(len(notes & set(common)) >= 2 for notes in shared) else []
    if len(common) < 2:
        raise PlayingError(
            say("the takes share fewer than two notes"),
            place="comparison",
            remedy=say("Play one order."),
        )
    notices: list[Said] = []
    if left:
        notices = [say("{takes} takes had no partner and were left out", takes=left)]
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
    beside = beside_the_things(couples, set(common))
    notices += [each.notice for each in beside if each.notice is not None]
    return _Pairs(common, values, beside), notices


def _mean(take: list[Record], note: str, quantity: str) -> float:
    found = [getattr(record, quantity) for record in take if record.note == note]
    known = [value for value in found if value is not None]
    return float(np.mean(known)) if known else math.nan


def _t_test(
    values: np.ndarray, beside: Sequence[Beside] = (), level: float = 0.05
) -> tuple[Interval, float]:
    """Mean with its interval, and the two-sided probability of it by chance.

    What else differed is taken out as far as it is known; its own errors widen the interval,
    with the degrees of freedom of Welch and Satterthwaite (Biometrika 34 (1947) 28).
    """
    from scipy.stats import t

    values = values[np.isfinite(values)]
    mean = float(np.mean(values)) - sum(each.slope * each.apart for each in beside)
    shares = _shares(values, beside)
    total = sum(share for share, _ in shares)
    freedom = total**2 / sum(share**2 / own for share, own in shares)
    error = math.sqrt(total)
    half = float(t.ppf(1 - level / 2, freedom)) * error
    probability = float(2 * t.sf(abs(mean) / error, freedom))
    return Interval(value=mean, low=mean - half, high=mean + half), probability


def _shares(values: np.ndarray, beside: Sequence[Beside]) -> list[tuple[float, float]]:
    """Variances that add up in a mean difference, with their degrees of freedom."""
    count = len(values)
    own = max(float(np.var(values, ddof=1)) / count, 1e-18), float(count - 1)
    return [own, *(((each.error * each.apart) ** 2, each.freedom) for each in beside)]


def _difference(quantity: str, values: np.ndarray, beside: Sequence[Beside]) -> Difference:
    interval, probability = _t_test(np.nanmean(values, axis=1), beside)
    unit, more, less = _UNITS.get(quantity, ("cents", _HIGHER, _LOWER))
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
        words=_HIGHER if interval.value > 0 else _LOWER,
        value=interval,
        p_value=min(1.0, probability * notes),
        different=False,
    )


def _pattern(pairs: _Pairs) -> float:
    """Probability by chance that some note differs from the mean shift as much as it does."""
    values = pairs.values["cents"]
    rest = _without_pairs_means(values)
    least = min(_t_test(rest[:, column])[1] for column in range(rest.shape[1]))
    return min(1.0, float(least) * int(rest.shape[1]))


def _without_pairs_means(values: np.ndarray) -> np.ndarray:
    """Differences [P, N] less what each pair shares; missing notes shift no pair's mean."""
    profile = np.zeros(values.shape[1])
    for _ in range(_SWEEPS):
        own = np.nanmean(values - profile, axis=1, keepdims=True)
        profile = np.nanmean(values - own, axis=0)
        profile = profile - np.mean(profile)
    found: np.ndarray = values - np.nanmean(values - profile, axis=1, keepdims=True)
    return found


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
) -> tuple[Verdict, Said]:
    pitch = differences[0].value
    found: list[Message] = [_said(each) for each in differences if each.different]
    if "pattern" in different:
        worst = min(notes, key=lambda note: note.p_value)
        found.append(
            say("tuned differently from note to note, most at {note}", note=worst.quantity)
        )
    if found:
        return Verdict.DIFFERENT, say(
            "Different: '{second}' is {found} than '{first}'.",
            second=second,
            found=joined(found, "; "),
            first=first,
        )
    if -matters < pitch.low and pitch.high < matters:
        return Verdict.NOT_DIFFERENT, say(
            "Not different: '{second}' lies {low:+.1f} to {high:+.1f} cents from '{first}', "
            "less than the {matters:g} cents that matter.",
            second=second,
            low=pitch.low,
            high=pitch.high,
            first=first,
            matters=matters,
        )
    return Verdict.CANNOT_TELL, say(
        "Cannot tell from these takes: '{second}' may lie anywhere from {low:+.1f} to "
        "{high:+.1f} cents from '{first}'.",
        second=second,
        low=pitch.low,
        high=pitch.high,
        first=first,
    )


def _said(difference: Difference) -> Message:
    value = difference.value
    return say(
        "{words} by {amount:.1f} {unit} ({low:+.1f} to {high:+.1f})",
        words=difference.words,
        amount=abs(value.value),
        unit=say("cents") if difference.unit == "cents" else difference.unit,
        low=value.low,
        high=value.high,
    )
