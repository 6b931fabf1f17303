"""Sources compared by criteria the owner weighs, with the arithmetic shown."""

from __future__ import annotations

import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from borewright.errors import LedgerError
from borewright.ledger.kinds import buying
from borewright.ledger.kinds.buying import Better, Sample, Score, Source, Trial, Trying, Verdict
from borewright.ledger.likeness import Surveyed, deviations_of
from borewright.ledger.quotes import best_quote
from borewright.ledger.store import Ledger
from borewright.ledger.survey import pooled_scatter_mm, survey_statistics
from borewright.words import Message, joined, say

MOST_POINTS = 10.0

#: The criterion that sets are measured for.
SCATTER = "scatter"
#: Criteria whose values come from the records, unless the owner enters one.
FROM_RECORDS = {
    "price": say("price of one set at the quantity, tooling shared out"),
    SCATTER: say("pooled scatter of the survey in mm"),
    "stiffness": say("newtons for each mm that a key gives, mean of the bend tests"),
    "delivery": say("lead time in days"),
}


@dataclass(frozen=True)
class Weighed:
    """One source under one criterion: its value, points from 0 to 10, and weight."""

    criterion: str
    value: float
    points: float
    weight: float
    arithmetic: Message


@dataclass(frozen=True)
class Standing:
    """A source's place: the weighted mean of its points, and how it came about."""

    source: str
    total: float
    weighed: tuple[Weighed, ...]
    arithmetic: Message


@dataclass(frozen=True)
class Criterion:
    """What is weighed: name, weight, and whether low or high values are better."""

    name: str
    weight: float
    low_is_better: bool


def standings(
    criteria: Sequence[Criterion],
    values: Mapping[str, Mapping[str, float]],
    scattered: Mapping[str, Sequence[float]] | None = None,
) -> list[Standing]:
    """Sources from best to worst.

    The best value under a criterion has 10 points, another as many as its share of the best, so
    that a small difference costs little even between two; where a value is not above zero, points
    lie between best and worst in proportion. A scatter that the sets measured cannot tell from
    the best one has 10 points too. The total is Σ weight × points / Σ weight.

    Parameters
    ----------
    criteria, values
        What is weighed, and each source's value under it.
    scattered
        One deviation (mm) for each set of a source, where its scatter comes from the survey.

    Raises LedgerError where a source lacks a value, or all weights are zero.
    """
    whole = sum(criterion.weight for criterion in criteria)
    if not criteria or whole <= 0:
        raise LedgerError(
            say("no criterion has a weight"),
            place=say("comparison"),
            remedy=say("Add some to the table of criteria, such as price, weight 3, better low."),
        )
    for source, row in values.items():
        absent = [criterion.name for criterion in criteria if criterion.name not in row]
        if absent:
            raise LedgerError(
                say(
                    "source '{source}' has no value for {criteria}",
                    source=source,
                    criteria=joined(absent, ", "),
                ),
                place=say("comparison"),
                remedy=say("Record it, enter a score, or withdraw the criterion."),
            )
    found = []
    for source in values:
        weighed = tuple(
            _weighed(criterion, source, values, scattered or {}) for criterion in criteria
        )
        total = sum(one.weight * one.points for one in weighed) / whole
        terms = (
            say("{weight:g} × {points:.2f}", weight=one.weight, points=one.points)
            for one in weighed
        )
        arithmetic = say(
            "({terms}) / {whole:g} = {total:.2f}",
            terms=joined(terms, " + "),
            whole=whole,
            total=total,
        )
        found.append(Standing(source, total, weighed, arithmetic))
    return sorted(found, key=lambda standing: (-standing.total, standing.source))


def _weighed(
    criterion: Criterion,
    source: str,
    values: Mapping[str, Mapping[str, float]],
    scattered: Mapping[str, Sequence[float]],
) -> Weighed:
    column = {name: row[criterion.name] for name, row in values.items()}
    best, worst = min(column.values()), max(column.values())
    if not criterion.low_is_better:
        best, worst = worst, best
    value = column[source]
    first = next(name for name, each in column.items() if each == best)
    alike = None
    if criterion.name == SCATTER and value != best and {first, source} <= set(scattered):
        alike = _cannot_be_told(scattered[first], scattered[source])
    if best == worst:
        points, words = MOST_POINTS, say("all alike: 10")
    elif alike is not None:
        points, words = MOST_POINTS, alike
    elif min(best, worst) <= 0:
        points = MOST_POINTS * (value - worst) / (best - worst) + 0.0  # no minus zero
        words = say(
            "10 × ({value:g} − {worst:g}) / ({best:g} − {worst:g}) = {points:.2f}",
            value=value,
            worst=worst,
            best=best,
            points=points,
        )
    else:
        over, under = (best, value) if criterion.low_is_better else (value, best)
        points = MOST_POINTS * over / under
        words = say(
            "10 × {over:g} / {under:g} = {points:.2f}", over=over, under=under, points=points
        )
    return Weighed(criterion.name, value, points, criterion.weight, words)


def _cannot_be_told(best: Sequence[float], other: Sequence[float]) -> Message | None:
    """Words where two sources' scatter cannot be told apart; None where it can."""
    from borewright.ledger.likeness import TOLD_APART, chance_alike, sets_to_tell

    chance = chance_alike(best, other)
    if chance is None:
        return say("too few sets to tell it from the best: 10")
    if chance < TOLD_APART:
        return None
    needed = sets_to_tell(best, other)
    found = say(
        "{count} and {other} sets do not tell it from the best (chance {chance:.2f}): 10",
        count=len(best),
        other=len(other),
        chance=chance,
    )
    if needed is None:
        return found
    return say("{found}; about {sets} of each would", found=found, sets=needed)


def compare_sources(
    ledger: Ledger,
    quantity: int,
    *,
    plating: str | None = None,
    currency: str | None = None,
    surveyed: Surveyed | None = None,
) -> list[Standing]:
    """Every source that was not refused, weighed by the owner's criteria at a quantity.

    ``surveyed`` are numbers of key surveys kept with samples; they count like measurements.
    """
    criteria = [
        Criterion(each.code, each.weight, each.better is Better.LOW)
        for each in ledger.every(buying.Criterion)
    ]
    known = ledger.every(Source)
    sources = [each.code for each in known if each.verdict is not Verdict.REFUSED]
    if not sources:
        raise LedgerError(
            say("there is no source to compare"),
            place=say("comparison"),
            remedy=say("Add a source, or open one that was refused."),
        )
    entered = {(each.source, each.criterion): each.value for each in ledger.every(Score)}
    values: dict[str, dict[str, float]] = {}
    for source in sources:
        values[source] = {}
        for criterion in criteria:
            value = entered.get((source, criterion.name))
            if value is None and criterion.name in FROM_RECORDS:
                value = _recorded(
                    ledger, source, criterion.name, quantity, plating, currency, surveyed
                )
            if value is not None:
                values[source][criterion.name] = value
    scattered = {}
    for source in sources:
        if any(each.name == SCATTER for each in criteria) and (source, SCATTER) not in entered:
            scattered[source] = deviations_of(ledger, source, surveyed)
    return standings(criteria, values, scattered)


def _recorded(
    ledger: Ledger,
    source: str,
    name: str,
    quantity: int,
    plating: str | None,
    currency: str | None,
    surveyed: Surveyed | None,
) -> float | None:
    if name in ("price", "delivery"):
        quote = best_quote(ledger, quantity, source=source, plating=plating, currency=currency)
        if name == "price":
            # A price to weigh against other things, not to be paid.
            return float((quote.total / quantity).amount)
        return None if quote.lead_time_days is None else float(quote.lead_time_days)
    if name == SCATTER:
        return pooled_scatter_mm(survey_statistics(ledger, source, surveyed))
    samples = {each.code for each in ledger.every(Sample, {"source": source})}
    stiffness = [
        each.force_n / each.deflection_mm
        for each in ledger.every(Trial, {"test": Trying.BEND})
        if each.sample in samples and each.force_n and each.deflection_mm
    ]
    return statistics.fmean(stiffness) if stiffness else None
