"""The price of an order, straight from the cost sheet of the batch that it is made in."""

from __future__ import annotations

from decimal import Decimal

from borewright.errors import LedgerError
from borewright.ledger.costing import batch_cost
from borewright.ledger.kinds.making import Instrument
from borewright.ledger.kinds.selling import Order
from borewright.ledger.money import Money
from borewright.ledger.store import Ledger
from borewright.words import joined, say


def price_order(
    ledger: Ledger,
    order: str,
    *,
    margin_percent: Decimal,
    who: str,
    batch: str | None = None,
    version: int | None = None,
) -> Order:
    """Price an order at what its batch costs, with a margin: unit price and tax.

    Parameters
    ----------
    ledger, order
        Where, and which order.
    margin_percent
        The share of the price that is to be left as profit.
    who
        Who sets the price.
    batch
        The batch; None for the one that the order's instruments are made in.
    version
        The order's version that was looked at; refused where it has changed since.

    Raises
    ------
    LedgerError
        Where the order is accepted already, is in another currency than the ledger counts in,
        is made in no batch or several, or the batch cannot be costed.
    """
    record = ledger.one(Order, order)
    place = say("order {order}", order=order)
    if record.accepted is not None:
        raise LedgerError(
            say("was accepted on {day}, so its price stands", day=record.accepted),
            place=place,
            remedy=say("Where both sides agree on another price, correct the order by hand."),
        )
    made_in = batch or _batch_of(ledger, order)
    sheet = batch_cost(ledger, made_in).sheet
    if record.currency != sheet.currency:
        raise LedgerError(
            say(
                "is in {currency}, the ledger counts in {own}",
                currency=record.currency,
                own=sheet.currency,
            ),
            place=place,
            remedy=say("Correct the order's currency, or price it by hand."),
        )
    price = sheet.price_for_margin(margin_percent)
    changes = {"unit_price": price.amount, "tax_percent": sheet.tax_percent}
    known = {"unit_price": record.unit_price, "tax_percent": record.tax_percent}
    if changes == known:
        return record
    why = say("cost of batch {batch}, margin {margin} %", batch=made_in, margin=margin_percent)
    ledger.correct("order", order, changes, who=who, reason=str(why)[:200], version=version)
    return ledger.one(Order, order)


def open_orders(ledger: Ledger, batch: str) -> list[Order]:
    """Orders made in a batch whose price may still be set."""
    made = {each.order for each in ledger.every(Instrument, {"batch": batch})}
    return [each for each in ledger.every(Order) if each.code in made and each.accepted is None]


def unit_price(order: Order) -> Money:
    """What one instrument of an order costs the customer; LedgerError where it has no price."""
    if order.unit_price is None:
        raise LedgerError(
            say("has no price yet"),
            place=say("order {order}", order=order.code),
            remedy=say("Price it at its cost, or give it a price of your own."),
        )
    return Money(order.unit_price, order.currency)


def _batch_of(ledger: Ledger, order: str) -> str:
    made = ledger.every(Instrument, {"order": order})
    batches = sorted({each.batch for each in made if each.batch is not None})
    if len(batches) == 1:
        return batches[0]
    cause = say("is made in no batch yet")
    if batches:
        cause = say("is made in several batches: {batches}", batches=joined(batches, ", "))
    raise LedgerError(
        cause,
        place=say("order {order}", order=order),
        remedy=say("Say which batch's cost is meant."),
    )
