"""A backup brought back: the whole of it, or nothing, in one transaction."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import islice
from pathlib import Path
from typing import Any

from sqlalchemy import (
    Boolean,
    Connection,
    Date,
    Float,
    Integer,
    LargeBinary,
    String,
    column,
    func,
    insert,
    select,
    table,
    text,
)

from borewright.errors import LedgerError
from borewright.ledger.backup import Backup, BackupSummary, unsound
from borewright.ledger.database import is_address
from borewright.ledger.migrating import migrate
from borewright.ledger.schema import NEWEST, history, metadata
from borewright.ledger.store import Ledger
from borewright.ledger.verifying import verify_within
from borewright.words import say

_TYPES: dict[str, Any] = {
    "text": String(),
    "whole": Integer(),
    "figure": Float(53),
    "day": Date(),
    "yes-no": Boolean(),
    "bytes": LargeBinary(),
}
_CHUNK_ROWS = 2000


def restore(
    place: Path | str, backup: Path | str, *, replace: bool = False, passphrase: str = ""
) -> BackupSummary:
    """Bring a backup into a ledger that is new or empty, or in place of one if asked to.

    The backup is read and verified first; then everything is written, brought to the newest
    schema and verified again in one transaction. Whatever goes wrong, the ledger is as before.

    Raises
    ------
    LedgerError
        Where the backup is unsound or of a newer release, or the ledger holds records and
        ``replace`` was not asked for.
    """
    found = Backup(backup, passphrase)
    new = not is_address(str(place)) and not Path(place).exists()
    try:
        ledger = Ledger(place, create=True)
        with ledger.writing() as connection:
            held = connection.execute(select(func.count()).select_from(history)).scalar_one()
            if held and not replace:
                raise LedgerError(
                    say("holds {count} entries already", count=held),
                    place=ledger.shown_place,
                    remedy=say("Restore into a new ledger, or ask for the old one to be replaced."),
                )
            try:
                _rebuild(connection, found)
            except (KeyError, TypeError, ValueError) as error:
                raise unsound(found.place, say("its tables make no sense")) from error
            wrong = verify_within(connection)
            if wrong:
                raise unsound(found.place, wrong[0])
    except BaseException:
        if new:
            for ending in ("", "-wal", "-shm"):
                Path(f"{place}{ending}").unlink(missing_ok=True)
        raise
    return found.summary


def _rebuild(connection: Connection, backup: Backup) -> None:
    metadata.drop_all(connection)
    connection.execute(text("DROP TABLE IF EXISTS alembic_version"))
    schema = backup.manifest["schema"]
    migrate(connection, schema)
    connection.execute(text("DELETE FROM counter"))
    tables = backup.manifest["tables"]
    for name in [one.name for one in metadata.sorted_tables if one.name in tables]:
        _fill(connection, backup, name, tables[name]["columns"])
    if schema != NEWEST:
        migrate(connection, NEWEST)


def _fill(connection: Connection, backup: Backup, name: str, columns: list[list[str]]) -> None:
    kinds = {one: kind for one, kind in columns}
    if name == "stored_file":
        kinds["content"] = "bytes"
    target = table(name, *[column(one, _TYPES[kind]) for one, kind in kinds.items()])
    rows = _typed(backup, name, kinds)
    while chunk := list(islice(rows, _CHUNK_ROWS)):
        connection.execute(insert(target), chunk)


def _typed(backup: Backup, name: str, kinds: dict[str, str]) -> Iterator[dict[str, Any]]:
    days = [one for one, kind in kinds.items() if kind == "day"]
    for row in backup.rows(name):
        for one in days:
            if row[one] is not None:
                row[one] = date.fromisoformat(row[one])
        if name == "stored_file":
            row["content"] = backup.file(row["sha256"])
        yield row
