"""Several samples of one keywork set measured: mean, scatter, and readings that stand apart."""

from __future__ import annotations

import math
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from borewright.errors import LedgerError
from borewright.ledger.kinds.buying import Measurement, Sample
from borewright.ledger.likeness import Surveyed, mean_interval, scatter_interval
from borewright.ledger.store import Ledger
from borewright.ledger.writing import every_within
from borewright.words import joined, say

#: B. Iglewicz and D. C. Hoaglin, How to Detect and Handle Outliers (1993): a reading stands
#: apart where its modified z-score, from the median and the median absolute deviation, is
#: beyond 3.5. Where more than half the readings are alike that deviation is zero; then the
#: mean absolute deviation takes its place, as is common practice with this rule.
OUTLIER_RULE = say("modified z-score beyond 3.5 (Iglewicz and Hoaglin, 1993)")
OUTLIER_LIMIT = 3.5
FEWEST_FOR_OUTLIERS = 4


@dataclass(frozen=True)
class FeatureStatistics:
    """One measure of one feature over several sets (mm).

    ``scatter_mm`` is the sample standard deviation (n − 1), None for a single set; ``interval_mm``
    holds the mean and ``scatter_interval_mm`` the scatter in 95 of 100 such surveys;
    ``outliers`` are the samples whose reading stands apart.
    """

    feature: str
    measure: str
    count: int
    mean_mm: float
    median_mm: float
    scatter_mm: float | None
    nominal_mm: float | None
    outliers: tuple[str, ...]
    interval_mm: tuple[float, float] | None = None
    scatter_interval_mm: tuple[float, float] | None = None

    @property
    def off_nominal_mm(self) -> float | None:
        """How far the mean is from what the drawing says."""
        return None if self.nominal_mm is None else self.mean_mm - self.nominal_mm

    @property
    def name(self) -> str:
        """Feature and measure, as dimensions are named: ``FC station``."""
        return f"{self.feature} {self.measure}"


def modified_z_scores(values: Sequence[float]) -> list[float]:
    """How far each value stands from the median, in robust standard deviations."""
    middle = statistics.median(values)
    offs = [value - middle for value in values]
    scale = statistics.median(abs(off) for off in offs) / 0.6745
    if scale == 0:
        scale = statistics.fmean(abs(off) for off in offs) * 1.253314
    return [off / scale if scale else 0.0 for off in offs]


def feature_statistics(
    feature: str, measure: str, readings: Mapping[str, Sequence[float]], nominal: float | None
) -> FeatureStatistics:
    """Statistics over sets; repeated readings of one set are averaged first.

    So that a set measured five times weighs no more than one measured once. Outliers are
    named from four sets on: with fewer nobody can say which of them is the odd one.
    """
    if not readings or any(not values for values in readings.values()):
        raise LedgerError(
            say("there are no readings"),
            place=(say("survey"), feature, measure),
            remedy=say("Enter what was measured."),
        )
    means = {sample: statistics.fmean(values) for sample, values in readings.items()}
    values = list(means.values())
    scores = (
        modified_z_scores(values) if len(values) >= FEWEST_FOR_OUTLIERS else [0.0] * len(values)
    )
    apart = [s for s, z in zip(means, scores, strict=True) if abs(z) > OUTLIER_LIMIT]
    mean = statistics.fmean(values)
    scatter = statistics.stdev(values) if len(values) > 1 else None
    return FeatureStatistics(
        feature=feature,
        measure=measure,
        count=len(values),
        mean_mm=mean,
        median_mm=statistics.median(values),
        scatter_mm=scatter,
        nominal_mm=nominal,
        outliers=tuple(apart),
        interval_mm=mean_interval(values),
        scatter_interval_mm=None if scatter is None else scatter_interval(scatter, len(values)),
    )


def survey_statistics(
    ledger: Ledger, source: str, surveyed: Surveyed | None = None
) -> list[FeatureStatistics]:
    """Every feature and measure over all samples of a source, in the order first measured.

    ``surveyed`` are numbers of key surveys kept with samples; they count like measurements.
    """
    with ledger.reading() as connection:
        known = {each.code for each in every_within(connection, Sample, {"source": source})}
        rows = every_within(connection, Measurement)
    readings: dict[tuple[str, str], dict[str, list[float]]] = {}
    nominals: dict[tuple[str, str], set[float]] = {}
    for row in rows:
        if row.sample not in known:
            continue
        key = (row.feature, row.measure)
        readings.setdefault(key, {}).setdefault(row.sample, []).append(row.value_mm)
        if row.nominal_mm is not None:
            nominals.setdefault(key, set()).add(row.nominal_mm)
    for sample, numbers in (surveyed or {}).items():
        if sample in known:
            for key, value in numbers.items():
                readings.setdefault(key, {}).setdefault(sample, []).append(value)
    if not readings:
        raise LedgerError(
            say("no sample of source '{source}' has been measured", source=source[:60]),
            place=say("survey"),
            remedy=say("Enter readings in the table of measurements, or keep a set's key survey."),
        )
    for (feature, measure), values in nominals.items():
        if len(values) > 1:
            listed = joined((say("{mm:g}", mm=value) for value in sorted(values)), ", ")
            raise LedgerError(
                say("has different nominal values: {values} mm", values=listed),
                place=(say("survey"), feature, measure),
                remedy=say("Correct the measurements so that they agree on what the drawing says."),
            )
    return [
        feature_statistics(*key, sets, next(iter(nominals.get(key, {None}))))
        for key, sets in readings.items()
    ]


def pooled_scatter_mm(found: Sequence[FeatureStatistics]) -> float | None:
    """One scatter for a source: root mean square over features, by degrees of freedom."""
    parts = [(one.count - 1, one.scatter_mm) for one in found if one.scatter_mm is not None]
    freedom = sum(count for count, _ in parts)
    if not freedom:
        return None
    return math.sqrt(sum(count * scatter**2 for count, scatter in parts) / freedom)
