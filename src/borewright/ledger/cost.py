"""Unit cost, price for a margin, break-even quantity: exact arithmetic over cost lines.

Definitions as in C. T. Horngren, S. M. Datar and M. V. Rajan, Cost Accounting: A Managerial
Emphasis (14th edition, 2012), chapters 2 and 3: unit cost is total cost over units;
break-even units are fixed cost over the contribution margin per unit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal

from borewright.errors import LedgerError
from borewright.ledger.money import rounded, rounded_up

ONE, HUNDRED = Decimal(1), Decimal(100)


@dataclass(frozen=True)
class CostLine:
    """One cost: so much of something at a price, for an instrument or for a whole batch.

    ``reject_rate`` is the share of pieces that fail: for each good piece 1/(1 − rate) are made.
    """

    name: str
    quantity: Decimal
    unit: str
    price: Decimal
    reject_rate: Decimal = Decimal(0)

    @property
    def amount(self) -> Decimal:
        """Cost of what ends in good pieces, unrounded."""
        if not 0 <= self.reject_rate < 1:
            raise LedgerError(
                f"a reject rate of {self.reject_rate} leaves nothing good",
                place=f"cost, {self.name}",
            )
        return self.quantity * self.price / (ONE - self.reject_rate)


@dataclass(frozen=True)
class CostSheet:
    """The costs of a batch: lines for each instrument, lines for the whole batch.

    ``percent_of_price`` goes to whoever carries out the payment; ``tax_percent`` is added on
    top of the price.
    """

    currency: str
    quantity: int
    each: tuple[CostLine, ...]
    batch: tuple[CostLine, ...]
    percent_of_price: Decimal = Decimal(0)
    tax_percent: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        if self.quantity < 1:
            raise LedgerError("a batch has at least one instrument", place="cost, quantity")

    @property
    def variable_cost(self) -> Decimal:
        """What one more instrument costs, unrounded."""
        return sum((line.amount for line in self.each), Decimal(0))

    @property
    def fixed_cost(self) -> Decimal:
        """What the batch costs however many there are, unrounded."""
        return sum((line.amount for line in self.batch), Decimal(0))

    @property
    def total_cost(self) -> Decimal:
        """What the whole batch costs, unrounded."""
        return self.variable_cost * self.quantity + self.fixed_cost

    @property
    def unit_cost(self) -> Decimal:
        """Total cost over quantity, unrounded."""
        return self.total_cost / self.quantity

    def for_quantity(self, quantity: int) -> CostSheet:
        """The same costs for another size of batch."""
        return replace(self, quantity=quantity)

    def price_for_margin(self, margin_percent: Decimal) -> Decimal:
        """The price before tax of which this share is left as profit, in whole coins, upwards.

        LedgerError where margin and payment together leave nothing for the cost.
        """
        left = ONE - (margin_percent + self.percent_of_price) / HUNDRED
        if left <= 0 or margin_percent < 0:
            raise LedgerError(
                f"a margin of {margin_percent} % cannot be had at any price",
                place="cost, margin",
                remedy=f"It lies between 0 and {HUNDRED - self.percent_of_price} %.",
            )
        return rounded_up(self.unit_cost / left, self.currency)

    def contribution(self, price: Decimal) -> Decimal:
        """What each instrument sold at this price leaves towards the fixed costs, unrounded."""
        return price * (ONE - self.percent_of_price / HUNDRED) - self.variable_cost

    def profit(self, price: Decimal) -> Decimal:
        """What the batch leaves in all at this price, before taxes on income, unrounded."""
        return self.contribution(price) * self.quantity - self.fixed_cost

    def break_even(self, price: Decimal, profit: Decimal = Decimal(0)) -> int | None:
        """The fewest instruments at which fixed costs and a wanted profit are earned.

        None where each sale at this price loses money, so that no quantity helps.
        """
        contribution = self.contribution(price)
        wanted = self.fixed_cost + profit
        if wanted <= 0:
            return 0
        if contribution <= 0:
            return None
        return int((wanted / contribution).to_integral_value(rounding=ROUND_CEILING))

    def with_tax(self, price: Decimal) -> Decimal:
        """What the customer pays, in whole coins."""
        return rounded(price * (ONE + self.tax_percent / HUNDRED), self.currency)


def what_if(sheet: CostSheet, quantities: Sequence[int], price: Decimal) -> list[dict[str, object]]:
    """Unit cost and profit for other sizes of batch at one price, in whole coins."""
    rows: list[dict[str, object]] = []
    for quantity in quantities:
        other = sheet.for_quantity(quantity)
        rows.append(
            {
                "quantity": quantity,
                "unit_cost": rounded(other.unit_cost, sheet.currency),
                "profit": rounded(other.profit(price), sheet.currency),
            }
        )
    return rows
