"""What a batch costs, its price for a margin, and what other choices would bring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from borewright.errors import LedgerError
from borewright.words import Text, say

if TYPE_CHECKING:
    from borewright.ledger import BatchCost, Ledger, Money


@dataclass(frozen=True)
class CostAnswer:
    """The cost of a batch, the price that is asked, and other sizes and platings beside it."""

    cost: BatchCost
    margin_percent: Decimal
    price: Money
    others: tuple[BatchCost, ...]


def cost_answer(
    book: Ledger,
    batch: str,
    margin_percent: Decimal,
    price: Decimal | None = None,
    quantities: Sequence[int] = (),
    platings: Sequence[str] = (),
) -> CostAnswer:
    """Cost a batch; without a price to judge, the price for the margin is asked."""
    from borewright.ledger import Money, batch_cost

    found = batch_cost(book, batch)
    asked = found.sheet.price_for_margin(margin_percent)
    if price is not None:
        asked = Money(price, found.sheet.currency)
    others = [batch_cost(book, batch, quantity=quantity) for quantity in quantities]
    others += [batch_cost(book, batch, plating=plating) for plating in platings]
    return CostAnswer(found, margin_percent, asked, tuple(others))


def amount_from(text: str, place: Text) -> Decimal:
    """An amount as somebody wrote it; LedgerError where it is none."""
    try:
        value = Decimal(text.replace(",", "."))
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite() or not 0 <= value <= 10**12:
        raise LedgerError(
            say("'{given}' is not an amount", given=text[:30]),
            place=place,
            remedy=say("Write it like 25 or 990.50."),
        )
    return value
