"""Unit cost, price for a margin, break-even quantity: exact arithmetic over cost lines.

Definitions as in C. T. Horngren, S. M. Datar and M. V. Rajan, Cost Accounting: A Managerial
Emphasis (14th edition, 2012), chapters 2 and 3: unit cost is total cost over units;
break-even units are fixed cost over the contribution margin per unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from borewright.errors import LedgerError
from borewright.ledger.money import Money, total
from borewright.words import Text, say

ONE, HUNDRED = Decimal(1), Decimal(100)


@dataclass(frozen=True)
class CostLine:
    """One cost: so much of something at a price, for an instrument or for a whole batch.

    ``reject_rate`` is the share of pieces that fail: for each good piece 1/(1 − rate) are made.
    """

    name: Text
    quantity: Decimal
    unit: Text
    price: Money
    reject_rate: Decimal = Decimal(0)

    @property
    def amount(self) -> Money:
        """Cost of what ends in good pieces, unrounded."""
        if not 0 <= self.reject_rate < 1:
            raise LedgerError(
                say("a reject rate of {rate} leaves nothing good", rate=self.reject_rate),
                place=(say("cost"), self.name),
                remedy=say("Give a rate from 0 to below 1."),
            )
        return self.price * self.quantity / (ONE - self.reject_rate)


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
            raise LedgerError(
                say("a batch has at least one instrument"),
                place=(say("cost"), "quantity"),
                remedy=say("Give a quantity of 1 or more."),
            )

    @property
    def variable_cost(self) -> Money:
        """What one more instrument costs, unrounded."""
        return total((line.amount for line in self.each), self.currency)

    @property
    def fixed_cost(self) -> Money:
        """What the batch costs however many there are, unrounded."""
        return total((line.amount for line in self.batch), self.currency)

    @property
    def total_cost(self) -> Money:
        """What the whole batch costs, unrounded."""
        return self.variable_cost * self.quantity + self.fixed_cost

    @property
    def unit_cost(self) -> Money:
        """Total cost over quantity, unrounded."""
        return self.total_cost / self.quantity

    def price_for_margin(self, margin_percent: Decimal) -> Money:
        """The price before tax of which this share is left as profit, in whole coins, upwards.

        LedgerError where margin and payment together leave nothing for the cost.
        """
        left = ONE - (margin_percent + self.percent_of_price) / HUNDRED
        if left <= 0 or margin_percent < 0:
            most = HUNDRED - self.percent_of_price
            raise LedgerError(
                say("a margin of {margin} % cannot be had at any price", margin=margin_percent),
                place=(say("cost"), say("margin")),
                remedy=say("It lies between 0 and {most} %.", most=most),
            )
        return (self.unit_cost / left).rounded_up

    def contribution(self, price: Money) -> Money:
        """What each instrument sold at this price leaves towards the fixed costs, unrounded."""
        return price * (ONE - self.percent_of_price / HUNDRED) - self.variable_cost

    def profit(self, price: Money) -> Money:
        """What the batch leaves in all at this price, before taxes on income, unrounded."""
        return self.contribution(price) * self.quantity - self.fixed_cost

    def break_even(self, price: Money, profit: Money | None = None) -> int | None:
        """The fewest instruments at which fixed costs and a wanted profit are earned.

        None where each sale at this price loses money, so that no quantity helps.
        """
        contribution = self.contribution(price).amount
        wanted = (self.fixed_cost + profit if profit else self.fixed_cost).amount
        if wanted <= 0:
            return 0
        if contribution <= 0:
            return None
        return int((wanted / contribution).to_integral_value(rounding=ROUND_CEILING))

    def with_tax(self, price: Money) -> Money:
        """What the customer pays, in whole coins."""
        return (price * (ONE + self.tax_percent / HUNDRED)).rounded
