"""What a batch costs, to the coin, every figure worked by hand beside it.

The workshop and its prices are invented. Definitions as in C. T. Horngren, S. M. Datar and
M. V. Rajan, Cost Accounting (14th edition, 2012), chapters 2 and 3: rejects raise what a good
piece costs, set-up is a batch-level cost shared by the units of the batch.

Prints on record (design D, one part, printer of 200 W; one job in five rejected):
    J1 good 2.0 h 100 g, J2 good 4.0 h 140 g, J3 good 3.0 h 120 g, J4 good 3.0 h 120 g, J5 rejected
    means of the good ones: 3.0 h, 120 g, 0.6 kWh; reject rate 1/5, so 1/(1 - 0.2) = 1.25 pieces
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from borewright.errors import LedgerError
from borewright.ledger import Money, batch_cost, price_order, quotation_facts

D = Decimal


def euros(amount: str) -> Money:
    return Money(D(amount), "EUR")


@pytest.fixture
def priced(ledger):
    """The workshop, with a price list in EUR."""
    return filled(ledger, "EUR")


def filled(ledger, currency: str):
    def add(kind, *rows):
        ledger.add_many(kind, list(rows), who="Ada")

    sha256 = ledger.keep_file("d.toml", b"x")
    add("setting", {"code": "currency", "value": currency})
    add("design", {"code": "D", "name": "n", "file": sha256, "file_name": "f", "parts": "barrel"})
    add("lot", {"code": "L", "stuff": "filament"})
    add("printer", {"code": "P", "power_w": 200})
    jobs = ((2.0, 100, "good"), (4.0, 140, "good"), (3.0, 120, "good"), (3.0, 120, "good"),
            (1.0, 50, "rejected"))  # fmt: skip
    add("print_job", *(
        {"printer": "P", "lot": "L", "design": "D", "part": "barrel", "hours": hours,
         "mass_g": mass, "outcome": outcome}
        for hours, mass, outcome in jobs
    ))  # fmt: skip
    add("batch", {"code": "B", "design": "D", "quantity": 8, "plating": "silver"})
    add("order", {"code": "R", "customer": "Fuß & Söhne", "quantity": 3, "currency": currency,
                  "shipping_price": "10.00"})  # fmt: skip
    add("instrument", {"code": "1", "design": "D", "batch": "B", "order": "R"},
        {"code": "2", "design": "D", "batch": "B", "order": "R"})  # fmt: skip
    add("source", {"code": "near"})
    add("quote", {"source": "near", "plating": "silver", "unit_price": "90.00",
                  "currency": currency, "minimum_order": 10, "tooling_price": "40.00"},
        {"source": "near", "plating": "nickel", "unit_price": "70.00",
         "currency": currency, "minimum_order": 1})  # fmt: skip
    add("expense", *(
        {"code": code, "per": per, "price": price, "currency": currency, "plating": plating}
        for code, per, price, plating in (
            ("filament", "kg", "25.00", None),
            ("wear", "printer hour", "0.80", None),
            ("current", "kWh", "0.30", None),
            ("wages", "labour hour", "20.00", None),
            ("case", "instrument", "30.00", None),
            ("polish for silver", "instrument", "4.00", "silver"),
            ("mask for nickel", "instrument", "9.00", "nickel"),
            ("set-up", "batch", "60.00", None),
        )
    ))  # fmt: skip
    add("expense", {"code": "payment", "per": "percent of price", "price": "2"},
        {"code": "value added tax", "per": "tax", "price": "19"})  # fmt: skip
    # Fitting took 3.0 + 1.0 h on one and 2.0 h on the other: mean 3.0 h. Set-up took 1.5 h in all.
    add("labour", {"step": "fitting", "hours": 3.0, "instrument": "1"},
        {"step": "fitting", "hours": 1.0, "instrument": "1"},
        {"step": "fitting", "hours": 2.0, "instrument": "2"},
        {"step": "setting up", "hours": 1.5, "batch": "B"})  # fmt: skip
    return ledger


def amounts(lines):
    return {str(line.name): line.amount.amount for line in lines}


def test_every_line_of_the_sheet(priced):
    sheet = batch_cost(priced, "B").sheet
    assert amounts(sheet.each) == {
        "filament": D("3.75"),  # 0.120 kg x 25.00 x 1.25: material of rejects is paid for
        "wear": D("3.00"),  # 3.0 h x 0.80 x 1.25
        "current": D("0.225"),  # 0.6 kWh x 0.30 x 1.25
        "fitting": D("60.00"),  # 3.0 h x 20.00, no rejects: only good parts are fitted
        "case": D("30.00"),
        "polish for silver": D("4.00"),  # the nickel's mask is not in it
        "keywork, silver, near": D("90.00"),
    }
    assert amounts(sheet.batch) == {
        "setting up": D("30.00"),  # 1.5 h x 20.00, once
        "set-up": D("60.00"),
        "keywork tooling": D("40.00"),
        "keywork beyond the need": D("180.00"),  # the quote sells no fewer than 10: 2 x 90.00
    }


def test_set_up_is_split_over_the_batch(priced):
    sheet = batch_cost(priced, "B").sheet
    # For each: 3.75 + 3.00 + 0.225 + 60 + 30 + 4 + 90 = 190.975
    assert sheet.variable_cost == euros("190.975")
    # For the batch: 30 + 60 + 40 + 180 = 310; shared by 8: 38.75; together 229.725
    assert sheet.fixed_cost == euros("310")
    assert sheet.unit_cost == euros("229.725")
    assert sheet.total_cost == euros("1837.80")
    # Twelve: nothing is left over, so 130 by 12 = 10.8333...; 190.975 + 10.8333 = 201.81 rounded
    twelve = batch_cost(priced, "B", quantity=12).sheet
    assert twelve.fixed_cost == euros("130")
    assert twelve.unit_cost.rounded == euros("201.81")


def test_another_plating_has_its_own_expenses(priced):
    found = batch_cost(priced, "B", plating="nickel")
    # 190.975 - 90 + 70 (keywork) - 4 (polish) + 9 (mask) = 175.975; fixed 30 + 60 = 90 by 8 = 11.25
    assert found.plating == "nickel"
    assert found.sheet.variable_cost == euros("175.975")
    assert found.sheet.unit_cost == euros("187.225")


def test_a_batch_without_a_plating_has_the_expenses_of_the_keywork_it_gets(priced):
    priced.correct("batch", "B", {"plating": None}, who="Ada", reason="open")
    found = batch_cost(priced, "B")
    # The cheaper quote is nickel: 8 x 70 = 560 against 10 x 90 + 40 = 940.
    assert found.plating == "nickel"
    assert found.sheet.variable_cost == euros("175.975")


def test_the_price_is_rounded_up_once_and_goes_to_the_order(priced):
    sheet = batch_cost(priced, "B").sheet
    # 229.725 / (1 - 0.25 - 0.02) = 314.69178..., upwards to the next coin
    assert sheet.price_for_margin(D(25)) == euros("314.70")
    # with 19 % tax: 374.493, to the nearest coin
    assert sheet.with_tax(euros("314.70")) == euros("374.49")
    # each leaves 314.70 x 0.98 - 190.975 = 117.431; eight of them 939.448, less 310: 629.448
    assert sheet.profit(euros("314.70")) == euros("629.448")
    # 310 / 117.431 = 2.64: three instruments earn the fixed costs
    assert sheet.break_even(euros("314.70")) == 3
    order = price_order(priced, "R", margin_percent=D(25), who="Ada")
    assert (order.unit_price, order.tax_percent) == (D("314.70"), D(19))
    facts = quotation_facts(priced, "R")
    # 3 x 314.70 = 944.10; with 10.00 shipping 954.10; tax 181.279 is 181.28; in all 1135.38
    assert (facts.goods, facts.before_tax) == (euros("944.10"), euros("954.10"))
    assert (facts.tax, facts.total) == (euros("181.28"), euros("1135.38"))


def test_a_currency_without_small_coins_is_rounded_to_whole_ones(ledger):
    sheet = batch_cost(filled(ledger, "JPY"), "B").sheet
    # The same figures: 229.725 is 230, and 314.69... upwards 315; with tax 374.85 is 375.
    assert sheet.unit_cost.plain == "230"
    assert sheet.price_for_margin(D(25)) == Money(D(315), "JPY")
    assert sheet.with_tax(Money(D(315), "JPY")) == Money(D(375), "JPY")
    # To three decimals in Tunisia: 314.6917808... upwards is 314.692.
    assert (sheet.unit_cost / D("0.73")).rounded_up.plain == "315"
    assert Money(sheet.unit_cost.amount / D("0.73"), "TND").rounded_up.plain == "314.692"


def test_a_printer_sold_since_still_counts_its_current(priced):
    priced.withdraw("printer", "P", who="Ada", reason="sold")
    assert amounts(batch_cost(priced, "B").sheet.each)["current"] == D("0.225")


def test_an_order_is_not_priced_over_an_agreement_or_into_another_currency(priced):
    priced.correct("order", "R", {"accepted": "2031-02-10"}, who="Ada", reason="came in")
    with pytest.raises(LedgerError, match="was accepted on 2031-02-10, so its price stands"):
        price_order(priced, "R", margin_percent=D(25), who="Ada")
    row = {"code": "S", "customer": "c", "quantity": 1, "currency": "USD"}
    priced.add("order", row, who="Ada")
    with pytest.raises(LedgerError, match="is made in no batch yet"):
        price_order(priced, "S", margin_percent=D(25), who="Ada")
    with pytest.raises(LedgerError, match="is in USD, the ledger counts in EUR"):
        price_order(priced, "S", margin_percent=D(25), who="Ada", batch="B")
    with pytest.raises(LedgerError, match="has no price yet"):
        quotation_facts(priced, "S")
