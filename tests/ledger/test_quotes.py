"""The cheapest quote counts least orders and tooling, follows the choice, and never mixes money."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from borewright.errors import LedgerError
from borewright.ledger import Money, best_quote

QUOTES = (
    ("near", "silver", "186.40", 10, "0"),
    ("near", "silver", "171.90", 25, "0"),
    ("far", "silver", "164.00", 10, "90.00"),
    ("far", "gold", "300.00", 1, "0"),
)


def euros(amount: str) -> Money:
    return Money(Decimal(amount), "EUR")


@pytest.fixture
def offers(ledger):
    ledger.add_many("source", [{"code": "near"}, {"code": "far"}], who="Ada")
    rows = [
        {"source": s, "plating": p, "unit_price": u, "currency": "EUR", "minimum_order": m,
         "tooling_price": t}
        for s, p, u, m, t in QUOTES
    ]  # fmt: skip
    ledger.add_many("quote", rows, who="Ada")
    return ledger


def test_least_orders_and_tooling_count(offers):
    # For 24 of 'near': 24 · 186.40 = 4473.60 against 25 · 171.90 = 4297.50 with one to spare.
    many = best_quote(offers, 24, source="near")
    assert (many.code, many.surplus, many.total) == ("quote-2", 1, euros("4297.50"))
    few = best_quote(offers, 12, source="near")
    assert (few.code, few.surplus, few.total) == ("quote-1", 0, euros("2236.80"))
    assert best_quote(offers, 12, plating="silver").total == euros("164.00") * 12 + euros("90.00")


def test_the_chosen_source_is_followed_and_the_refused_left_out(offers):
    offers.correct("source", "near", {"verdict": "chosen"}, who="Ada", reason="r")
    assert best_quote(offers, 12, plating="silver").source == "near"
    with pytest.raises(LedgerError, match="no quote for gold keywork"):
        best_quote(offers, 12, plating="gold")
    offers.correct("source", "near", {"verdict": "refused"}, who="Ada", reason="r")
    assert best_quote(offers, 12, plating="silver").source == "far"


def test_currencies_never_mix(offers):
    with pytest.raises(LedgerError, match="in EUR, the ledger counts in USD"):
        best_quote(offers, 12, currency="USD")
    row = {"source": "near", "plating": "silver", "unit_price": 1, "currency": "USD",
           "minimum_order": 1}  # fmt: skip
    offers.add("quote", row, who="Ada")
    with pytest.raises(LedgerError, match="in EUR, USD"):
        best_quote(offers, 12, source="near")


def test_an_offer_that_has_ended_counts_only_where_no_other_stands(offers):
    offers.correct("quote", "quote-1", {"valid_until": "2026-03-31"}, who="Ada", reason="r")
    on_the_day = best_quote(offers, 12, source="near", day=date(2026, 3, 31))
    assert (on_the_day.code, on_the_day.lapsed) == ("quote-1", None)
    # A day later the dearer offer, 25 of quote-2 for 12, is the one that stands.
    later = best_quote(offers, 12, source="near", day=date(2026, 4, 1))
    assert (later.code, later.total, later.lapsed) == ("quote-2", euros("4297.50"), None)
    offers.correct("quote", "quote-2", {"valid_until": "2026-02-28"}, who="Ada", reason="r")
    none = best_quote(offers, 12, source="near", day=date(2026, 4, 1))
    assert (none.code, none.lapsed) == ("quote-1", date(2026, 3, 31))
