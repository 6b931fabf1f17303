"""A certificate rests on the readings that count: refused, and void, once one of them fails."""

from __future__ import annotations

import pytest
from workshop import check, fill, make

from borewright.errors import LedgerError
from borewright.ledger import (
    VoidKind,
    WaitKind,
    correct_record,
    issue_certificate,
    proof_of,
    sign_off,
    waiting_for,
)
from borewright.words import Reader


@pytest.fixture
def bench(ledger):
    return fill(ledger)


@pytest.fixture
def signed(bench):
    make(bench)
    sign_off(bench, "007", who="Ada")
    return bench


def void_of(bench, number: int = -1):
    return proof_of(bench, "007").issued[number].void


def test_no_certificate_before_the_sign_off(bench):
    with pytest.raises(LedgerError, match="is not signed off, so nothing can be certified"):
        issue_certificate(bench, "007", who="Ada")
    assert bench.count("certificate") == 0


def test_a_certificate_is_issued_once_while_it_holds(signed):
    facts, issued = issue_certificate(signed, "007", who="Ada")
    assert (issued.code, issued.sign_off, issued.who) == ("certificate-1", facts.signed.code, "Ada")
    assert [(c.feature, c.value) for c in facts.tuning] == [("G4", -3.5)]
    assert facts.temperature_c == 21.5
    assert issue_certificate(signed, "007", who="Ben")[1] == issued
    assert signed.count("certificate") == 1
    assert void_of(signed) is None


def test_a_later_failure_refuses_a_certificate_and_voids_the_one_issued(signed):
    issue_certificate(signed, "007", who="Ada")
    failed = check(signed, "leak", feature="upper or lower", value=3)
    words = "not signed off any more.*of leak, upper or lower failed afterwards"
    with pytest.raises(LedgerError, match=words):
        issue_certificate(signed, "007", who="Ada")
    void = void_of(signed)
    assert (void.kind, void.failed.code) == (VoidKind.FAILED_SINCE, failed["code"])
    german = Reader("de").tell(void.words)
    assert "upper or lower" in german
    assert german != str(void.words)
    # The repair alone does not bring it back: somebody has to sign off anew.
    check(signed, "leak", feature="upper or lower", value=25)
    with pytest.raises(LedgerError, match="not signed off any more"):
        issue_certificate(signed, "007", who="Ada")
    sign_off(signed, "007", who="Ben")
    assert issue_certificate(signed, "007", who="Ben")[1].code == "certificate-2"
    assert void_of(signed, 0).kind is VoidKind.FAILED_SINCE
    assert void_of(signed, 1) is None


def test_a_reading_corrected_into_a_failure_voids_too_also_once_repaired(signed):
    issue_certificate(signed, "007", who="Ada")
    (leak,) = signed.records("check", {"subject": "leak"})
    correct_record(signed, "check", leak["code"], {"value": 4}, who="Ada", reason="misread")
    assert void_of(signed).kind is VoidKind.FAILED_SINCE
    check(signed, "leak", feature="upper or lower", value=25)
    kinds = [wait.kind for wait in waiting_for(signed)["007"]]
    assert kinds == [WaitKind.SIGN_OFF, WaitKind.DELIVERY]
    assert void_of(signed).kind is VoidKind.FAILED_SINCE


def test_a_failure_repaired_before_the_sign_off_voids_nothing(bench):
    make(bench)
    failed = check(bench, "springs", passed=False)
    check(bench, "springs", passed=True)
    sign_off(bench, "007", who="Ada")
    issue_certificate(bench, "007", who="Ada")
    # A note on the old failure changes nothing of what counts.
    correct_record(bench, "check", failed["code"], {"note": "F key"}, who="Ada", reason="more")
    assert void_of(bench) is None


def test_a_failure_taken_out_of_use_voids_nothing(signed):
    issue_certificate(signed, "007", who="Ada")
    failed = check(signed, "lifts", passed=False)
    assert void_of(signed).kind is VoidKind.FAILED_SINCE
    signed.withdraw("check", failed["code"], who="Ada", reason="of another instrument")
    assert void_of(signed) is None


def test_what_else_voids_a_certificate(signed):
    issue_certificate(signed, "007", who="Ada")
    (tuning,) = signed.records("check", {"subject": "tuning"})
    correct_record(signed, "check", tuning["code"], {"value": -2.5}, who="Ada", reason="misread")
    assert void_of(signed).kind is VoidKind.CHANGED
    assert issue_certificate(signed, "007", who="Ada")[1].code == "certificate-2"
    signed.correct("part", "bell", {"outcome": "rejected"}, who="Ada", reason="cracked")
    void = void_of(signed)
    assert void.kind is VoidKind.WAITS
    assert str(void.words) == "the instrument waits for printed bell of D"
    with pytest.raises(LedgerError, match="it waits for printed bell of D"):
        issue_certificate(signed, "007", who="Ada")
    signed.correct("part", "bell", {"outcome": "good"}, who="Ada", reason="it was not")
    assert void_of(signed) is None
    signed.withdraw("certificate", "certificate-2", who="Ada", reason="wrong name on it")
    assert void_of(signed).kind is VoidKind.TAKEN_BACK


def test_a_sign_off_taken_back_voids_its_certificate(signed):
    _, issued = issue_certificate(signed, "007", who="Ada")
    signed.withdraw("check", issued.sign_off, who="Ada", reason="signed by mistake")
    assert void_of(signed).kind is VoidKind.TAKEN_BACK
    with pytest.raises(LedgerError, match="is not signed off"):
        issue_certificate(signed, "007", who="Ada")


def exchanged(bench) -> None:
    """The bell cracks after the sign-off, and another takes its place."""
    bench.correct("part", "bell", {"outcome": "rejected"}, who="Ada", reason="cracked")
    row = {"code": "bell-2", "name": "bell", "design": "D", "outcome": "good"}
    bench.add("part", row | {"instrument": "007"}, who="Ada")


def test_a_part_exchanged_after_the_sign_off_needs_another(signed):
    _, issued = issue_certificate(signed, "007", who="Ada")
    exchanged(signed)
    with pytest.raises(LedgerError, match=r"not signed off any more.*bell 'bell' was taken out"):
        issue_certificate(signed, "007", who="Ada")
    void = void_of(signed)
    assert (void.kind, void.left.code) == (VoidKind.EXCHANGED, "bell")
    assert Reader("de").tell(void.words) != str(void.words)
    assert not proof_of(signed, "007").signed_off
    kinds = [wait.kind for wait in waiting_for(signed)["007"]]
    assert kinds == [WaitKind.SIGN_OFF, WaitKind.DELIVERY]
    sign_off(signed, "007", who="Ben")
    assert issue_certificate(signed, "007", who="Ben")[1].code != issued.code
    assert void_of(signed, 0).kind is VoidKind.EXCHANGED
    assert void_of(signed) is None


def test_a_part_put_into_another_instrument_undoes_the_sign_off_of_the_first(signed):
    other = {"code": "008", "design": "D", "batch": "B"}
    signed.add("instrument", other, who="Ada")
    signed.correct("part", "bell", {"instrument": "008"}, who="Ada", reason="wanted there")
    row = {"code": "bell-2", "name": "bell", "design": "D", "outcome": "good"}
    signed.add("part", row, who="Ada")
    signed.correct("part", "bell-2", {"instrument": "007"}, who="Ada", reason="in its place")
    assert WaitKind.SIGN_OFF in [wait.kind for wait in waiting_for(signed, ["007"])["007"]]


def test_a_part_exchanged_before_the_sign_off_undoes_nothing(bench):
    make(bench)
    exchanged(bench)
    sign_off(bench, "007", who="Ada")
    issue_certificate(bench, "007", who="Ada")
    assert void_of(bench) is None
