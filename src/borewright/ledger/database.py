"""Connections to SQLite and PostgreSQL that behave alike: one writer at a time per record."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import (
    ArgumentError,
    IntegrityError,
    NoSuchModuleError,
    SQLAlchemyError,
)
from sqlalchemy.pool import NullPool

from borewright.errors import LedgerError
from borewright.words import Text, say

WAIT_S = 60  # how long a writer waits for another before it gives up
WRITES = "borewright_writes"


def is_address(place: str) -> bool:
    """Whether a ledger's place is a server's address rather than a file."""
    return "://" in place


def make_engine(place: str | Path) -> Engine:
    """An engine for a file (SQLite) or an address (``postgresql://…``)."""
    if isinstance(place, str) and is_address(place):
        return _server_engine(place)
    engine = create_engine(
        f"sqlite+pysqlite:///{Path(place)}", connect_args={"timeout": WAIT_S}, poolclass=NullPool
    )

    @event.listens_for(engine, "connect")
    def _settings(connection: Any, record: Any) -> None:
        # The driver's own opening of transactions is turned off: ours begin below.
        connection.isolation_level = None
        cursor = connection.cursor()
        cursor.execute("PRAGMA foreign_keys=ON")
        # A committed record is on the disk before the commit returns.
        cursor.execute("PRAGMA synchronous=FULL")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        # Taking the writers' lock at once means that what a writer has read cannot change
        # before it writes.
        writes = connection.get_execution_options().get(WRITES)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _server_engine(address: str) -> Engine:
    try:
        url = make_url(address)
        if url.drivername in ("postgresql", "postgres"):
            url = url.set(drivername="postgresql+psycopg")
        if url.drivername != "postgresql+psycopg":
            raise LedgerError(
                say("'{kind}' is not a kind of database the ledger knows", kind=url.drivername),
                place=say("ledger"),
                remedy=say("Name a file, or an address that begins with postgresql://."),
            )
        return create_engine(url, poolclass=NullPool)
    except (ArgumentError, NoSuchModuleError, ImportError) as error:
        raise LedgerError(
            say("the ledger's address cannot be used"),
            place=say("ledger"),
            remedy=say("Write it like postgresql://name@host/database."),
        ) from error


def is_sqlite(connection: Connection) -> bool:
    """Whether this is the embedded database."""
    return connection.dialect.name == "sqlite"


#: What to do with a ledger that is damaged.
RESTORE = say(
    "Restore the newest backup, or gather what can still be read into a new ledger with gather; "
    "leave the damaged file where it is."
)


def damaged(place: Text) -> LedgerError:
    """What is said of a ledger's file that is damaged."""
    return LedgerError(say("is damaged: not all of it can be read"), place=place, remedy=RESTORE)


def explained(error: SQLAlchemyError, place: Text, is_damaged: bool = False) -> LedgerError:
    """The database's complaint in a craftsman's words, never in its own."""
    text = str(getattr(error, "orig", None) or error).lower()
    if "not a database" in text:
        return LedgerError(
            say("is not a ledger, or its beginning is damaged"), place=place, remedy=RESTORE
        )
    if "malformed" in text or is_damaged:
        return damaged(place)
    if "never changed" in text or "never deleted" in text:
        return LedgerError(
            say("is never changed in its history, nor are records deleted"),
            place=place,
            remedy=say("Correct a record, or withdraw it: what it said stays."),
        )
    if "locked" in text:
        return LedgerError(
            say("another bench has been writing for too long"),
            place=place,
            remedy=say("Try again; nothing of this was written."),
        )
    if "readonly" in text or "unable to open" in text:
        return LedgerError(
            say("cannot be opened for writing"),
            place=place,
            remedy=say("Choose a folder that you may write to and that has room."),
        )
    if "full" in text or "disk i/o" in text:
        return LedgerError(
            say("the disk is full or does not answer"),
            place=place,
            remedy=say("Make room, or look at the disk; nothing of this was written."),
        )
    if "connect" in text or "server" in text or "password" in text or "resolve" in text:
        return LedgerError(
            say("the server cannot be reached, or does not let you in"),
            place=place,
            remedy=say("Look whether it runs, and at name and password in its address."),
        )
    if isinstance(error, IntegrityError):
        return LedgerError(
            say("two records of it would contradict each other"),
            place=place,
            remedy=say("Look at the newest records and try again; nothing was written."),
        )
    return LedgerError(
        say("the database would not do it"),
        place=place,
        remedy=say("Verify the ledger; nothing of this was written."),
    )
