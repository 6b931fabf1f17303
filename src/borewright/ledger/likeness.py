"""How sure a survey's figures are, and whether two sources can be told apart at all.

The sample is the set: features of one set come from the same fixture and the same day, so they are
gathered into one figure a set, and only sets are counted. Statistics by SciPy and statsmodels.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from borewright.ledger.kinds.buying import Measurement, Sample
from borewright.ledger.store import Ledger
from borewright.ledger.writing import every_within
from borewright.words import Message, say

#: Numbers (mm) of key surveys kept with samples: {sample: {(feature, measure): value}}.
Surveyed = Mapping[str, Mapping[tuple[str, str], float]]
#: Confidence of intervals; below this chance two sources are told apart; power of sample sizes.
CONFIDENCE, TOLD_APART, POWER = 0.95, 0.05, 0.8
#: Callipers cannot tell less (mm): deviations below count as this.
LEAST_MM = 0.005


def mean_interval(values: Sequence[float]) -> tuple[float, float] | None:
    """Interval of a mean by Student's t, one figure a set; None below two sets."""
    if len(values) < 2:
        return None
    from scipy.stats import t

    half = float(t.ppf((1 + CONFIDENCE) / 2, len(values) - 1)) * statistics.stdev(values)
    half /= math.sqrt(len(values))
    mean = statistics.fmean(values)
    return mean - half, mean + half


def scatter_interval(scatter: float, sets: int) -> tuple[float, float] | None:
    """Interval of a scatter (a standard deviation over sets) by χ²; None below two sets."""
    if sets < 2:
        return None
    from scipy.stats import chi2

    freedom = sets - 1
    low, high = chi2.ppf([(1 + CONFIDENCE) / 2, (1 - CONFIDENCE) / 2], freedom)
    return scatter * math.sqrt(freedom / low), scatter * math.sqrt(freedom / high)


def deviations_mm(readings: Mapping[str, Mapping[str, float]]) -> list[float]:
    """One figure a set: root mean square of how far its features lie from all sets' means.

    ``readings[feature][set]``. A mean over n sets lies nearer to each of them than the truth does;
    √(n / (n − 1)) makes up for it. Features that only one set was measured at say nothing.
    """
    squares: dict[str, list[float]] = {}
    for values in readings.values():
        if len(values) < 2:
            continue
        mean = statistics.fmean(values.values())
        more = len(values) / (len(values) - 1)
        for name, value in values.items():
            squares.setdefault(name, []).append((value - mean) ** 2 * more)
    return [max(math.sqrt(statistics.fmean(each)), LEAST_MM) for each in squares.values()]


def chance_alike(first: Sequence[float], second: Sequence[float]) -> float | None:
    """Chance of such a difference between two equally scattered sources; None below two sets.

    Welch's t-test (1947) on the logarithms of each set's deviation.
    """
    if min(len(first), len(second)) < 2:
        return None
    from scipy.stats import ttest_ind

    logs = [[math.log(each) for each in some] for some in (first, second)]
    if all(len(set(each)) == 1 for each in logs):
        return 1.0 if logs[0][0] == logs[1][0] else 0.0
    return float(ttest_ind(*logs, equal_var=False).pvalue)


def sets_to_tell(first: Sequence[float], second: Sequence[float]) -> int | None:
    """Sets of each source that would tell them apart four times in five; None where none would.

    Taken that the difference seen is the true one (which a small sample cannot promise).
    """
    logs = [[math.log(each) for each in some] for some in (first, second)]
    apart = abs(statistics.fmean(logs[0]) - statistics.fmean(logs[1]))
    spread = math.sqrt(statistics.fmean(statistics.variance(each) for each in logs))
    if apart < 1e-9 or spread < 1e-9:
        return None
    from statsmodels.stats.power import TTestIndPower

    size = min(apart / spread, 5.0)
    needed = TTestIndPower().solve_power(size, alpha=TOLD_APART, power=POWER)
    return math.ceil(float(needed))


@dataclass(frozen=True)
class Likeness:
    """How alike a source's sets are: how far a set usually is from the others, how sure that is.

    ``typical_mm`` is the geometric mean over sets, ``interval_mm`` holds it in 95 of 100 such
    surveys, None below two sets. ``chance_alike`` is the chance of such a difference to the most
    alike source if both were alike, None for that source itself or below two sets each;
    ``sets_to_tell`` how many of each would tell them apart.
    """

    source: str
    sets: int
    typical_mm: float | None
    interval_mm: tuple[float, float] | None
    chance_alike: float | None
    sets_to_tell: int | None

    @property
    def told_apart(self) -> bool:
        """Whether it is surely less alike than the most alike one."""
        return self.chance_alike is not None and self.chance_alike < TOLD_APART


def likeness(deviations: Mapping[str, Sequence[float]]) -> list[Likeness]:
    """Sources by how alike their sets are, the most alike first; those never measured last.

    ``deviations`` has one figure (mm) a set, as :func:`deviations_of` gives them.
    """

    def typical(source: str) -> float:
        logs = [math.log(each) for each in deviations[source]]
        return math.exp(statistics.fmean(logs)) if logs else math.inf

    ordered = sorted(deviations, key=typical)
    found = []
    for source in ordered:
        own, best = deviations[source], deviations[ordered[0]]
        logs = mean_interval([math.log(each) for each in own])
        told = source != ordered[0] and min(len(own), len(best)) >= 2
        found.append(
            Likeness(
                source=source,
                sets=len(own),
                typical_mm=typical(source) if own else None,
                interval_mm=(math.exp(logs[0]), math.exp(logs[1])) if logs else None,
                chance_alike=chance_alike(best, own) if told else None,
                sets_to_tell=sets_to_tell(best, own) if told else None,
            )
        )
    return found


def likeness_words(one: Likeness) -> Message:
    """What a reader is told of one source: never more than its sets allow."""
    if one.typical_mm is None:
        return say("{source}: no two sets were measured", source=one.source)
    if one.interval_mm is None:
        return say("{source}: one set tells nothing of the others", source=one.source)
    found = say(
        "{source}: a set is usually {typical_mm:.3f} mm off the others ({low_mm:.3f} to "
        "{high_mm:.3f}, {sets} sets)",
        source=one.source,
        typical_mm=one.typical_mm,
        low_mm=one.interval_mm[0],
        high_mm=one.interval_mm[1],
        sets=one.sets,
    )
    if one.chance_alike is None:
        return found
    if one.told_apart:
        return say(
            "{found}; surely less alike than the first (chance {chance:.3f})",
            found=found,
            chance=one.chance_alike,
        )
    if one.sets_to_tell is None:
        return say("{found}; no less alike than the first, as far as they tell", found=found)
    return say(
        "{found}; these sets do not tell it from the first (chance {chance:.2f}), about {sets} of "
        "each would",
        found=found,
        chance=one.chance_alike,
        sets=one.sets_to_tell,
    )


def likeness_of(ledger: Ledger, surveyed: Surveyed | None = None) -> list[Likeness]:
    """How alike the sets of every source are that has some."""
    from borewright.ledger.kinds.buying import Source

    sources = [each.code for each in ledger.every(Source)]
    return likeness({each: deviations_of(ledger, each, surveyed) for each in sources})


def deviations_of(ledger: Ledger, source: str, surveyed: Surveyed | None = None) -> list[float]:
    """One figure for each set of a source, as :func:`deviations_mm` has it.

    Measurements entered and numbers of kept key surveys count alike.
    """
    with ledger.reading() as connection:
        known = {each.code for each in every_within(connection, Sample, {"source": source})}
        rows = every_within(connection, Measurement)
    readings: dict[str, dict[str, list[float]]] = {}
    for row in rows:
        if row.sample in known:
            feature = readings.setdefault(f"{row.feature} {row.measure}", {})
            feature.setdefault(row.sample, []).append(row.value_mm)
    for sample, numbers in (surveyed or {}).items():
        if sample in known:
            for (key, measure), value in numbers.items():
                readings.setdefault(f"{key} {measure}", {}).setdefault(sample, []).append(value)
    return deviations_mm(
        {
            feature: {name: statistics.fmean(values) for name, values in sets.items()}
            for feature, sets in readings.items()
        }
    )
