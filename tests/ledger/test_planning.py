"""The batch plan: printers never overlap, people start prints, and the shortest plan is found."""

from __future__ import annotations

import itertools
from datetime import date, timedelta

import pytest

from borewright.errors import LedgerError
from borewright.ledger import Printer, PrintNeed, plan_prints

MONDAY = date(2031, 3, 3)


def hours_of(one):
    return (one.day - MONDAY).days * 24 + one.start_hour


def check_sound(plan, printers, opens, closes):
    """What must hold for any plan, whoever made it."""
    tall = {p.name: p.height_mm for p in printers}
    for one in plan.prints:
        assert opens <= one.start_hour < closes
        assert one.printer in tall
    for name in tall:
        mine = sorted((p for p in plan.prints if p.printer == name), key=hours_of)
        for before, after in itertools.pairwise(mine):
            assert hours_of(before) + before.hours <= hours_of(after) + 1e-9


def test_a_plan_whose_best_can_be_counted_by_hand():
    # Two printers, four prints of 9 h: starts between 8 and 18 o'clock, so each printer does
    # 8 to 17 and 17 to 26: all is off on Tuesday at 2 in the morning.
    printers = [Printer("north"), Printer("south")]
    plan = plan_prints([PrintNeed("bell", 4, 9.0)], printers, MONDAY)
    check_sound(plan, printers, 8, 18)
    assert plan.proved_shortest
    assert max(hours_of(p) + p.hours for p in plan.prints) == 26
    assert plan.ready == MONDAY + timedelta(days=1)


def test_longest_first_is_not_always_best_and_the_solver_knows():
    # 5 + 5 against 4 + 3 + 3 fills two printers exactly from 0 to 10 o'clock.
    needs = [PrintNeed("a", 2, 5.0), PrintNeed("b", 1, 4.0), PrintNeed("c", 2, 3.0)]
    printers = [Printer("north"), Printer("south")]
    plan = plan_prints(needs, printers, MONDAY, opens=0, closes=24)
    check_sound(plan, printers, 0, 24)
    assert max(hours_of(p) + p.hours for p in plan.prints) == 10


def test_tall_parts_go_where_they_fit_and_weekends_may_be_free():
    printers = [Printer("low", 220.0), Printer("tall", 300.0)]
    needs = [PrintNeed("lower joint", 3, 11.0, 261.0), PrintNeed("barrel", 3, 3.0, 67.0)]
    friday = date(2031, 3, 7)
    plan = plan_prints(needs, printers, friday, free_weekends=True)
    assert {p.printer for p in plan.prints if p.part == "lower joint"} == {"tall"}
    assert all(p.day.weekday() < 5 for p in plan.prints)
    assert len(plan.prints) == 6


def test_the_same_plan_every_time():
    needs = [PrintNeed("a", 5, 7.3), PrintNeed("b", 5, 2.9)]
    printers = [Printer("north"), Printer("south")]
    assert plan_prints(needs, printers, MONDAY) == plan_prints(needs, printers, MONDAY)


@pytest.mark.parametrize(
    ("needs", "hours", "words"),
    [
        ([], (8, 18), "nothing to print"),
        ([PrintNeed("a", 1, 2.0, 400.0)], (8, 18), "fits no printer"),
        ([PrintNeed("a", 1, 0.0)], (8, 18), "takes no time"),
        ([PrintNeed("a", 401, 1.0)], (8, 18), "more than the 400"),
        ([PrintNeed("a", 1, 1.0)], (18, 8), "no working day"),
    ],
)
def test_what_cannot_be_planned_is_said(needs, hours, words):
    with pytest.raises(LedgerError, match=words):
        plan_prints(needs, [Printer("north", 300.0)], MONDAY, opens=hours[0], closes=hours[1])
