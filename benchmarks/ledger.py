"""The ledger with 100,000 records: lists, a correction, what serials wait for, and the backup.

Budgets: any list in under 0.3 s, a backup in under 20 s. Give a postgresql:// address to
measure a server instead of a file.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from borewright.ledger import Ledger, back_up, csv_text, restore, verify, waiting_for

INSTRUMENTS, CHECKS_EACH = 2_000, 45
RECORDS = 100_000


def timed(what: str, work: Callable[[], Any], times: int = 5) -> Any:
    """Run several times and print the median."""
    spent = []
    for _ in range(times):
        begin = time.perf_counter()
        found = work()
        spent.append(time.perf_counter() - begin)
    print(f"{what:<58} {sorted(spent)[len(spent) // 2]:8.3f} s")
    return found


def fill(book: Ledger) -> None:
    """Designs, orders, serials, and checks that make up the rest of the records."""
    sha256 = book.keep_file("design.toml", b"format = 1\n")
    parts = {"parts": "upper joint; lower joint", "sealed_parts": "upper joint; lower joint"}
    book.add(
        "design", {"code": "D", "name": "d", "file": sha256, "file_name": "f"} | parts, who="b"
    )
    orders = INSTRUMENTS // 4
    book.add_many(
        "order",
        [{"code": f"R{n}", "customer": f"c {n}", "quantity": 4, "currency": "EUR"}
         for n in range(orders)],
        who="b",
    )  # fmt: skip
    serials = [f"S{n:05d}" for n in range(INSTRUMENTS)]
    rows = [{"code": s, "design": "D", "order": f"R{n // 4}"} for n, s in enumerate(serials)]
    book.add_many("instrument", rows, who="b")
    checks = [
        {"instrument": s, "subject": "tuning", "feature": f"note {n}", "value": 1.5,
         "unit": "cents", "lowest": -15, "highest": 15, "passed": True, "temperature_c": 21.5,
         "who": "b"}
        for s in serials for n in range(CHECKS_EACH)
    ]  # fmt: skip
    book.add_many("check", checks, who="b")
    rest = RECORDS - 1 - orders - INSTRUMENTS - len(checks)
    rows = [{"sample": "M", "feature": "FC", "measure": "station", "value_mm": 1 + n / 1e4}
            for n in range(rest - 2)]  # fmt: skip
    book.add("source", {"code": "Q"}, who="b")
    book.add("sample", {"code": "M", "source": "Q"}, who="b")
    book.add_many("measurement", rows, who="b")


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        place = sys.argv[1] if len(sys.argv) > 1 else str(folder / "workshop.ledger")
        book = Ledger(place, create=True)
        timed("100,000 records added", lambda: fill(book), 1)
        timed("open the ledger", lambda: Ledger(place))
        for kind in ("order", "instrument", "check", "measurement"):
            timed(f"list {kind}, first 100", lambda kind=kind: book.records(kind, limit=100))
        timed(
            "list check, last 100 of 90,000",
            lambda: book.records("check", limit=100, offset=INSTRUMENTS * CHECKS_EACH - 100),
        )
        timed(
            "list check of one instrument", lambda: book.records("check", {"instrument": "S01000"})
        )
        timed(
            "list check, one feature over all instruments, 100",
            lambda: book.records("check", {"feature": "note 7"}, limit=100),
        )
        timed(
            "list check, a feature that never was",
            lambda: book.records("check", {"feature": "none"}),
        )
        timed("list check, all 90,000 at once", lambda: book.records("check"), 3)
        timed("what one serial waits for", lambda: waiting_for(book, ["S01000"]))
        timed("what 2,000 serials wait for", lambda: waiting_for(book), 3)
        timed("check.csv of 90,000 rows", lambda: csv_text("check", book.records("check")), 1)
        row = {"note": "seen"}
        timed(
            "one correction, on the disk",
            lambda: book.correct(
                "order", "R7", row | {"note": str(time.perf_counter())}, who="b", reason="r"
            ),
        )
        timed("verify", lambda: verify(book), 1)
        timed("backup, with verification", lambda: back_up(book, folder / "b.backup"), 1)
        size = (folder / "b.backup").stat().st_size / 1e6
        print(f"{'size of the backup':<58} {size:8.1f} MB")
        timed(
            "restore, with verification",
            lambda: restore(folder / "again.ledger", folder / "b.backup"),
            1,
        )


if __name__ == "__main__":
    main()
