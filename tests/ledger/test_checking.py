"""What each serial waits for, checks judged by their limits, and the sign-off."""

from __future__ import annotations

import pytest

from borewright.errors import LedgerError
from borewright.ledger import correct_record, record_check, sign_off
from borewright.ledger import waiting_for as waits_of


def waiting_for(bench, serials=None):
    """What is waited for, in the words that a person reads."""
    found = waits_of(bench, serials)
    return {serial: [str(wait) for wait in waits] for serial, waits in found.items()}


@pytest.fixture
def bench(ledger):
    sha256 = ledger.keep_file("d.toml", b"x")
    design = {"code": "D", "name": "n", "file": sha256, "file_name": "f",
              "parts": "upper; lower", "sealed_parts": "lower"}  # fmt: skip
    ledger.add("design", design, who="Ada")
    ledger.add("order", {"code": "R", "customer": "c", "quantity": 1, "currency": "EUR"}, who="A")
    ledger.add("instrument", {"code": "007", "design": "D", "order": "R"}, who="Ada")
    return ledger


def part(bench, code, name, outcome="good", **more):
    row = {"code": code, "name": name, "design": "D", "instrument": "007", "outcome": outcome}
    return bench.add("part", row | more, who="Ada")


def check(bench, subject, **more):
    return record_check(bench, {"instrument": "007", "subject": subject, **more}, who="Ada")


def finish(bench):
    part(bench, "U", "upper")
    part(bench, "L", "lower")
    bench.add("lot", {"code": "K", "stuff": "keywork"}, who="Ada")
    bench.add("assembly", {"instrument": "007", "keywork_lot": "K", "who": "Ben"}, who="Ben")
    check(bench, "bore", value=0.01)
    check(bench, "leak", feature="lower", value=20)
    for subject in ("cork fit", "springs", "lifts"):
        check(bench, subject, passed=True)
    check(bench, "tuning", feature="G4", value=-3.5, temperature_c=21)


def test_the_way_of_a_serial_number(bench):
    first = waiting_for(bench)["007"]
    assert first[:3] == [
        "printed upper of D", "printed lower of D", "assembly of keywork, pads, springs and corks"
    ]  # fmt: skip
    assert first[-2:] == ["sign-off", "delivery of order R"]
    part(bench, "U0", "upper", outcome="rejected")
    assert waiting_for(bench)["007"] == first
    finish(bench)
    assert waiting_for(bench, ["007"]) == {"007": ["sign-off", "delivery of order R"]}
    sign_off(bench, "007", who="Ada")
    assert waiting_for(bench)["007"] == ["delivery of order R"]
    bench.correct("order", "R", {"delivered": "2031-04-01"}, who="Ada", reason="handed over")
    assert waiting_for(bench)["007"] == []


def test_a_part_of_another_revision_does_not_count(bench):
    sha256 = bench.keep_file("e.toml", b"y")
    other = {"code": "E", "name": "n", "file": sha256, "file_name": "f", "parts": "upper"}
    bench.add("design", other, who="Ada")
    part(bench, "U", "upper", design="E")
    assert waiting_for(bench)["007"][0] == "printed upper of D"


def test_nothing_is_signed_off_too_early_or_twice(bench):
    with pytest.raises(LedgerError, match="it waits for printed upper of D; printed lower"):
        sign_off(bench, "007", who="Ada")
    assert bench.count("check") == 0
    finish(bench)
    sign_off(bench, "007", who="Ada")
    with pytest.raises(LedgerError, match="signed off already"):
        sign_off(bench, "007", who="Ada")


def test_a_failure_after_the_sign_off_asks_for_repair_and_a_new_one(bench):
    finish(bench)
    sign_off(bench, "007", who="Ada")
    check(bench, "leak", feature="lower", value=3)
    assert waiting_for(bench)["007"][:2] == ["repair and check again: leak, lower", "sign-off"]
    check(bench, "leak", feature="lower", value=25)
    assert waiting_for(bench)["007"][0] == "sign-off"
    sign_off(bench, "007", who="Ben")
    assert waiting_for(bench)["007"] == ["delivery of order R"]


@pytest.mark.parametrize(
    ("subject", "values", "passed"),
    [
        ("bore", {"value": 0.05}, True),
        ("bore", {"value": "-0,051"}, False),
        ("leak", {"value": 9.9}, False),
        ("leak", {"value": 9.9, "lowest": 5}, True),
        ("springs", {"value": 30, "lowest": 25, "highest": 40}, True),
        ("springs", {"value": 41, "highest": 40}, False),
        ("lifts", {"passed": "no"}, False),
    ],
)
def test_a_check_is_judged_by_its_limits(bench, subject, values, passed):
    assert check(bench, subject, **values)["passed"] is passed


def test_a_check_that_says_nothing_or_contradicts_itself_is_refused(bench):
    with pytest.raises(LedgerError, match="does not say whether it passed"):
        check(bench, "springs", value=30)
    with pytest.raises(LedgerError, match="says passed=yes, but 3 lies outside"):
        check(bench, "leak", value=3, passed="yes")
    with pytest.raises(LedgerError, match="is signed off, not checked off"):
        check(bench, "sign-off", passed="yes")
    assert bench.count("check") == 0


def test_a_corrected_reading_is_judged_anew(bench):
    code = check(bench, "leak", feature="lower", value=3.1)["code"]
    assert not bench.get("check", code)["passed"]
    corrected = correct_record(
        bench, "check", code, {"value": "31"}, who="Ada", reason="a slip of the pen"
    )
    assert (corrected["passed"], corrected["lowest"], corrected["version"]) == (True, 10.0, 2)
    with pytest.raises(LedgerError, match="outside its limits"):
        correct_record(
            bench, "check", code, {"value": "3", "passed": "yes"}, who="Ada", reason="no"
        )
    looked = check(bench, "springs", passed=True)["code"]
    said = correct_record(bench, "check", looked, {"note": "F key"}, who="Ada", reason="more")
    assert said["passed"]
    said = correct_record(bench, "check", looked, {"passed": "no"}, who="Ada", reason="weak")
    assert not said["passed"]
    with pytest.raises(LedgerError, match="no sign-off"):
        correct_record(bench, "check", looked, {"subject": "sign-off"}, who="Ada", reason="early")
    with pytest.raises(LedgerError, match="changed by another bench since version 1"):
        correct_record(bench, "check", code, {"value": "30"}, who="Ben", reason="late", version=1)


def test_taking_out_of_use_needs_the_version_looked_at(bench):
    bench.correct("order", "R", {"quantity": 2}, who="Ada", reason="one more")
    with pytest.raises(LedgerError, match="is now at version 2"):
        bench.withdraw("order", "R", who="Ben", reason="twice", version=1)
    assert bench.withdraw("order", "R", who="Ben", reason="twice", version=2)["withdrawn"]
