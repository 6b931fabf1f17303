"""Exact money: a decimal amount with its currency, and rounding that is stated.

Amounts are computed unrounded and rounded once, where they are shown or charged: to the
currency's smallest coin, halves away from zero (the commercial rule, common practice).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from borewright.errors import LedgerError
from borewright.words import Message, say

ROUNDING = say("rounded to the currency's smallest coin, halves away from zero")

#: Decimals of currencies that do not have two (ISO 4217:2015, list one, minor units).
_DECIMALS = {
    **{code: 0 for code in ("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG")},
    **{code: 0 for code in ("RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF")},
    **{code: 3 for code in ("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND")},
}


def decimals_of(currency: str) -> int:
    """How many decimals a currency's amounts have; LedgerError for what is no currency."""
    if not re.fullmatch(r"[A-Z]{3}", currency):
        raise LedgerError(
            say("'{given}' is not a currency", given=currency[:20]),
            place=say("currency"),
            remedy=say("Write its three capital letters, such as EUR."),
        )
    return _DECIMALS.get(currency, 2)


@dataclass(frozen=True)
class Money:
    """An exact amount in a currency; two currencies never add up (LedgerError)."""

    amount: Decimal
    currency: str

    def __add__(self, other: Money) -> Money:
        return Money(self.amount + self._alike(other).amount, self.currency)

    def __sub__(self, other: Money) -> Money:
        return Money(self.amount - self._alike(other).amount, self.currency)

    def __mul__(self, times: int | Decimal) -> Money:
        return Money(self.amount * times, self.currency)

    def __truediv__(self, parts: int | Decimal) -> Money:
        return Money(self.amount / parts, self.currency)

    def __lt__(self, other: Money) -> bool:
        return self.amount < self._alike(other).amount

    def __bool__(self) -> bool:
        return bool(self.amount)

    def _alike(self, other: Money) -> Money:
        if other.currency != self.currency:
            raise LedgerError(
                say("{one} and {other} cannot be added up", one=self.words, other=other.words),
                place=say("currency"),
                remedy=say("Enter both in one currency, at the rate your bank gives you that day."),
            )
        return other

    @property
    def rounded(self) -> Money:
        """In whole coins, halves away from zero."""
        return Money(self.amount.quantize(self._coin, ROUND_HALF_UP), self.currency)

    @property
    def rounded_up(self) -> Money:
        """The least amount in whole coins that is not below this one, as for a price."""
        return Money(self.amount.quantize(self._coin, ROUND_CEILING), self.currency)

    @property
    def _coin(self) -> Decimal:
        return Decimal(1).scaleb(-decimals_of(self.currency))

    @property
    def words(self) -> Message:
        """``1,234.50 EUR``, rounded, as the reader writes numbers."""
        amount, currency = self.rounded.amount, self.currency
        match decimals_of(currency):
            case 0:
                return say("{amount:,.0f} {currency}", amount=amount, currency=currency)
            case 3:
                return say("{amount:,.3f} {currency}", amount=amount, currency=currency)
        return say("{amount:,.2f} {currency}", amount=amount, currency=currency)

    @property
    def plain(self) -> str:
        """The rounded amount as digits, for JSON and for a field of a record."""
        return f"{self.rounded.amount:f}"

    def __str__(self) -> str:
        return str(self.words)


def total(amounts: Iterable[Money], currency: str) -> Money:
    """The sum of amounts, unrounded; nothing is zero of the currency."""
    return sum(amounts, Money(Decimal(0), currency))
