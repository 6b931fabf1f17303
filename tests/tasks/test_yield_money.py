"""What a batch's yield says in money, by hand; and the tables of offers that are refused."""

from __future__ import annotations

from decimal import Decimal

import pytest

from borewright.errors import ModelError
from borewright.ledger import Money
from borewright.model.results.yields import Share, WayYield, WhatIf
from borewright.tasks.studies.money import Prices, way_cost
from borewright.tasks.studies.offers import Offer, read_offers


def euros(amount: str) -> Money:
    return Money(Decimal(amount), "EUR")


PRICES = Prices(hour=euros("30"), anew=euros("200"), machine=euros("10"), batch="B")


def made(notes_off: float, beyond: float) -> WayYield:
    share = Share(count=1, of=2, low=0.1, high=0.9)
    what_if = WhatIf(share=share, gained=0.0, sure=0.0)
    return WayYield(name="x", what=[], what_if=what_if, notes_off=notes_off, beyond=beyond)


def test_a_way_that_pays_from_the_fifth_instrument_on():
    """Now: 2 notes of 20 minutes at 30 an hour, 20; one in ten anew, 20; 40 for each.

    By the way: 0.5 notes, 5; none anew. It saves 35 for each less 12 of its own, 23, and costs
    100 once: 100 / 23 is 4.3 instruments.
    """
    offer = Offer("jig", {}, once=Decimal(100), each=Decimal("2"), print_time=Decimal(2))
    cost = way_cost(PRICES, 12, Decimal(20), made(0.5, 0.0), made(2.0, 0.1), [offer])
    assert cost.putting_right.plain == "60.00"
    assert cost.way.plain == "244.00"
    assert cost.saved.plain == "176.00"
    assert cost.pays_from == 5


def test_hours_of_a_way_count_and_what_never_pays_says_so():
    offer = Offer("polish", {}, hours=Decimal(1))
    cost = way_cost(PRICES, 4, Decimal(20), made(1.5, 0.0), made(2.0, 0.0), [offer])
    assert cost.way.plain == "120.00"
    assert cost.saved.plain == "-100.00"
    assert cost.pays_from is None


def test_a_table_of_offers(tmp_path):
    path = tmp_path / "offers.csv"
    path.write_text(
        "name;measure;common_mm;each_mm;price_once;price_each;hours_each\n"
        "reamer;bore diameter;0;0,01;140;;0,3\n"
        "jig;chimney;0,01;0,02;30;;\n"
        "jig;station;;0,02;;;\n",
        encoding="utf-8",
    )
    reamer, jig = read_offers(path)
    assert (reamer.name, reamer.once, reamer.hours) == ("reamer", Decimal(140), Decimal("0.3"))
    assert reamer.scatter["bore_diameter"].each == 0.01
    assert set(jig.scatter) == {"chimney", "station"}


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (",bore diameter,0.01", "no name"),
        ("a,colour,0.01", "no measure 'colour'"),
        ("a,station,-0.01", "below nothing"),
        ("a,station,wide", "not a number"),
    ],
)
def test_wrong_offers_are_refused_with_their_line(tmp_path, row, words):
    path = tmp_path / "offers.csv"
    path.write_text(f"name,measure,each_mm\nok,chimney,0.1\n{row}\n", encoding="utf-8")
    with pytest.raises(ModelError, match=words) as refusal:
        read_offers(path)
    assert "line 3" in str(refusal.value)
