"""Exact money: decimal amounts, one currency at a time, rounding that is stated.

Amounts are computed unrounded and rounded once, where they are shown or charged: to the
currency's smallest coin, halves away from zero (the commercial rule, common practice).
"""

from __future__ import annotations

import re
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from borewright.errors import LedgerError

ROUNDING_WORDS = "rounded to the currency's smallest coin, halves away from zero"

#: Decimals of currencies that do not have two (ISO 4217; from memory).
_DECIMALS = {"JPY": 0, "KRW": 0, "CLP": 0, "ISK": 0, "VND": 0, "BHD": 3, "KWD": 3, "TND": 3}


def decimals_of(currency: str) -> int:
    """How many decimals a currency's amounts have; LedgerError for what is no currency."""
    if not re.fullmatch(r"[A-Z]{3}", currency):
        raise LedgerError(
            f"'{currency[:20]}' is not a currency",
            place="currency",
            remedy="Write its three capital letters, such as EUR.",
        )
    return _DECIMALS.get(currency, 2)


def rounded(amount: Decimal, currency: str) -> Decimal:
    """An amount in whole coins, halves away from zero."""
    coin = Decimal(1).scaleb(-decimals_of(currency))
    return amount.quantize(coin, rounding=ROUND_HALF_UP)


def rounded_up(amount: Decimal, currency: str) -> Decimal:
    """The least amount in whole coins that is not below this one, as for a price."""
    coin = Decimal(1).scaleb(-decimals_of(currency))
    return amount.quantize(coin, rounding=ROUND_CEILING)


def money_words(amount: Decimal, currency: str) -> str:
    """``1,234.50 EUR``, rounded."""
    return f"{rounded(amount, currency):,f} {currency}"
