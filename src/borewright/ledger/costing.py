"""A batch's cost sheet from the records: real masses, hours, rejects, quotes and prices."""

from __future__ import annotations

import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from borewright.errors import LedgerError
from borewright.ledger.cost import CostLine, CostSheet
from borewright.ledger.kinds.making import (
    Batch,
    Design,
    Instrument,
    Labour,
    Outcome,
    Printer,
    PrintJob,
)
from borewright.ledger.kinds.selling import Expense, Per, Setting
from borewright.ledger.money import Money, total
from borewright.ledger.quotes import best_quote
from borewright.ledger.rejects import RejectRate, reject_rate
from borewright.ledger.store import Ledger
from borewright.ledger.waiting import names_of
from borewright.words import Message, say, say_as, say_many

NONE, ONE = Decimal(0), Decimal(1)
#: What a price list may hold besides amounts of money.
_PERCENTAGES = (Per.PERCENT_OF_PRICE, Per.TAX)


@dataclass(frozen=True)
class BatchCost:
    """A cost sheet with where its figures come from."""

    batch: str
    plating: str
    sheet: CostSheet
    rejects: RejectRate
    notes: tuple[Message, ...]


@dataclass(frozen=True)
class PartPrint:
    """What printing one good part takes, the mean of the good jobs on record."""

    part: str
    hours: float
    mass_g: float
    energy_kwh: float
    height_mm: float | None
    good: int
    rejected: int


def exact(value: float) -> Decimal:
    """A measured number as a decimal, to six places, far beyond what a scale or clock tells."""
    return Decimal(str(round(value, 6)))


def part_prints(ledger: Ledger, design: str) -> tuple[list[PartPrint], RejectRate]:
    """Means over the good print jobs of each part of a design, and the rejects over all.

    LedgerError where a part has no good job with its hours and mass.
    """
    # A printer that was sold since has left its prints behind.
    printers = ledger.every(Printer, withdrawn=True)
    power = {printer.code: printer.power_w or 0.0 for printer in printers}
    jobs = ledger.every(PrintJob, {"design": design})
    finished = [job for job in jobs if job.outcome is not Outcome.RUNNING]
    rejected = [job for job in finished if job.outcome is Outcome.REJECTED]
    found = []
    for part in names_of(ledger.one(Design, design).parts):
        good = [
            (job.hours, job.mass_g, power[job.printer], job.height_mm)
            for job in finished
            if job.part == part and job.outcome is Outcome.GOOD and job.hours and job.mass_g
        ]
        if not good:
            raise LedgerError(
                say("no good print job of '{part}' has its hours and mass on record", part=part),
                place=say("design {design}", design=design),
                remedy=say("Record one in the table of print jobs; a trial print will do."),
            )
        found.append(
            PartPrint(
                part=part,
                hours=statistics.fmean(hours for hours, *_ in good),
                mass_g=statistics.fmean(mass for _, mass, *_ in good),
                energy_kwh=statistics.fmean(hours * w / 1000 for hours, _, w, _ in good),
                height_mm=max((h for *_, h in good if h is not None), default=None),
                good=len(good),
                rejected=sum(job.part == part for job in rejected),
            )
        )
    return found, reject_rate(len(rejected), len(finished))


def batch_cost(
    ledger: Ledger, batch: str, *, quantity: int | None = None, plating: str | None = None
) -> BatchCost:
    """The cost sheet of a batch, or of what it would be with another quantity or plating.

    Material, machine time and energy come from the good print jobs and are raised by the
    reject rate; labour is the mean of the hours recorded for each step; keywork is the
    cheapest quote, with the sets that a least order forces on the batch counted in full.
    """
    record = ledger.one(Batch, batch)
    count = record.quantity if quantity is None else quantity
    if count < 1:
        raise LedgerError(
            say("a batch has at least one instrument"),
            place=(say("cost"), "quantity"),
            remedy=say("Give a quantity of 1 or more."),
        )
    currency = own_currency(ledger)
    quote = best_quote(ledger, count, plating=plating or record.plating, currency=currency)
    prices = _prices(ledger, quote.plating, currency)
    prints, rejects = part_prints(ledger, record.design)
    each = _print_lines(prints, prices, currency, rejects.rate)
    labour, fixed, notes = _labour(ledger, record.design, batch, prices[Per.LABOUR_HOUR], currency)
    each += labour + [_priced(row, ONE, currency) for row in prices[Per.INSTRUMENT]]
    fixed += [_priced(row, ONE, currency) for row in prices[Per.BATCH]]
    name = say("keywork, {plating}, {source}", plating=quote.plating, source=quote.source)
    each.append(CostLine(name, ONE, say_as("price", "set"), quote.unit_price))
    if quote.tooling_price:
        fixed.append(
            CostLine(say("keywork tooling"), ONE, say_as("price", "order"), quote.tooling_price)
        )
    if quote.lapsed:
        notes.append(
            say(
                "quote {quote} ended on {day}: ask for its price anew",
                quote=quote.code,
                day=quote.lapsed,
            )
        )
    if quote.surplus:
        surplus, name = Decimal(quote.surplus), say("keywork beyond the need")
        fixed.append(CostLine(name, surplus, say_as("price", "set"), quote.unit_price))
        notes.append(
            say(
                "quote {quote} sells no fewer than {count} sets",
                quote=quote.code,
                count=count + quote.surplus,
            )
        )
    sheet = CostSheet(
        currency=currency,
        quantity=count,
        each=tuple(each),
        batch=tuple(fixed),
        percent_of_price=sum((row.price for row in prices[Per.PERCENT_OF_PRICE]), Decimal(0)),
        tax_percent=sum((row.price for row in prices[Per.TAX]), Decimal(0)),
    )
    return BatchCost(batch, quote.plating, sheet, rejects, (*notes, rejects.words))


def own_currency(ledger: Ledger) -> str:
    """The currency that the ledger counts in; LedgerError where it is not set."""
    for setting in ledger.every(Setting, {"code": "currency"}):
        return setting.value
    raise LedgerError(
        say("the ledger's own currency is not set"),
        place=("setting", "currency"),
        remedy=say("Add the setting 'currency' with a value such as EUR."),
    )


def _prices(ledger: Ledger, plating: str, currency: str) -> dict[Per, list[Expense]]:
    found: dict[Per, list[Expense]] = {per: [] for per in Per}
    for row in ledger.every(Expense):
        if row.plating not in (None, plating):
            continue
        if row.per not in _PERCENTAGES and row.currency != currency:
            cause = say("'{name}' is in no currency", name=row.code)
            if row.currency is not None:
                cause = say(
                    "'{name}' is in {currency}, the ledger counts in {own}",
                    name=row.code,
                    currency=row.currency,
                    own=currency,
                )
            raise LedgerError(
                cause, place="expense", remedy=say("Correct it to the ledger's own currency.")
            )
        found[row.per].append(row)
    return found


def _priced(row: Expense, quantity: Decimal, currency: str, rejected: Decimal = NONE) -> CostLine:
    """A line of the price list, for so much of it."""
    return CostLine(row.code, quantity, row.per.words, Money(row.price, currency), rejected)


def _print_lines(
    prints: Sequence[PartPrint],
    prices: Mapping[Per, list[Expense]],
    currency: str,
    rejected: Decimal,
) -> list[CostLine]:
    amounts = {
        Per.KG: exact(sum(one.mass_g for one in prints) / 1000),
        Per.PRINTER_HOUR: exact(sum(one.hours for one in prints)),
        Per.KWH: exact(sum(one.energy_kwh for one in prints)),
    }
    return [
        _priced(row, amount, currency, rejected)
        for per, amount in amounts.items()
        for row in prices[per]
    ]


def _labour(
    ledger: Ledger, design: str, batch: str, rates: Sequence[Expense], currency: str
) -> tuple[list[CostLine], list[CostLine], list[Message]]:
    """Hours by step: for an instrument the mean of those on record, for the batch their sum."""
    rows = ledger.every(Labour)
    if not rates or not rows:
        return [], [], [say("no labour is counted: hours or their price are not on record")]
    alike = {each.code for each in ledger.every(Instrument, {"design": design})}
    steps: dict[str, dict[str, float]] = {}
    whole: dict[str, float] = {}
    for row in rows:
        if row.instrument in alike:
            spent = steps.setdefault(row.step, {})
            serial = str(row.instrument)
            spent[serial] = spent.get(serial, 0.0) + row.hours
        elif row.batch == batch:
            whole[row.step] = whole.get(row.step, 0.0) + row.hours
    rate = total((Money(row.price, currency) for row in rates), currency)
    hour = Per.LABOUR_HOUR.words
    each = [
        CostLine(step, exact(statistics.fmean(spent.values())), hour, rate)
        for step, spent in steps.items()
    ]
    fixed = [CostLine(step, exact(hours), hour, rate) for step, hours in whole.items()]
    counted = max((len(spent) for spent in steps.values()), default=0)
    note = say_many(
        "labour: the hours recorded on 1 instrument",
        "labour: mean of the hours recorded on {count} instruments",
        counted,
    )
    return each, fixed, [note]
