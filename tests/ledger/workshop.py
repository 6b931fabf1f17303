"""A small invented workshop for tests: one design, one order, one instrument with its checks."""

from __future__ import annotations

from borewright.ledger import Ledger, record_check

DESIGN = {"code": "D", "name": "Fuß & Söhne no. 3", "file_name": "f",
          "parts": "upper or lower; bell", "sealed_parts": "upper or lower"}  # fmt: skip


def fill(ledger: Ledger, **order) -> Ledger:
    """A design, an order and the instrument 007, nothing of it made yet."""
    sha256 = ledger.keep_file("d.toml", b"x")
    ledger.add("design", DESIGN | {"file": sha256}, who="Ada")
    row = {"code": "R", "customer": "Fuß & Söhne", "quantity": 1, "currency": "EUR"}
    ledger.add("order", row | order, who="Ada")
    ledger.add("batch", {"code": "B", "design": "D", "quantity": 4}, who="Ada")
    ledger.add("instrument", {"code": "007", "design": "D", "order": "R", "batch": "B"}, who="Ada")
    return ledger


def check(ledger: Ledger, subject: str, **more):
    """Record a check of the instrument."""
    return record_check(ledger, {"instrument": "007", "subject": subject, **more}, who="Ada")


def make(ledger: Ledger) -> None:
    """Print, assemble and check the instrument, all well."""
    for name in ("upper or lower", "bell"):
        row = {"code": name, "name": name, "design": "D", "instrument": "007", "outcome": "good"}
        ledger.add("part", row, who="Ada")
    ledger.add("lot", {"code": "K", "stuff": "keywork"}, who="Ada")
    ledger.add("assembly", {"instrument": "007", "keywork_lot": "K", "who": "Ben"}, who="Ben")
    check(ledger, "bore", feature="bell", value=0.01)
    check(ledger, "leak", feature="upper or lower", value=20)
    for subject in ("cork fit", "springs", "lifts"):
        check(ledger, subject, passed=True)
    check(ledger, "tuning", feature="G4", value=-3.5, temperature_c=21.5)
