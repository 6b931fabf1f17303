"""Damages ledgers and backups at random and looks at every answer; run as a script of its own.

    python tests/ledger/damaging.py TIMES [SEED]

One invented ledger is damaged TIMES times, one backup of it as often: bits turned, pages emptied
or swapped, the end cut off, blocks of noise. Then:

- whatever is asked of the damaged file answers, or refuses in one message with a remedy;
- a damaged backup is refused, or restores exactly what was backed up;
- a ledger that verifies as whole says exactly what it said before;
- of every record that SQLite itself still reads as it was, the gathered ledger holds the same.

The last is checked against the database's own reader, row by row, which shares nothing with the
page reader that gathers. Prints what it found as JSON; exit code 1 where anything is wrong.
"""

from __future__ import annotations

import json
import random
import sqlite3
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

from borewright.errors import BorewrightError, LedgerError
from borewright.ledger import RECORD_KINDS, Ledger, back_up, restore, verify
from borewright.ledger.gathering import gather
from borewright.words import ENGLISH

Rows = dict[tuple[str, str], dict[str, Any]]


def filled(place: Path) -> Ledger:
    """An invented ledger of some hundred records on many pages."""
    ledger = Ledger(place, create=True)
    file = ledger.keep_file("d.toml", b"length_mm = 65\n" * 900)
    ledger.add("design", {"code": "D", "name": "clarinet", "file": file, "file_name": "d",
                          "parts": "upper; bell"}, who="Ada")  # fmt: skip
    ledger.add_many(
        "lot",
        [{"code": f"L{n}", "stuff": "filament", "moisture_percent": n / 100, "unit_price": "24.90",
          "currency": "EUR", "note": "Märzlieferung, trocken. " * (n % 40)} for n in range(60)],
        who="Ada",
    )  # fmt: skip
    ledger.add_many(
        "order",
        [{"code": f"R{n}", "customer": f"Invented {n}", "quantity": 1 + n % 3, "currency": "EUR",
          "accepted": "2031-03-01", "delivered": "2031-04-01"} for n in range(60)],
        who="Ben",
    )  # fmt: skip
    ledger.add_many(
        "instrument",
        [{"code": f"LC-{n:03}", "design": "D", "order": f"R{n}"} for n in range(50)],
        who="Ben",
    )
    ledger.add_many(
        "check",
        [{"instrument": f"LC-{n % 50:03}", "subject": "leak", "value": 20.5 + n, "lowest": 10,
          "passed": True, "who": "Ada"} for n in range(120)],
        who="Ada",
    )  # fmt: skip
    for number in range(0, 60, 4):
        ledger.correct("lot", f"L{number}", {"dried_c": 55}, who="Ada", reason="dried")
    ledger.withdraw("order", "R59", who="Ben", reason="twice")
    with closing(sqlite3.connect(place)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return ledger


def flipped(data: bytearray, chance: random.Random) -> None:
    for _ in range(chance.choice((1, 3, 20, 200))):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


def emptied(data: bytearray, chance: random.Random) -> None:
    for _ in range(chance.choice((1, 2, 5))):
        at = chance.randrange(len(data) // 4096) * 4096
        data[at : at + 4096] = bytes(4096)


def cut(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(len(data)) :]


def noise(data: bytearray, chance: random.Random) -> None:
    at, length = chance.randrange(len(data)), chance.choice((8, 100, 3000))
    data[at : at + length] = chance.randbytes(min(length, len(data) - at))


def swapped(data: bytearray, chance: random.Random) -> None:
    one, other = (chance.randrange(len(data) // 4096) * 4096 for _ in range(2))
    first, second = data[one : one + 4096], data[other : other + 4096]
    data[one : one + 4096], data[other : other + 4096] = second, first


def beheaded(data: bytearray, chance: random.Random) -> None:
    length = chance.choice((1, 16, 100))
    data[:length] = chance.randbytes(length)


def longer(data: bytearray, chance: random.Random) -> None:
    data += chance.randbytes(chance.choice((1, 5000)))


def nothing_left(data: bytearray, chance: random.Random) -> None:
    data[:] = chance.randbytes(chance.choice((0, 1, 50, 5000)))


DAMAGES: tuple[Callable[[bytearray, random.Random], None], ...] = (
    flipped, flipped, flipped, noise, noise, emptied, cut, swapped, beheaded, longer, nothing_left,
)  # fmt: skip


def said(ledger: Ledger) -> Rows:
    """Everything that a ledger says, history included."""
    found: Rows = {}
    for kind in RECORD_KINDS:
        for row in ledger.records(kind, withdrawn=True):
            found[kind, str(row["code"])] = dict(row)
    return found


def history_of(ledger: Ledger) -> list[Any]:
    with ledger.reading() as connection:
        told = connection.exec_driver_sql("SELECT * FROM history ORDER BY id")
        return [tuple(row) for row in told]


def asked(place: Path) -> None:
    """Whatever a person may do with it."""
    ledger = Ledger(place)
    for action in (
        lambda: verify(ledger),
        lambda: said(ledger),
        lambda: ledger.history("lot", "L4"),
        lambda: ledger.get("order", "R3"),
        lambda: ledger.add("source", {"code": "new"}, who="Ada"),
        lambda: back_up(ledger, place.with_suffix(".tried")),
    ):
        try:
            action()
        except LedgerError as error:
            whole(error)
    ledger.engine.dispose()


def whole(error: BorewrightError) -> None:
    """One message with place, cause and remedy, and nothing of the database's own words."""
    told = str(error)
    assert ENGLISH.place(error.place), told
    assert ENGLISH.tell(error.remedy), told
    assert "\n" not in told
    for raw in ("SELECT", "sqlite", "UNIQUE", "malformed", "Traceback", "no such"):
        assert raw not in told, told


def still_read(place: Path, before: Rows) -> Rows:
    """Records that SQLite itself reads as they were, asked for one by one."""
    found: Rows = {}
    try:
        connection = sqlite3.connect(place)
        connection.text_factory = bytes
    except sqlite3.Error:
        return found
    with closing(connection):
        for kind in RECORD_KINDS:
            codes = [code for name, code in before if name == kind]
            for number in range(1, len(codes) + 1):
                try:
                    row = connection.execute(
                        f'SELECT * FROM "{kind}" WHERE id = ?', (number,)
                    ).fetchone()
                    names = [
                        one[1].decode()
                        for one in connection.execute(f'PRAGMA table_info("{kind}")')
                    ]
                except (sqlite3.Error, UnicodeDecodeError):
                    continue
                if row is None:
                    continue
                read = dict(zip(names, row, strict=True))
                code = read.get("code")
                code = code.decode("utf-8", "replace") if isinstance(code, bytes) else ""
                known = before.get((kind, code))
                if known is not None and same(read, known):
                    found[kind, code] = known
    return found


def same(read: dict[str, Any], known: dict[str, Any]) -> bool:
    for name, value in known.items():
        raw = read.get(name)
        if isinstance(raw, bytes):
            raw = raw.decode("utf-8", "replace")
        if isinstance(value, bool):
            value = int(value)
        if value is None or isinstance(value, int | float):
            if raw != value:
                return False
        elif str(raw) != (f"{value:f}" if hasattr(value, "as_tuple") else str(value)):
            return False
    return True


def damaged_ledger(data: bytes, before: Rows, entries: list[Any], folder: Path, seed: str) -> str:
    """One damaged ledger: asked, verified, gathered. What came of it, in a word."""
    chance = random.Random(seed)
    hurt = bytearray(data)
    chance.choice(DAMAGES)(hurt, chance)
    place = folder / "damaged.ledger"
    clean(folder)
    place.write_bytes(hurt)
    readable = still_read(place, before)
    clean(folder)
    place.write_bytes(hurt)
    outcome = "refused"
    try:
        ledger = Ledger(place)
        if not verify(ledger):
            outcome = "whole"
            assert said(ledger) == before, f"{seed}: verifies, but says something else"
            assert history_of(ledger) == entries, f"{seed}: verifies with another history"
        else:
            outcome = "found damaged"
        ledger.engine.dispose()
        asked(place)
    except LedgerError as error:
        whole(error)
    clean(folder)
    place.write_bytes(hurt)
    target = folder / "gathered.ledger"
    try:
        told = gather(place, target, who="Ada")
    except LedgerError as error:
        whole(error)
        assert not target.exists()
        assert not readable, f"{seed}: {len(readable)} readable, none gathered"
        return f"{outcome}, nothing to gather"
    assert place.read_bytes() == bytes(hurt), f"{seed}: the damaged file was changed"
    gathered = Ledger(target)
    assert verify(gathered) == [], f"{seed}: what was gathered is not whole"
    now = said(gathered)
    gathered.engine.dispose()
    missing = [key for key, row in readable.items() if alike(now.get(key)) != alike(row)]
    assert not missing, f"{seed}: not gathered {missing[:3]} of {len(readable)}"
    wrong = [
        key for key, row in now.items()
        if key in before and alike(row) != alike(before[key]) and not told.lost
    ]  # fmt: skip
    assert not wrong, f"{seed}: gathered something else without a word: {wrong[:3]}"
    return f"{outcome}, gathered"


def alike(row: dict[str, Any] | None) -> dict[str, Any] | None:
    """A record without its version: what only its row knew becomes a new one."""
    return row and {k: v for k, v in row.items() if k not in ("version", "file")}


def damaged_backup(data: bytes, before: Rows, folder: Path, seed: str) -> str:
    """One damaged backup: restored, gathered."""
    chance = random.Random(seed)
    hurt = bytearray(data)
    chance.choice([one for one in DAMAGES if one is not emptied])(hurt, chance)
    path, target = folder / "damaged.backup", folder / "restored.ledger"
    clean(folder)
    path.write_bytes(hurt)
    outcome = "refused"
    try:
        restore(target, path)
        assert said(Ledger(target)) == before, f"{seed}: restored something else"
        outcome = "restored"
    except LedgerError as error:
        whole(error)
        assert not target.exists(), f"{seed}: something is left of a refused backup"
    clean(folder, keep=path)
    try:
        gather(path, target, who="Ada")
    except LedgerError as error:
        whole(error)
        return f"{outcome}, nothing to gather"
    assert verify(Ledger(target)) == [], f"{seed}: what was gathered is not whole"
    return f"{outcome}, gathered"


def clean(folder: Path, keep: Path | None = None) -> None:
    for path in folder.iterdir():
        if path != keep:
            path.unlink()


def run(times: int, seed: int) -> dict[str, Any]:
    """Damage ``times`` ledgers and as many backups."""
    outcomes: Counter[str] = Counter()
    wrong: list[str] = []
    with tempfile.TemporaryDirectory() as scratch:
        original, folder = Path(scratch) / "whole.ledger", Path(scratch) / "work"
        folder.mkdir()
        ledger = filled(original)
        backup = Path(scratch) / "whole.backup"
        back_up(ledger, backup)
        before, entries = said(ledger), history_of(ledger)
        ledger.engine.dispose()
        data, archive = original.read_bytes(), backup.read_bytes()
        for number in range(times):
            for what, work in (
                ("ledger", lambda s: damaged_ledger(data, before, entries, folder, s)),
                ("backup", lambda s: damaged_backup(archive, before, folder, s)),
            ):
                name = f"{what} {seed} {number}"
                try:
                    outcomes[f"{what} {work(name)}"] += 1
                except Exception as error:
                    wrong.append(f"{name}: {type(error).__name__}: {error}"[:400])
    return {"cases": 2 * times, "outcomes": dict(outcomes), "wrong": wrong}


if __name__ == "__main__":
    found = run(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    print(json.dumps(found, indent=1))
    sys.exit(1 if found["wrong"] else 0)
