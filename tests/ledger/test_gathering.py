"""Damaged ledgers and backups: one message each, and every readable record gathered.

``python tests/ledger/damaging.py 1000`` does it a thousand times each; here is a sample.
"""

from __future__ import annotations

import json
import sqlite3
import sys
from contextlib import closing
from pathlib import Path

import pytest
from typer.testing import CliRunner

sys.path.insert(0, str(Path(__file__).parent))
import damaging

from borewright.cli import app
from borewright.errors import LedgerError
from borewright.ledger import Ledger, back_up, gather, verify
from borewright.ledger.gathering.pages import Pages


def test_forty_damaged_files_are_told_of_and_gathered():
    found = damaging.run(20, seed=2031)
    assert found["wrong"] == []
    assert found["cases"] == 40


@pytest.fixture(scope="module")
def whole(tmp_path_factory) -> Path:
    place = tmp_path_factory.mktemp("whole") / "workshop.ledger"
    damaging.filled(place).engine.dispose()
    return place


def test_a_whole_ledger_is_gathered_to_the_last_entry(whole, tmp_path):
    told = gather(whole, tmp_path / "new.ledger", who="Ada")
    assert told.lost == []
    old, new = Ledger(whole), Ledger(tmp_path / "new.ledger")
    assert damaging.said(new) == damaging.said(old)
    assert damaging.history_of(new) == damaging.history_of(old)
    # The new ledger goes on numbering where the old one would have.
    values = {"instrument": "LC-001", "subject": "springs", "passed": "yes", "who": "Ada"}
    assert new.add("check", values, who="Ada")["code"] == "check-121"


def test_rows_read_page_by_page_are_those_that_the_database_reads(whole):
    """The page reader against the database's own, an independent reading of one file."""
    pages = Pages(whole.read_bytes())
    with closing(sqlite3.connect(whole)) as connection:
        root = connection.execute(
            "SELECT rootpage FROM sqlite_master WHERE name = 'lot'"
        ).fetchone()[0]
        rows = connection.execute("SELECT * FROM lot ORDER BY id").fetchall()
    cells = [cell for leaf in pages.leaves_below(root) for cell in pages.cells(leaf)]
    read = sorted((cell.number, *cell.values[1:]) for cell in cells)
    assert read == [tuple(row) for row in rows]


def test_a_record_whose_row_is_gone_comes_back_from_its_history(whole, tmp_path):
    place, new = tmp_path / "hurt.ledger", tmp_path / "new.ledger"
    place.write_bytes(whole.read_bytes())
    with closing(sqlite3.connect(place)) as connection, connection:
        connection.execute("DROP TRIGGER lot_no_delete")
        connection.execute("DELETE FROM lot WHERE code = 'L8'")
        connection.execute("UPDATE lot SET stuff = 'filamxnt' WHERE code = 'L9'")
    assert any("L8: is gone" in str(each) for each in verify(Ledger(place)))
    with pytest.raises(LedgerError, match=r"is damaged.*gather"):
        Ledger(place).every(damaging_lot())
    told = gather(place, new, who="Ada")
    assert Ledger(new).get("lot", "L8") == Ledger(whole).get("lot", "L8")
    assert Ledger(new).get("lot", "L9") == Ledger(whole).get("lot", "L9")
    assert told.lost
    assert verify(Ledger(new)) == []


def damaging_lot():
    from borewright.ledger.kinds.buying import Lot

    return Lot


def test_a_changed_history_is_seen_and_not_gathered(whole, tmp_path):
    place, new = tmp_path / "hurt.ledger", tmp_path / "new.ledger"
    place.write_bytes(whole.read_bytes())
    with closing(sqlite3.connect(place)) as connection, connection:
        connection.execute("DROP TRIGGER history_no_update")
        connection.execute("UPDATE history SET who = 'Eve' WHERE code = 'L4' AND version = 2")
    wrong = [str(each) for each in verify(Ledger(place))]
    assert wrong == ["lot L4: version 2 of the history was changed"]
    told = gather(place, new, who="Ada")
    assert [entry.who for entry in Ledger(new).history("lot", "L4")] == ["Ada", "Ada"]
    assert any("L4" in str(each) for each in told.lost)
    assert Ledger(new).get("lot", "L4")["dried_c"] == 55


def test_the_command_gathers_lists_what_is_lost_and_never_replaces(whole, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    hurt = bytearray(whole.read_bytes())
    hurt[9 * 4096 : 12 * 4096] = bytes(3 * 4096)
    Path("hurt.ledger").write_bytes(hurt)
    runner = CliRunner()
    done = runner.invoke(app, ["ledger", "list", "lot", "--ledger", "hurt.ledger"])
    assert "Traceback" not in done.output
    done = runner.invoke(app, ["ledger", "gather", "hurt.ledger", "--json", "--who", "Ada"])
    told = json.loads(done.stdout)
    assert told["records"] >= 200
    assert done.exit_code == (1 if told["lost"] else 0)
    again = runner.invoke(app, ["ledger", "gather", "hurt.ledger"])
    assert again.exit_code == 2
    assert "is there already" in again.output
    done = runner.invoke(app, ["ledger", "verify", "--ledger", "gathered.ledger"])
    assert (done.exit_code, done.stdout) == (0, "The ledger is whole.\n")


def test_a_backup_without_its_end_gives_its_records(whole, tmp_path):
    path = tmp_path / "day.backup"
    back_up(Ledger(whole), path)
    data = path.read_bytes()
    path.write_bytes(data[: len(data) - 2000])
    told = gather(path, tmp_path / "new.ledger", who="Ada")
    assert told.records >= 200


def test_an_old_file_of_the_first_schema_is_brought_along(tmp_path):
    """A ledger dumped once from the first schema: it opens, is sealed, and is gathered."""
    place = tmp_path / "old.ledger"
    script = Path(__file__).with_name("first_schema.sql").read_text(encoding="utf-8")
    with closing(sqlite3.connect(place)) as connection:
        connection.executescript(script)
    old = place.read_bytes()
    ledger = Ledger(place)
    assert verify(ledger) == []
    assert ledger.get("check", "check-1")["value"] == 31.5
    assert ledger.history("source", "Quay Street")[0].data == {"contact": "Ada"}
    untouched = tmp_path / "untouched.ledger"
    untouched.write_bytes(old)
    told = gather(untouched, tmp_path / "new.ledger", who="Ada")
    assert (told.records, told.entries) == (4, 4)
    assert Ledger(tmp_path / "new.ledger").get("check", "check-1")["value"] == 31.5
