"""Whatever a field accepts is kept exactly, on both databases, and agrees with its history."""

from __future__ import annotations

import itertools

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from borewright.ledger import verify
from borewright.ledger.fields import FIRST_DAY, LAST_DAY, read_value, shown
from borewright.ledger.kinds import record_kind

NUMBERS = itertools.count()
#: What notes may hold: anything but control characters other than line and tab.
NOTES = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp"), include_characters="\n\t"),
    max_size=60,
)
FIGURES = st.floats(allow_nan=False, allow_infinity=False)
OFFSETS = st.floats(-3, 3)
DAYS = st.dates(FIRST_DAY, LAST_DAY)


@settings(
    max_examples=40,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(
    note=NOTES,
    figure=OFFSETS,
    money=st.one_of(st.just(0), st.decimals("0.0001", 10**8, places=4)),
    day=DAYS,
    yes=st.booleans(),
)
def test_kept_as_given(ledger, note, figure, money, day, yes):
    row = {"code": f"L{next(NUMBERS)}", "stuff": "pads", "note": note, "coupon_offset_mm": figure,
           "unit_price": money, "currency": "EUR", "received": day,
           "coupon_passed": yes}  # fmt: skip
    added = ledger.add("lot", row, who="Ada")
    assert ledger.get("lot", row["code"]) == added
    assert (added["coupon_offset_mm"], added["unit_price"]) == (figure, money)
    assert (added["received"], added["coupon_passed"]) == (day, yes)
    assert verify(ledger) == []


@given(figure=FIGURES, money=st.decimals(-(10**8), 10**8, places=6), day=DAYS)
def test_what_is_shown_reads_back(figure, money, day):
    kind = record_kind("lot")
    assert read_value("lot", kind.field("received"), shown(day)) == day
    assert read_value("score", record_kind("score").field("value"), shown(figure)) == figure
    if money >= 0:
        assert read_value("lot", kind.field("unit_price"), shown(money)) == money
