"""Every released schema comes to the newest one with its records and their history."""

from __future__ import annotations

import hashlib
import json

import pytest
from changed_backup import rewritten
from sqlalchemy import inspect, text

from borewright.ledger import Ledger, back_up, restore, store, verify
from borewright.ledger.database import WRITES, make_engine
from borewright.ledger.migrating import migrate, revision_of
from borewright.ledger.schema import NEWEST, REVISIONS

FILE = hashlib.sha256(b"").hexdigest()
ROWS = (
    ("source", {"id": 1, "code": "Quay Street", "contact": "Ada"}),
    ("design", {"id": 1, "code": "D1", "name": "n", "file": FILE, "file_name": "f",
                "parts": "barrel"}),
    ("instrument", {"id": 1, "code": "007", "design": "D1"}),
    ("check", {"id": 1, "code": "check-1", "instrument": "007", "subject": "leak", "value": 31.5,
               "passed": True, "who": "Ada"}),
)  # fmt: skip


def old_ledger(place: str, revision: str) -> None:
    """A ledger as a release with that schema left it, written without today's program."""
    engine = make_engine(place)
    with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
        migrate(connection, revision)
        file = {"s": FILE, "n": "f", "c": b""}
        insert_file = "INSERT INTO stored_file (sha256, name, content) VALUES (:s, :n, :c)"
        connection.execute(text(insert_file), file)
        for number, (table, row) in enumerate(ROWS, start=1):
            whole = row | {"version": 1, "withdrawn": False}
            names = ", ".join(f'"{name}"' for name in whole)
            values = ", ".join(f":{name}" for name in whole)
            connection.execute(text(f'INSERT INTO "{table}" ({names}) VALUES ({values})'), whole)
            said = {k: v for k, v in row.items() if k not in ("id", "code")}
            entry = {
                "i": number,
                "k": table,
                "c": row["code"],
                "d": json.dumps(said, sort_keys=True),
            }
            connection.execute(
                text(
                    "INSERT INTO history (id, kind, code, version, at, who, action, reason, data)"
                    " VALUES (:i, :k, :c, 1, '2030-01-01', 'Ada', 'added', '', :d)"
                ),
                entry,
            )
            connection.execute(
                text("UPDATE counter SET last = 1 WHERE name = :name"), {"name": table}
            )
        connection.execute(text(f"UPDATE counter SET last = {len(ROWS)} WHERE name = 'history'"))
    engine.dispose()


@pytest.mark.parametrize("revision", REVISIONS)
def test_a_ledger_of_every_release_opens_with_its_records(new_place, revision):
    place = new_place(empty=True)
    old_ledger(place, revision)
    ledger = Ledger(place)
    with ledger.reading() as connection:
        assert revision_of(connection) == NEWEST
    assert ledger.get("check", "check-1")["value"] == 31.5
    assert ledger.get("check", "check-1")["temperature_c"] is None
    assert ledger.history("source", "Quay Street")[0].data == {"contact": "Ada"}
    assert ledger.add("criterion", {"code": "price", "weight": 3, "better": "low"}, who="Ada")
    order = {"code": "R", "customer": "c", "quantity": 1, "currency": "EUR", "language": "de"}
    assert ledger.add("order", order, who="Ada")["language"] == "de"
    assert ledger.records("certificate") == []
    check = {"instrument": "007", "subject": "bore", "passed": "yes", "who": "B"}
    assert ledger.add("check", check, who="Ada")["code"] == "check-2"


def test_a_backup_of_an_old_release_is_restored(new_place, tmp_path):
    place = new_place(empty=True)
    old_ledger(place, REVISIONS[2])
    path = tmp_path / "old.backup"
    back_up(Ledger(place), path)
    first = new_place(empty=True)
    old_ledger(first, REVISIONS[0])
    engine = make_engine(first)
    known = set(inspect(engine).get_table_names())
    engine.dispose()

    # As the first release would have written it: without what came later.
    def older(members, manifest):
        manifest["schema"] = "0001"
        newer = set(manifest["tables"]) - known
        assert newer >= {"criterion", "score", "certificate"}
        for name in newer:
            del members[f"tables/{name}.jsonl"], manifest["tables"][name]
            del manifest["members"][f"tables/{name}.jsonl"]
        orders = manifest["tables"]["order"]["columns"]
        del orders[[name for name, _ in orders].index("language")]
        columns = manifest["tables"]["check"]["columns"]
        place_of = [name for name, _ in columns].index("temperature_c")
        del columns[place_of]
        row = json.loads(members["tables/check.jsonl"])
        del row[place_of]
        members["tables/check.jsonl"] = (json.dumps(row) + "\n").encode()
        entries = manifest["tables"]["history"]["columns"]
        assert entries.pop()[0] == "digest"
        lines = [json.loads(line)[:-1] for line in members["tables/history.jsonl"].splitlines()]
        text = "".join(json.dumps(line) + "\n" for line in lines)
        members["tables/history.jsonl"] = text.encode()
        lines = members["tables/counter.jsonl"].splitlines(keepends=True)
        kept = [line for line in lines if json.loads(line)[0] not in newer]
        members["tables/counter.jsonl"] = b"".join(kept)

    path.write_bytes(rewritten(path.read_bytes(), older))
    target = new_place(empty=True)
    assert restore(target, path).schema == "0001"
    again = Ledger(target)
    assert again.get("check", "check-1")["value"] == 31.5
    assert again.add("criterion", {"code": "price", "weight": 3, "better": "low"}, who="Ada")
    assert verify(again) == []


def test_a_migration_that_fails_leaves_the_ledger_as_it_was(new_place, monkeypatch):
    place = new_place(empty=True)
    old_ledger(place, "0001")

    def fails(connection, revision=NEWEST):
        migrate(connection, revision)
        raise RuntimeError("power cut")

    monkeypatch.setattr(store, "migrate", fails)
    with pytest.raises(RuntimeError):
        Ledger(place)
    monkeypatch.undo()
    engine = make_engine(place)
    with engine.connect() as connection:
        assert revision_of(connection) == "0001"
    assert Ledger(place).get("check", "check-1")["value"] == 31.5
