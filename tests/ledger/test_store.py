"""Records are added whole or not at all, corrected into history, and never deleted."""

from __future__ import annotations

import datetime
import threading
from decimal import Decimal

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import text

from borewright.errors import LedgerError
from borewright.ledger import RECORD_KINDS, Ledger
from borewright.ledger.schema import metadata


def test_the_migrated_tables_are_those_the_program_expects(ledger):
    with ledger.reading() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []


def test_values_come_back_exactly(ledger):
    ledger.add("source", {"code": "Quay Street"}, who="Ada")
    row = {
        "source": "Quay Street",
        "plating": "silver",
        "unit_price": "184.35",
        "currency": "EUR",
        "minimum_order": "10",
        "valid_until": "2031-04-09",
    }
    quote = ledger.add("quote", row, who="Ada")
    assert quote["code"] == "quote-1"
    assert ledger.get("quote", "quote-1") == quote
    assert quote["unit_price"] == Decimal("184.35")
    assert quote["valid_until"] == datetime.date(2031, 4, 9)
    assert quote["note"] is None


def test_a_correction_is_kept_as_history(ledger):
    ledger.add("source", {"code": "Quay Street", "contact": "old"}, who="Ada")
    changed = {"contact": "new"}
    ledger.correct("source", "Quay Street", changed, who="Ben", reason="they moved", version=1)
    first, second = ledger.history("source", "Quay Street")
    assert (first.who, first.action, first.data) == ("Ada", "added", {"contact": "old"})
    assert (second.who, second.reason, second.data) == ("Ben", "they moved", {"contact": "new"})
    assert first.at < second.at
    assert ledger.get("source", "Quay Street")["version"] == 2


def test_a_correction_thought_out_on_an_old_version_is_refused(ledger):
    ledger.add("source", {"code": "A", "contact": "1"}, who="Ada")
    ledger.correct("source", "A", {"contact": "2"}, who="Ada", reason="r", version=1)
    with pytest.raises(LedgerError, match="changed by another bench since version 1"):
        ledger.correct("source", "A", {"contact": "3"}, who="Ben", reason="r", version=1)
    assert ledger.get("source", "A")["contact"] == "2"


def test_withdrawn_records_stay_but_are_not_listed(ledger):
    ledger.add("source", {"code": "A"}, who="Ada")
    ledger.withdraw("source", "A", who="Ada", reason="typed twice")
    assert ledger.records("source") == []
    assert [r["code"] for r in ledger.records("source", withdrawn=True)] == ["A"]
    with pytest.raises(LedgerError, match="withdrawn"):
        ledger.correct("source", "A", {"contact": "x"}, who="Ada", reason="r")


@pytest.mark.parametrize(
    "statement",
    ["DELETE FROM source", "UPDATE history SET who = 'nobody'", "DELETE FROM history"],
)
def test_the_database_itself_refuses_to_forget(ledger, statement):
    ledger.add("source", {"code": "A"}, who="Ada")
    with pytest.raises(LedgerError, match="never"), ledger.writing() as connection:
        connection.execute(text(statement))
    assert len(ledger.history("source", "A")) == 1


def test_many_are_added_all_or_none(ledger):
    rows = [{"code": "A"}, {"code": "B"}, {"code": "A"}]
    with pytest.raises(LedgerError, match="already a keywork source 'A'"):
        ledger.add_many("source", rows, who="Ada")
    assert ledger.count("source") == 0
    assert ledger.history("source", "B") == []


@pytest.mark.parametrize(
    ("kind", "row", "words"),
    [
        ("quote", {"source": "nobody", "plating": "x", "unit_price": "1", "currency": "EUR",
                   "minimum_order": "1"}, "there is no keywork source 'nobody'"),
        ("quote", {"plating": "silver"}, "quote, source: is missing"),
        ("source", {"colour": "red", "code": "A"}, "there is no field 'colour'"),
        ("source", {"code": ""}, "source, code: is missing"),
        ("source", {"code": "A\x00B"}, "control character"),
        ("source", {"code": "x" * 201}, "at most 200"),
        ("source", {"code": "\ud800"}, "Unicode"),
        ("lot", {"code": "L", "stuff": "gold"}, "one of: filament"),
        ("lot", {"code": "L", "stuff": "pads", "moisture_percent": "nan"}, "a number such as"),
        ("lot", {"code": "L", "stuff": "pads", "moisture_percent": "-1"}, "below 0"),
        ("lot", {"code": "L", "stuff": "pads", "unit_price": "1e9"}, "an amount such as"),
        ("lot", {"code": "L", "stuff": "pads", "received": "2031-02-30"}, "a day as"),
        ("batch", {"code": "B", "design": "D", "quantity": "9" * 12}, "whole number"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_and_nothing_is_written(ledger, kind, row, words):
    with pytest.raises(LedgerError, match=words):
        ledger.add(kind, row, who="Ada")
    assert ledger.count(kind) == 0


def test_sql_in_a_name_is_only_a_name(ledger):
    name = "Robert'); DROP TABLE source; --"
    ledger.add("source", {"code": name, "contact": '" OR 1=1 --'}, who=name)
    assert ledger.records("source", {"contact": '" OR 1=1 --'})[0]["code"] == name
    assert ledger.records("source", {"contact": "x"}) == []
    assert ledger.history("source", name)[0].who == name


def test_long_notes_emoji_and_right_to_left_come_back(ledger):
    note = "é🎷 שלום مرحبا\n" * 75_000
    assert len(note) > 1_000_000
    ledger.add("source", {"code": "קלרינט 🎷", "note": note}, who="Ada")
    assert ledger.get("source", "קלרינט 🎷")["note"] == note
    with pytest.raises(LedgerError, match="at most 2000000"):
        ledger.add("source", {"code": "B", "note": "x" * 2_000_001}, who="Ada")


def test_files_are_kept_by_their_content(ledger):
    first = ledger.keep_file("clarinet.toml", b"format = 1\n")
    assert ledger.keep_file("again.toml", b"format = 1\n") == first
    assert ledger.kept_file(first) == ("clarinet.toml", b"format = 1\n")
    with pytest.raises(LedgerError, match="no file"):
        ledger.kept_file("0" * 64)


def test_every_kind_can_be_listed_and_says_what_it_is(ledger):
    for name, kind in RECORD_KINDS.items():
        assert ledger.records(name) == []
        assert kind.words
        assert all(field.words for field in kind.fields)


def test_two_benches_at_once_lose_no_update(place):
    """Each bench adds one to the same count, looking again whenever it was too late."""
    Ledger(place).add("source", {"code": "A", "contact": "0"}, who="Ada")
    rounds, faults = 15, []

    def bench(name):
        ledger = Ledger(place)
        for _ in range(rounds):
            while True:
                seen = ledger.get("source", "A")
                count = {"contact": str(int(seen["contact"]) + 1)}
                try:
                    ledger.correct(
                        "source", "A", count, who=name, reason="count", version=seen["version"]
                    )
                    break
                except LedgerError as error:
                    if "changed by another bench" not in str(error):
                        faults.append(error)
                        return

    benches = [threading.Thread(target=bench, args=(f"bench {n}",)) for n in range(2)]
    for one in benches:
        one.start()
    for one in benches:
        one.join()
    assert faults == []
    ledger = Ledger(place)
    assert ledger.get("source", "A")["contact"] == str(2 * rounds)
    assert [e.data["contact"] for e in ledger.history("source", "A")] == [
        str(n) for n in range(2 * rounds + 1)
    ]


def test_a_missing_ledger_is_not_made_by_looking(tmp_path):
    with pytest.raises(LedgerError, match="no such ledger"):
        Ledger(tmp_path / "absent.ledger")
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_no_database_is_left_alone(tmp_path):
    path = tmp_path / "notes.txt"
    path.write_text("not a database, just a long enough line of text\n" * 50, encoding="utf-8")
    before = path.read_bytes()
    for create in (False, True):
        with pytest.raises(LedgerError, match="is not a ledger"):
            Ledger(path, create=create)
    assert path.read_bytes() == before


def test_a_ledger_of_a_newer_release_is_refused(ledger, place):
    with ledger.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(LedgerError, match="schema 9999"):
        Ledger(place)


@pytest.mark.parametrize("address", ["mysql://x/y", "postgresql://[", "nothing://x"])
def test_an_address_of_another_kind_is_refused(address):
    with pytest.raises(LedgerError, match=r"ledger: "):
        Ledger(address)
