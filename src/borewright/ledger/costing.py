"""A batch's cost sheet from the records: real masses, hours, rejects, quotes and prices."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from borewright.errors import LedgerError
from borewright.ledger.checking import names_of
from borewright.ledger.cost import CostLine, CostSheet
from borewright.ledger.quotes import best_quote
from borewright.ledger.rejects import RejectRate, reject_rate
from borewright.ledger.store import Ledger
from borewright.ledger.writing import Record

ONE = Decimal(1)


@dataclass(frozen=True)
class BatchCost:
    """A cost sheet with where its figures come from."""

    batch: str
    plating: str
    sheet: CostSheet
    rejects: RejectRate
    notes: tuple[str, ...]


@dataclass(frozen=True)
class PartPrint:
    """What printing one good part takes, the mean of the good jobs on record."""

    part: str
    hours: float
    mass_g: float
    energy_kwh: float
    height_mm: float | None
    jobs: int


def exact(value: float) -> Decimal:
    """A measured number as a decimal, to six places, far beyond what a scale or clock tells."""
    return Decimal(str(round(value, 6)))


def part_prints(ledger: Ledger, design: str) -> tuple[list[PartPrint], RejectRate]:
    """Means over the good print jobs of each part of a design, and the rejects over all.

    LedgerError where a part has no good job with its hours and mass.
    """
    power = {r["code"]: float(str(r["power_w"] or 0)) for r in ledger.records("printer")}
    jobs = ledger.records("print_job", {"design": design})
    finished = [job for job in jobs if job["outcome"] != "running"]
    rejected = sum(job["outcome"] == "rejected" for job in finished)
    found = []
    for part in names_of(str(ledger.get("design", design)["parts"])):
        good = [
            (float(str(j["hours"])), float(str(j["mass_g"])), power[j["printer"]], j["height_mm"])
            for j in finished
            if j["part"] == part and j["outcome"] == "good" and j["hours"] and j["mass_g"]
        ]
        if not good:
            raise LedgerError(
                f"no good print job of '{part}' has its hours and mass on record",
                place=f"design {design}",
                remedy="Record one with `borewright ledger add print-job`, a trial print will do.",
            )
        heights = [float(str(height)) for *_, height in good if height is not None]
        found.append(
            PartPrint(
                part=part,
                hours=statistics.fmean(hours for hours, *_ in good),
                mass_g=statistics.fmean(mass for _, mass, *_ in good),
                energy_kwh=statistics.fmean(hours * w / 1000 for hours, _, w, _ in good),
                height_mm=max(heights, default=None),
                jobs=len(good),
            )
        )
    return found, reject_rate(rejected, len(finished))


def batch_cost(
    ledger: Ledger, batch: str, *, quantity: int | None = None, plating: str | None = None
) -> BatchCost:
    """The cost sheet of a batch, or of what it would be with another quantity or plating.

    Material, machine time and energy come from the good print jobs and are raised by the
    reject rate; labour is the mean of the hours recorded for each step; keywork is the
    cheapest quote, with the sets that a least order forces on the batch counted in full.
    """
    record = ledger.get("batch", batch)
    count = quantity if quantity is not None else int(str(record["quantity"]))
    if count < 1:
        raise LedgerError("a batch has at least one instrument", place="cost, quantity")
    wanted = plating or (None if record["plating"] is None else str(record["plating"]))
    currency = _currency(ledger)
    prices = _prices(ledger, wanted, currency)
    prints, rejects = part_prints(ledger, str(record["design"]))
    each = _print_lines(prints, prices, rejects.rate)
    labour, labour_batch, notes = _labour(ledger, str(record["design"]), batch, prices)
    each += labour + [
        CostLine(str(r["code"]), ONE, "instrument", _price(r)) for r in prices["instrument"]
    ]
    fixed = labour_batch + [
        CostLine(str(r["code"]), ONE, "batch", _price(r)) for r in prices["batch"]
    ]
    quote = best_quote(ledger, count, plating=wanted, currency=currency)
    each.append(CostLine(f"keywork, {quote.plating}, {quote.source}", ONE, "set", quote.unit_price))
    if quote.tooling_price:
        fixed.append(CostLine("keywork tooling", ONE, "order", quote.tooling_price))
    if quote.surplus:
        fixed.append(
            CostLine("keywork beyond the need", Decimal(quote.surplus), "set", quote.unit_price)
        )
        notes.append(f"quote {quote.code} sells no fewer than {count + quote.surplus} sets")
    notes.append(rejects.words())
    sheet = CostSheet(
        currency=currency,
        quantity=count,
        each=tuple(each),
        batch=tuple(fixed),
        percent_of_price=sum((_price(r) for r in prices["percent of price"]), Decimal(0)),
        tax_percent=sum((_price(r) for r in prices["tax"]), Decimal(0)),
    )
    return BatchCost(batch, quote.plating, sheet, rejects, tuple(notes))


def _currency(ledger: Ledger) -> str:
    for row in ledger.records("setting", {"code": "currency"}):
        return str(row["value"])
    raise LedgerError(
        "the ledger's own currency is not set",
        place="setting, currency",
        remedy="Add it: `borewright ledger add setting code=currency value=EUR`.",
    )


def _prices(ledger: Ledger, plating: str | None, currency: str) -> dict[str, list[Record]]:
    from borewright.ledger.kinds.selling import PER

    found: dict[str, list[Record]] = {per: [] for per in PER}
    for row in ledger.records("expense"):
        if row["plating"] is not None and row["plating"] != plating:
            continue
        percentage = row["per"] in ("percent of price", "tax")
        if not percentage and row["currency"] != currency:
            raise LedgerError(
                f"'{row['code']}' is in {row['currency'] or 'no currency'}, "
                f"the ledger counts in {currency}",
                place="expense",
                remedy="Correct it to one currency.",
            )
        found[str(row["per"])].append(row)
    return found


def _price(row: Record) -> Decimal:
    return Decimal(str(row["price"]))


def _print_lines(
    prints: Sequence[PartPrint], prices: dict[str, list[Record]], rejected: Decimal
) -> list[CostLine]:
    amounts = {
        "kg": exact(sum(one.mass_g for one in prints) / 1000),
        "printer hour": exact(sum(one.hours for one in prints)),
        "kWh": exact(sum(one.energy_kwh for one in prints)),
    }
    return [
        CostLine(str(row["code"]), amount, per, _price(row), rejected)
        for per, amount in amounts.items()
        for row in prices[per]
    ]


def _labour(
    ledger: Ledger, design: str, batch: str, prices: dict[str, list[Record]]
) -> tuple[list[CostLine], list[CostLine], list[str]]:
    """Hours by step: for an instrument the mean of those on record, for the batch their sum."""
    rates = prices["labour hour"]
    rows = ledger.records("labour")
    if not rates or not rows:
        return [], [], ["no labour is counted: hours or their price are not on record"]
    alike = {r["code"] for r in ledger.records("instrument", {"design": design})}
    steps: dict[str, dict[str, float]] = {}
    whole: dict[str, float] = {}
    for row in rows:
        step, hours = str(row["step"]), float(str(row["hours"]))
        if row["instrument"] in alike:
            spent = steps.setdefault(step, {})
            serial = str(row["instrument"])
            spent[serial] = spent.get(serial, 0.0) + hours
        elif row["batch"] == batch:
            whole[step] = whole.get(step, 0.0) + hours
    rate = sum((_price(r) for r in rates), Decimal(0))
    each = [
        CostLine(step, exact(statistics.fmean(spent.values())), "labour hour", rate)
        for step, spent in steps.items()
    ]
    fixed = [CostLine(step, exact(hours), "labour hour", rate) for step, hours in whole.items()]
    counted = max((len(spent) for spent in steps.values()), default=0)
    return each, fixed, [f"labour: mean of the hours recorded on {counted} instruments"]
