"""What can be read of a damaged SQLite file, page by page."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from contextlib import closing, suppress
from functools import cache
from pathlib import Path
from typing import Any

from borewright.ledger.gathering.pages import Cell, Pages
from borewright.ledger.gathering.readable import Gleaned, lost_row, version_of
from borewright.ledger.kinds import RECORD_KINDS
from borewright.words import say

#: How many rows that cannot be read are named one by one.
_NAMED = 200


def glean_database(path: Path) -> Gleaned:
    """Every row that can be read; the file itself is only looked at, in a copy."""
    with tempfile.TemporaryDirectory() as scratch:
        data = _with_what_was_just_written(path, Path(scratch))
    pages, found = Pages(data), Gleaned()
    table_of = _leaves_by_table(pages)
    layouts = column_layouts()
    unread = 0
    for number in pages.leaves():
        table = table_of.get(number)
        if table is not None and table not in layouts:
            continue  # the schema itself, the revision
        try:
            cells = list(pages.cells(number))
        except Exception:
            cells = [None]
        for cell in cells:
            if cell is not None and _take(found, table, cell):
                continue
            if table is not None and table != "counter":
                unread += 1
                if unread <= _NAMED:
                    found.lost.append(lost_row(table, say("page {page}", page=number)))
    if unread > _NAMED:
        found.lost.append(say("{count} more rows cannot be read", count=unread - _NAMED))
    return found


def _take(found: Gleaned, table: str | None, cell: Cell) -> bool:
    for name in [table] if table is not None else _likely(cell):
        for columns in column_layouts()[name]:
            row = _row(columns, cell)
            if row is not None and found.take(name, row):
                return True
    return False


def _likely(cell: Cell) -> list[str]:
    """Tables that a row of a page without owner may be of: only those that tell themselves."""
    names = []
    for columns in column_layouts()["history"]:
        row = _row(columns, cell)
        if row is not None and version_of(row) is not None:
            names.append("history")
    if len(cell.values) == 3 and isinstance(cell.values[2], bytes):
        names.append("stored_file")
    return names


def _row(columns: tuple[str, ...], cell: Cell) -> dict[str, Any] | None:
    """Values by column; columns that were added later than the row are empty."""
    if len(cell.values) > len(columns):
        return None
    padded = [*cell.values, *[None] * (len(columns) - len(cell.values))]
    row = dict(zip(columns, padded, strict=True))
    if "id" in row and row["id"] is None:
        row["id"] = cell.number  # the number of the row is its key
    return row


def _with_what_was_just_written(path: Path, scratch: Path) -> bytes:
    """The file with what stands in its log beside it, if that can still be brought in."""
    copy = scratch / "copy"
    shutil.copyfile(path, copy)
    log = Path(f"{path}-wal")
    if not log.exists() or not log.stat().st_size:
        return copy.read_bytes()
    shutil.copyfile(log, f"{copy}-wal")
    with suppress(sqlite3.Error), closing(sqlite3.connect(copy)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return copy.read_bytes()


def _leaves_by_table(pages: Pages) -> dict[int, str]:
    """Which table each leaf page belongs to, where the way to it is whole."""
    found = dict.fromkeys(pages.leaves_below(1), "sqlite_master")
    for number in list(found):
        for cell in pages.cells(number):
            if cell is None or len(cell.values) < 5 or cell.values[0] != "table":
                continue
            name, root = str(cell.values[1]), cell.values[3]
            if isinstance(root, int):
                found |= dict.fromkeys(pages.leaves_below(root), name)
    return found


@cache
def column_layouts() -> dict[str, list[tuple[str, ...]]]:
    """Columns of every table as releases made them, the newest first."""
    from borewright.ledger.database import WRITES, make_engine
    from borewright.ledger.migrating import migrate
    from borewright.ledger.schema import REVISIONS

    found: dict[str, list[tuple[str, ...]]] = {}
    with tempfile.TemporaryDirectory() as scratch:
        place = Path(scratch) / "empty"
        engine = make_engine(place)
        for revision in REVISIONS:
            with engine.connect().execution_options(**{WRITES: True}) as connection:
                with connection.begin():
                    migrate(connection, revision)
                for name in (*RECORD_KINDS, "history", "stored_file", "counter"):
                    told = connection.exec_driver_sql(
                        "SELECT name FROM pragma_table_info(?)", (name,)
                    ).all()
                    columns = tuple(str(one[0]) for one in told)
                    if columns and columns not in found.setdefault(name, []):
                        found[name].insert(0, columns)
        engine.dispose()
    return found
