"""What a quotation says: lines that are rounded, and a sum of rounded lines."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from borewright.ledger.kinds.selling import Order
from borewright.ledger.money import Money
from borewright.ledger.pricing import unit_price
from borewright.ledger.store import Ledger

_NOTHING = Decimal(0)


@dataclass(frozen=True)
class QuotationFacts:
    """An order with its prices; amounts are in whole coins, ``each`` as it was set."""

    order: Order
    each: Money
    goods: Money
    shipping: Money
    tax: Money
    deposit: Money | None

    @property
    def before_tax(self) -> Money:
        """Goods and shipping."""
        return self.goods + self.shipping

    @property
    def total(self) -> Money:
        """What the customer pays."""
        return self.before_tax + self.tax


def quotation_facts(ledger: Ledger, order: str) -> QuotationFacts:
    """The quotation of an order; LedgerError where it has no price yet."""
    record = ledger.one(Order, order)
    each = unit_price(record)
    goods = (each * record.quantity).rounded
    shipping = Money(record.shipping_price or _NOTHING, record.currency).rounded
    tax = ((goods + shipping) * (record.tax_percent or _NOTHING) / 100).rounded
    deposit = None if record.deposit is None else Money(record.deposit, record.currency).rounded
    return QuotationFacts(record, each, goods, shipping, tax, deposit)
