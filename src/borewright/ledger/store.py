"""The ledger: records that are added, corrected and withdrawn, and never forgotten."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, func, insert, select
from sqlalchemy.exc import SQLAlchemyError

from borewright.errors import BorewrightError, LedgerError
from borewright.ledger.database import (
    RESTORE,
    WRITES,
    damaged,
    explained,
    is_address,
    is_sqlite,
    make_engine,
)
from borewright.ledger.kinds import record_kind
from borewright.ledger.migrating import check_known, migrate, revision_of
from borewright.ledger.record import AnyRecord
from borewright.ledger.schema import NEWEST, TABLES, history, stored_files
from borewright.ledger.writing import (
    Row,
    add_within,
    deed_of,
    every_within,
    list_within,
    new_version,
    public_record,
    row_of,
)
from borewright.words import Text, say


@dataclass(frozen=True)
class Entry:
    """One version of a record: who wrote it, when and why, and what it then said."""

    version: int
    at: str
    who: str
    action: str
    reason: str
    data: dict[str, Any]


class Ledger:
    """A workshop's records in a database.

    Parameters
    ----------
    place
        A file, or a server's address that begins with ``postgresql://``.
    create
        Whether to make the ledger where there is none.

    Raises
    ------
    LedgerError
        Where there is no ledger, it is of a newer release, or the database is out of order.
        A ledger of an older release is brought to the newest schema first.
    """

    def __init__(self, place: str | Path, *, create: bool = False) -> None:
        self.place = str(place)
        if not self.place or "\0" in self.place:
            raise LedgerError(
                say("has no usable name"), place=say("ledger"), remedy=say("Name a file.")
            )
        self.shown_place: Text = say("ledger") if is_address(self.place) else self.place
        if not is_address(self.place) and not create and not Path(self.place).is_file():
            raise LedgerError(
                say("there is no such ledger"),
                place=self.place,
                remedy=say("Start one, or name another."),
            )
        if create and not is_address(self.place):
            _made_private(Path(self.place))
        self.engine = make_engine(place)
        with self._explaining():
            self._prepare(create)
        if not is_address(self.place):
            _for_the_owner_alone(Path(self.place))

    def _prepare(self, create: bool) -> None:
        with self.engine.connect() as connection:
            revision = revision_of(connection)
        if revision is not None:
            check_known(revision, self.shown_place)
        if revision == NEWEST:
            return
        if revision is None and not create:
            raise LedgerError(
                say("the database holds no ledger"),
                place=self.shown_place,
                remedy=say("Start one."),
            )
        if self.engine.dialect.name == "sqlite":
            with self.engine.connect() as connection:
                # Outside any transaction, as SQLite wants it: readers do not stop the writer.
                cursor = connection.connection.cursor()
                cursor.execute("PRAGMA journal_mode=WAL")
                cursor.close()
        with self.writing() as connection:
            if not is_sqlite(connection):
                # Two benches that start at once take turns.
                connection.execute(select(func.pg_advisory_xact_lock(8_110_211)))
            if revision_of(connection) != NEWEST:
                migrate(connection)

    @contextmanager
    def _explaining(self) -> Iterator[None]:
        try:
            yield
        except SQLAlchemyError as error:
            raise explained(error, self.shown_place, self._is_damaged()) from error
        except BorewrightError:
            raise
        except (ValueError, TypeError, LookupError, ArithmeticError, sqlite3.Error) as error:
            # A value that no release writes: the file's damage, or a slip of the program's own.
            if not self._is_damaged():
                raise
            raise damaged(self.shown_place) from error

    def _is_damaged(self) -> bool:
        if is_address(self.place):
            return False
        from borewright.ledger.damage import is_damaged

        return is_damaged(Path(self.place))

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection to read from; everything read in it belongs to one moment."""
        with self._explaining(), self.engine.connect() as connection:
            if not is_sqlite(connection):
                connection.execution_options(isolation_level="REPEATABLE READ")
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection whose transaction is kept whole, or not at all where an error comes."""
        with self._explaining(), self.engine.connect() as connection:
            connection = connection.execution_options(**{WRITES: True})
            with connection.begin():
                yield connection

    def add(self, kind: str, values: Mapping[str, Any], *, who: str, reason: str = "") -> Row:
        """Add one record; LedgerError says what is wrong with it."""
        return self.add_many(kind, [values], who=who, reason=reason)[0]

    def add_many(
        self, kind: str, rows: Sequence[Mapping[str, Any]], *, who: str, reason: str = ""
    ) -> list[Row]:
        """Add records, all of them or none."""
        with self.writing() as connection:
            return add_within(connection, kind, rows, who=who, reason=reason)

    def correct(
        self,
        kind: str,
        code: str,
        changes: Mapping[str, Any],
        *,
        who: str,
        reason: str,
        version: int | None = None,
    ) -> Row:
        """Correct a record; what it said before stays in its history.

        ``version`` is the version the changes were thought out on: where the record has moved
        on since, LedgerError asks to look again, and nothing is written.
        """
        found = record_kind(kind)
        deed = deed_of(found, who, "corrected", reason)
        if "code" in changes:
            raise LedgerError(
                say("a record's code is never changed"),
                place=(found.noun, code),
                remedy=say("Withdraw the record and add another."),
            )
        with self.writing() as connection:
            return new_version(connection, found, code, changes, deed, version)

    def withdraw(
        self, kind: str, code: str, *, who: str, reason: str, version: int | None = None
    ) -> Row:
        """Take a record out of use; it stays in the ledger with its history.

        ``version`` as in :meth:`correct`.
        """
        found = record_kind(kind)
        deed = deed_of(found, who, "withdrawn", reason)
        with self.writing() as connection:
            return new_version(connection, found, code, {}, deed, version)

    def get(self, kind: str, code: str) -> Row:
        """One record; LedgerError where there is none of that code."""
        found = record_kind(kind)
        with self.reading() as connection:
            return public_record(row_of(connection, found, code))

    def records(
        self,
        kind: str,
        where: Mapping[str, Any] | None = None,
        *,
        limit: int | None = None,
        offset: int = 0,
        withdrawn: bool = False,
    ) -> list[Row]:
        """Records in the order they were entered, those withdrawn only if asked for."""
        with self.reading() as connection:
            return list_within(
                connection, kind, where, limit=limit, offset=offset, withdrawn=withdrawn
            )

    def one(self, kind: type[AnyRecord], code: str) -> AnyRecord:
        """As :meth:`get`, typed."""
        with self.reading() as connection:
            return kind.read(public_record(row_of(connection, kind.kind, code)))

    def every(
        self,
        kind: type[AnyRecord],
        where: Mapping[str, Any] | None = None,
        *,
        withdrawn: bool = False,
    ) -> list[AnyRecord]:
        """As :meth:`records`, typed."""
        with self.reading() as connection:
            return every_within(connection, kind, where, withdrawn=withdrawn)

    def count(self, kind: str) -> int:
        """How many records of a kind there are, withdrawn ones too."""
        found = record_kind(kind)
        with self.reading() as connection:
            return connection.execute(
                select(func.count()).select_from(TABLES[found.name])
            ).scalar_one()

    def history(self, kind: str, code: str) -> list[Entry]:
        """Every version of a record, the oldest first."""
        found = record_kind(kind)
        columns = history.c
        query = (
            select(history)
            .where(columns.kind == found.name, columns.code == code)
            .order_by(columns.version)
        )
        with self.reading() as connection:
            return [
                Entry(r.version, r.at, r.who, r.action, r.reason, json.loads(r.data))
                for r in connection.execute(query)
            ]

    def keep_file(self, name: str, content: bytes) -> str:
        """Keep a file in the ledger; its SHA-256 is returned, and the same content kept once."""
        sha256 = hashlib.sha256(content).hexdigest()
        with self.writing() as connection:
            if not is_sqlite(connection):
                connection.execute(select(func.pg_advisory_xact_lock(8_110_212)))
            known = select(stored_files.c.sha256).where(stored_files.c.sha256 == sha256)
            if connection.execute(known).first() is None:
                row = {"sha256": sha256, "name": name[:200], "content": content}
                connection.execute(insert(stored_files), [row])
        return sha256

    def kept_file(self, sha256: str) -> tuple[str, bytes]:
        """Name and content of a kept file; LedgerError where it is absent or damaged."""
        with self.reading() as connection:
            row = connection.execute(
                select(stored_files).where(stored_files.c.sha256 == sha256)
            ).first()
        if row is None:
            raise LedgerError(
                say("no file {start} is kept", start=sha256[:12]),
                place=self.shown_place,
                remedy=say("Name a file that a record keeps."),
            )
        content = bytes(row.content)
        if hashlib.sha256(content).hexdigest() != sha256:
            raise LedgerError(
                say("the kept file '{name}' is damaged", name=str(row.name)),
                place=self.shown_place,
                remedy=RESTORE,
            )
        return str(row.name), content


def _made_private(path: Path) -> None:
    """Begin a new file that only its owner reads; where that fails, the database will tell."""
    with contextlib.suppress(OSError):
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))


def _for_the_owner_alone(path: Path) -> None:
    """A ledger's file holds what customers told: nobody else on this machine reads it.

    Asked of what has proved to be a ledger: no foreign file is touched.
    """
    with contextlib.suppress(OSError):  # somebody else's file, or a disk that knows no modes
        for ending in ("", "-wal", "-shm"):
            beside = Path(f"{path}{ending}")
            if beside.exists() and beside.stat().st_mode & 0o077:
                beside.chmod(0o600)
