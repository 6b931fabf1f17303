"""What instruments that are off cost, and what another way of making saves: the ledger's prices."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import TYPE_CHECKING, Any

from borewright.errors import LedgerError
from borewright.words import Said, say

if TYPE_CHECKING:
    from borewright.ledger import Ledger, Money
    from borewright.model.results.yields import WayYield
    from borewright.tasks.studies.offers import Offer


@dataclass(frozen=True)
class Prices:
    """What the ledger says: an hour's work, an instrument made anew, an instrument's printing."""

    hour: Money
    anew: Money
    machine: Money
    batch: str


@dataclass(frozen=True)
class WayCost:
    """A way of making in money, for a batch: what it costs, and what stays to be put right.

    ``saved`` counts against the way it is made now; ``pays_from`` is the least number of
    instruments that it pays for, None where none does.
    """

    putting_right: Money
    way: Money
    saved: Money
    pays_from: int | None

    def as_dict(self) -> dict[str, Any]:
        """For JSON; amounts are text in whole coins."""
        return {
            "putting_right": self.putting_right.plain,
            "way": self.way.plain,
            "saved": self.saved.plain,
            "pays_from": self.pays_from,
        }


def prices_of(book: Ledger, batch: str) -> Prices:
    """Prices of a batch: LedgerError where an hour's work has none."""
    from borewright.ledger import Money, batch_cost
    from borewright.ledger.kinds.selling import Expense, Per

    sheet = batch_cost(book, batch).sheet
    hours = [row for row in book.every(Expense) if row.per is Per.LABOUR_HOUR]
    if not hours:
        raise LedgerError(
            say("the price of an hour's work is not on record"),
            place="expense",
            remedy=say("Add it to the price list, per labour hour."),
        )
    nothing = Money(Decimal(0), sheet.currency)
    printing = (Per.KG.words, Per.PRINTER_HOUR.words, Per.KWH.words)
    anew, machine = nothing, nothing
    for line in sheet.each:
        if line.unit in (*printing, Per.LABOUR_HOUR.words):
            anew += line.amount
        if line.unit in printing[1:]:
            machine += line.amount
    hour = sum((Money(row.price, sheet.currency) for row in hours), nothing)
    return Prices(hour, anew, machine, batch)


def way_cost(
    prices: Prices,
    instruments: int,
    note_minutes: Decimal,
    made: WayYield,
    now: WayYield,
    offers: list[Offer],
) -> WayCost:
    """A way of making against how it is made now, for so many instruments."""
    from borewright.ledger import Money

    currency = prices.hour.currency
    right, right_now = (
        prices.hour * (_exact(one.notes_off) * note_minutes / 60) + prices.anew * _exact(one.beyond)
        for one in (made, now)
    )
    once = Money(sum((o.once for o in offers), Decimal(0)), currency)
    each = Money(sum((o.each for o in offers), Decimal(0)), currency)
    each += prices.hour * sum((o.hours for o in offers), Decimal(0))
    each += prices.machine * sum((o.print_time - 1 for o in offers), Decimal(0))
    left = right_now - right - each
    way = once + each * instruments
    pays_from = None
    if not once.amount and left.amount >= 0:
        pays_from = 1
    elif left.amount > 0:
        ratio = once.amount / left.amount
        pays_from = max(1, int(ratio.to_integral_value(rounding=ROUND_CEILING)))
    return WayCost(right * instruments, way, left * instruments - once, pays_from)


def counting_words(note_minutes: Decimal) -> Said:
    """How money is counted, in a sentence."""
    return say(
        "A note off is put right by hand in {minutes:f} minutes (as given); an instrument beyond "
        "that is made anew, with its printing and its hours of work. Prices are the ledger's.",
        minutes=note_minutes,
    )


def _exact(value: float) -> Decimal:
    return Decimal(str(round(value, 6)))
