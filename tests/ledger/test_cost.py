"""Unit cost and break-even against worked textbook examples, to the cent.

C. T. Horngren, S. M. Datar and M. V. Rajan, Cost Accounting: A Managerial Emphasis, 14th
edition (2012), figures from memory: chapter 2, unit costs of speaker systems; chapter 3,
cost-volume-profit of a software seller at a fair. OpenStax, Principles of Accounting, Volume
2: Managerial Accounting (2019), section 3.2, figures from memory: a birdbath's break-even.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from babel.numbers import get_currency_precision
from hypothesis import given
from hypothesis import strategies as st

from borewright.errors import LedgerError
from borewright.ledger import CostLine, CostSheet, Money, reject_rate
from borewright.ledger.money import decimals_of
from borewright.words import Reader

D = Decimal


def dollars(amount: str | int) -> Money:
    return Money(D(amount), "USD")


def sheet(each: str, batch: str, quantity: int, **more) -> CostSheet:
    return CostSheet(
        currency="USD",
        quantity=quantity,
        each=(CostLine("each", D(1), "unit", dollars(each)),),
        batch=(CostLine("fixed", D(1), "period", dollars(batch)),),
        **more,
    )


def test_unit_cost_of_horngrens_speaker_systems():
    # 500,000 units at 60 each and 10,000,000 fixed are 40,000,000 in all: 80.00 a unit.
    speakers = sheet("60", "10000000", 500_000)
    assert speakers.total_cost.rounded == dollars("40000000.00")
    assert speakers.unit_cost.rounded == dollars("80.00")
    # At 200,000 units the unit cost is 110.00, not 80.00: fixed cost is shared by fewer.
    assert replace(speakers, quantity=200_000).unit_cost.rounded == dollars("110.00")
    assert replace(speakers, quantity=200_000).total_cost.rounded == dollars("22000000.00")


def test_break_even_of_horngrens_software_seller():
    # Price 200, variable cost 120, fixed cost 2,000: 25 packages; 1,200 more take 40.
    seller = sheet("120", "2000", 1)
    assert seller.contribution(dollars(200)).rounded == dollars("80.00")
    assert seller.break_even(dollars(200)) == 25
    assert replace(seller, quantity=25).profit(dollars(200)) == dollars(0)
    assert seller.break_even(dollars(200), profit=dollars(1200)) == 40
    assert replace(seller, quantity=40).profit(dollars(200)).rounded == dollars("1200.00")


def test_break_even_of_openstaxs_birdbath():
    # Price 100, variable cost 20, fixed cost 18,000: 225 birdbaths.
    birdbath = sheet("20", "18000", 225)
    assert birdbath.break_even(dollars(100)) == 225
    assert birdbath.unit_cost.rounded == dollars("100.00")
    assert birdbath.break_even(dollars(100), profit=dollars(16000)) == 425


def test_a_price_leaves_the_margin_after_the_payment_fee():
    one = sheet("300", "1200", 12, percent_of_price=D("1.4"), tax_percent=D(19))
    price = one.price_for_margin(D(25))
    # 400 / (1 - 0.25 - 0.014) = 543.478…, rounded up so that the margin is not missed.
    assert price == dollars("543.48")
    assert one.with_tax(price) == dollars("646.74")
    assert one.profit(price).amount / (price.amount * 12) >= D("0.25")
    less = price - dollars("0.01")
    assert one.profit(less).amount / (less.amount * 12) < D("0.25")
    with pytest.raises(LedgerError, match="cannot be had"):
        one.price_for_margin(D("98.6"))


def test_no_quantity_helps_where_every_sale_loses():
    assert sheet("120", "2000", 1).break_even(dollars(119)) is None
    assert sheet("120", "0", 1).break_even(dollars(119)) == 0


def test_rejects_raise_what_a_good_piece_costs():
    line = CostLine("filament", D("0.4"), "kg", dollars(24), reject_rate=D("0.2"))
    assert line.amount == dollars(12)
    with pytest.raises(LedgerError, match="leaves nothing good"):
        _ = CostLine("x", D(1), "kg", dollars(1), reject_rate=D(1)).amount


def test_reject_rate_with_its_interval():
    rate = reject_rate(3, 51)
    # Wilson's interval for 3 of 51, computed by R. G. Newcombe's formula by hand.
    assert float(rate.rate) == pytest.approx(3 / 51)
    assert rate.lowest == pytest.approx(0.02023, abs=2e-4)
    assert rate.highest == pytest.approx(0.15922, abs=2e-4)
    assert reject_rate(0, 0).rate == 0
    with pytest.raises(LedgerError, match="all 4 finished jobs"):
        reject_rate(4, 4)


@given(
    each=st.decimals("0.01", "5000", places=2),
    batch=st.decimals("0", "50000", places=2),
    price=st.decimals("0.01", "9000", places=2),
)
def test_break_even_is_the_first_quantity_without_loss(each, batch, price):
    costs = sheet(str(each), str(batch), 1)
    even = costs.break_even(Money(price, "USD"))
    if even is None:
        assert price <= each
        return
    contribution = costs.contribution(Money(price, "USD")).amount
    assert contribution * even >= batch
    assert even == 0 or contribution * (even - 1) < batch


def test_other_sizes_of_batch():
    costs = sheet("300", "1200", 12)
    sizes = [replace(costs, quantity=quantity) for quantity in (6, 24)]
    assert [size.unit_cost for size in sizes] == [dollars(500), dollars(350)]
    assert [size.profit(dollars(500)) for size in sizes] == [dollars(0), dollars(3600)]


def test_rounding_is_commercial_and_by_currency():
    assert Money(D("2.345"), "EUR").rounded == Money(D("2.35"), "EUR")
    assert Money(D("-2.345"), "EUR").rounded == Money(D("-2.35"), "EUR")
    assert Money(D("2.5"), "JPY").rounded == Money(D("3"), "JPY")
    assert Money(D("2.3455"), "TND").plain == "2.346"
    assert Money(D("2.341"), "EUR").rounded_up == Money(D("2.35"), "EUR")
    assert str(Money(D("1234.5"), "EUR")) == "1,234.50 EUR"
    assert Reader("de").tell(Money(D("1234.5"), "EUR").words) == "1.234,50 EUR"
    assert Reader("de").tell(Money(D("1234.5"), "JPY").words) == "1.235 JPY"
    with pytest.raises(LedgerError, match="not a currency"):
        decimals_of("euro")
    with pytest.raises(LedgerError, match=r"1.00 EUR and 1.00 USD cannot be added up"):
        _ = Money(D(1), "EUR") + dollars(1)


@pytest.mark.parametrize(
    "currency", ["EUR", "USD", "CHF", "GBP", "JPY", "KRW", "BHD", "TND", "ISK"]
)
def test_smallest_coins_are_those_of_unicodes_tables(currency):
    # CLDR's currency data as Babel carries them, an independent list of ISO 4217's minor units.
    assert decimals_of(currency) == get_currency_precision(currency)
