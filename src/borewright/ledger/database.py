"""Connections to SQLite and PostgreSQL that behave alike: one writer at a time per record."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError, SQLAlchemyError
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


def explained(error: SQLAlchemyError, place: Text) -> LedgerError:
    """The database's complaint in a craftsman's words."""
    text = str(getattr(error, "orig", None) or error).strip().splitlines()[0]
    if "not a database" in text or "malformed" in text:
        return LedgerError(
            say("is not a sound ledger ({why})", why=text),
            place=place,
            remedy=say("Restore it from a backup; leave the damaged file where it is."),
        )
    if "locked" in text:
        return LedgerError(
            say("another bench has been writing for too long"),
            place=place,
            remedy=say("Try again; nothing of this was written."),
        )
    if "readonly" in text or "unable to open" in text or "disk is full" in text:
        return LedgerError(
            say("cannot be written or opened ({why})", why=text),
            place=place,
            remedy=say("Choose a folder that you may write to and that has room."),
        )
    return LedgerError(say("the database refused ({why})", why=text), place=place)
