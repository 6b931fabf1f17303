"""One file holds the whole ledger; what is not whole, or not known, never comes back halfway."""

from __future__ import annotations

import pytest
from changed_backup import rewritten
from sqlalchemy import select

from borewright.errors import LedgerError
from borewright.ledger import Ledger, back_up, restore, verify
from borewright.ledger.schema import metadata


@pytest.fixture
def filled(ledger):
    sha256 = ledger.keep_file("plan.toml", b"format = 1\n" * 50)
    design = {"code": "D1", "name": "n", "file": sha256, "file_name": "f", "parts": "barrel"}
    ledger.add("design", design, who="Ada")
    ledger.add("source", {"code": "A 🎷", "contact": "x", "note": "two\nlines"}, who="Ada")
    ledger.add_many("source", [{"code": f"S{n}"} for n in range(40)], who="Ada")
    ledger.correct("source", "S3", {"contact": "y"}, who="Ben", reason="moved")
    ledger.withdraw("source", "S4", who="Ben", reason="twice")
    quote = {"source": "S1", "plating": "silver", "unit_price": "12.3400", "currency": "EUR",
             "minimum_order": 5, "valid_until": "2031-04-09"}  # fmt: skip
    ledger.add("quote", quote, who="Ada")
    trial = {"sample": "T", "test": "bend", "force_n": 0.1, "passed": True}
    ledger.add("sample", {"code": "T", "source": "S1"}, who="Ada")
    ledger.add("trial", trial, who="Ada")
    return ledger


def content(ledger):
    """Every row of every table."""
    with ledger.reading() as connection:
        return {
            table.name: [
                tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key))
            ]
            for table in metadata.sorted_tables
        }


def test_everything_comes_back(filled, new_place, tmp_path):
    summary = back_up(filled, tmp_path / "safe.backup")
    assert summary.rows["source"] == 41
    assert summary.files == 1
    target = new_place(empty=True)
    assert restore(target, tmp_path / "safe.backup") == summary
    again = Ledger(target)
    assert content(again) == content(filled)
    assert verify(again) == []
    # The numbers go on where they stood.
    quote = {"source": "S1", "plating": "gold", "unit_price": "1", "currency": "EUR",
             "minimum_order": 1}  # fmt: skip
    assert again.add("quote", quote, who="Ada")["code"] == "quote-2"


def test_a_ledger_in_use_is_replaced_only_if_asked(filled, new_place, tmp_path):
    back_up(filled, tmp_path / "safe.backup")
    other = Ledger(new_place())
    other.add("source", {"code": "mine"}, who="Ada")
    with pytest.raises(LedgerError, match="holds 1 entries already"):
        restore(other.place, tmp_path / "safe.backup")
    assert [r["code"] for r in other.records("source")] == ["mine"]
    restore(other.place, tmp_path / "safe.backup", replace=True)
    assert content(Ledger(other.place)) == content(filled)


def newer_schema(members, manifest):
    manifest["schema"] = "9999"


def newer_format(members, manifest):
    manifest["format"] = 2


def another_price(members, manifest):
    name = "tables/quote.jsonl"
    members[name] = members[name].replace(b"12.3400", b"11.3400")


def record_left_out(members, manifest):
    name = "tables/source.jsonl"
    members[name] = members[name].split(b"\n", 1)[1]


def broken_rows(members, manifest):
    members["tables/source.jsonl"] = b'["too", "short"]\n'


def no_tables(members, manifest):
    del manifest["tables"]


UNSOUND = {
    "empty": lambda data: b"",
    "no archive": lambda data: b"format = 1\n" * 100,
    "first half": lambda data: data[: len(data) // 2],
    "all but the last byte": lambda data: data[:-1],
    "one more byte": lambda data: data + b"x",
    "one byte changed early": lambda data: data[:200] + bytes([data[200] ^ 1]) + data[201:],
    "one byte changed late": lambda data: data[:-600] + bytes([data[-600] ^ 1]) + data[-599:],
    "newer schema": lambda data: rewritten(data, newer_schema),
    "newer format": lambda data: rewritten(data, newer_format),
    "another price": lambda data: rewritten(data, another_price),
    "a record left out": lambda data: rewritten(data, record_left_out),
    "broken rows": lambda data: rewritten(data, broken_rows),
    "no tables": lambda data: rewritten(data, no_tables),
}


def test_an_unsound_backup_changes_nothing(filled, new_place, tmp_path):
    back_up(filled, tmp_path / "safe.backup")
    good = (tmp_path / "safe.backup").read_bytes()
    bad = tmp_path / "bad.backup"
    target = Ledger(new_place())
    target.add("source", {"code": "mine"}, who="Ada")
    before = content(target)
    for how, change in UNSOUND.items():
        bad.write_bytes(change(good))
        with pytest.raises(LedgerError, match=r"sound backup|this release knows"):
            restore(target.place, bad, replace=True)
        assert content(Ledger(target.place)) == before, how
    restore(target.place, tmp_path / "safe.backup", replace=True)


def test_a_refused_backup_leaves_no_new_file(filled, tmp_path):
    back_up(filled, tmp_path / "safe.backup")
    bad = tmp_path / "bad.backup"
    bad.write_bytes(rewritten((tmp_path / "safe.backup").read_bytes(), another_price))
    with pytest.raises(LedgerError, match="differs from the history"):
        restore(tmp_path / "new.ledger", bad)
    assert sorted(p.name for p in tmp_path.iterdir() if p.name.startswith("new")) == []


def test_a_damaged_ledger_is_not_backed_up_over_a_good_one(filled, tmp_path):
    path = tmp_path / "safe.backup"
    back_up(filled, path)
    before = path.read_bytes()
    with filled.writing() as connection:
        connection.exec_driver_sql("UPDATE source SET contact = 'forged' WHERE code = 'S5'")
    assert [str(each) for each in verify(filled)] == [
        "source S5: differs from the history's newest version"
    ]
    with pytest.raises(LedgerError, match="source S5: differs"):
        back_up(filled, path)
    assert path.read_bytes() == before
