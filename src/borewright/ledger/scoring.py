"""Sources compared by criteria the owner weighs, with the arithmetic shown."""

from __future__ import annotations

import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from borewright.errors import LedgerError
from borewright.ledger.quotes import best_quote
from borewright.ledger.store import Ledger
from borewright.ledger.survey import pooled_scatter_mm, survey_statistics

MOST_POINTS = 10.0

#: Criteria whose values come from the records, unless the owner enters one.
FROM_RECORDS = {
    "price": "price of one set at the quantity, tooling shared out",
    "scatter": "pooled scatter of the survey in mm",
    "stiffness": "newtons for each mm that a key gives, mean of the bend tests",
    "delivery": "lead time in days",
}


@dataclass(frozen=True)
class Weighed:
    """One source under one criterion: its value, points from 0 to 10, and weight."""

    criterion: str
    value: float
    points: float
    weight: float
    arithmetic: str


@dataclass(frozen=True)
class Standing:
    """A source's place: the weighted mean of its points, and how it came about."""

    source: str
    total: float
    weighed: tuple[Weighed, ...]
    arithmetic: str


@dataclass(frozen=True)
class Criterion:
    """What is weighed: name, weight, and whether low or high values are better."""

    name: str
    weight: float
    low_is_better: bool


def standings(
    criteria: Sequence[Criterion], values: Mapping[str, Mapping[str, float]]
) -> list[Standing]:
    """Sources from best to worst.

    The best value under a criterion has 10 points, the worst 0, the rest lie between in
    proportion; where all are alike each has 10. The total is Σ weight × points / Σ weight.

    Raises LedgerError where a source lacks a value, or all weights are zero.
    """
    whole = sum(criterion.weight for criterion in criteria)
    if not criteria or whole <= 0:
        raise LedgerError(
            "no criterion has a weight",
            place="compare",
            remedy="Add some: `borewright ledger add criterion code=price weight=3 better=low`.",
        )
    for source, row in values.items():
        absent = [criterion.name for criterion in criteria if criterion.name not in row]
        if absent:
            raise LedgerError(
                f"source '{source}' has no value for {', '.join(absent)}",
                place="compare",
                remedy="Record it, enter a score, or withdraw the criterion.",
            )
    found = []
    for source in values:
        weighed = tuple(_weighed(criterion, source, values) for criterion in criteria)
        total = sum(one.weight * one.points for one in weighed) / whole
        terms = " + ".join(f"{one.weight:g} × {one.points:.2f}" for one in weighed)
        found.append(Standing(source, total, weighed, f"({terms}) / {whole:g} = {total:.2f}"))
    return sorted(found, key=lambda standing: (-standing.total, standing.source))


def _weighed(
    criterion: Criterion, source: str, values: Mapping[str, Mapping[str, float]]
) -> Weighed:
    column = [row[criterion.name] for row in values.values()]
    best, worst = min(column), max(column)
    if not criterion.low_is_better:
        best, worst = worst, best
    value = values[source][criterion.name]
    if best == worst:
        points, words = MOST_POINTS, "all alike: 10"
    else:
        points = MOST_POINTS * (value - worst) / (best - worst) + 0.0  # no minus zero
        words = f"10 × ({value:g} − {worst:g}) / ({best:g} − {worst:g}) = {points:.2f}"
    return Weighed(criterion.name, value, points, criterion.weight, words)


def compare_sources(
    ledger: Ledger, quantity: int, *, plating: str | None = None, currency: str | None = None
) -> list[Standing]:
    """Every source that was not refused, weighed by the owner's criteria at a quantity."""
    criteria = [
        Criterion(str(r["code"]), float(str(r["weight"])), r["better"] == "low")
        for r in ledger.records("criterion")
    ]
    sources = [str(r["code"]) for r in ledger.records("source") if r["verdict"] != "refused"]
    if not sources:
        raise LedgerError("there is no source to compare", place="compare")
    entered = {
        (str(r["source"]), str(r["criterion"])): float(str(r["value"]))
        for r in ledger.records("score")
    }
    values: dict[str, dict[str, float]] = {}
    for source in sources:
        values[source] = {}
        for criterion in criteria:
            value = entered.get((source, criterion.name))
            if value is None and criterion.name in FROM_RECORDS:
                value = _recorded(ledger, source, criterion.name, quantity, plating, currency)
            if value is not None:
                values[source][criterion.name] = value
    return standings(criteria, values)


def _recorded(
    ledger: Ledger, source: str, name: str, quantity: int, plating: str | None, currency: str | None
) -> float | None:
    if name in ("price", "delivery"):
        quote = best_quote(ledger, quantity, source=source, plating=plating, currency=currency)
        if name == "price":
            return float((quote.total / Decimal(quantity)).quantize(Decimal("0.0001")))
        return None if quote.lead_time_days is None else float(quote.lead_time_days)
    if name == "scatter":
        return pooled_scatter_mm(survey_statistics(ledger, source))
    samples = {r["code"] for r in ledger.records("sample", {"source": source})}
    stiffness = [
        float(str(r["force_n"])) / float(str(r["deflection_mm"]))
        for r in ledger.records("trial", {"test": "bend"})
        if r["sample"] in samples and r["force_n"] and r["deflection_mm"]
    ]
    return statistics.fmean(stiffness) if stiffness else None
