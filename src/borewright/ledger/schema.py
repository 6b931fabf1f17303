"""The database's tables, built from the kinds of record, with history beside them.

A record's row always shows its newest version; ``history`` keeps every version there was,
with who wrote it, when and why. Triggers in the database itself refuse to change or delete
history and to delete records.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Date,
    Dialect,
    Float,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)
from sqlalchemy.types import TypeDecorator

from borewright.ledger.fields import LONGEST_TEXT, Field, Kind
from borewright.ledger.kinds import RECORD_KINDS

_VERSIONS = Path(__file__).parent / "migrations" / "versions"
#: Revisions of the schema, oldest first, as their files are named; this release writes the last.
REVISIONS = tuple(sorted(path.stem[1:5] for path in _VERSIONS.glob("v[0-9]*.py")))
NEWEST = REVISIONS[-1]

NAMING = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "ix": "ix_%(table_name)s_%(column_0_name)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}


class Exact(TypeDecorator[Decimal]):
    """An exact decimal kept as text, because SQLite has no exact numbers of its own."""

    impl = String(40)
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> str | None:
        """The text that is kept."""
        return None if value is None else f"{value:f}"

    def process_result_value(self, value: Any, dialect: Dialect) -> Decimal | None:
        """The exact amount again."""
        return None if value is None else Decimal(value)


_TYPES: dict[Kind, Any] = {
    Kind.TEXT: String(LONGEST_TEXT),
    Kind.NOTE: Text(),
    Kind.CHOICE: String(40),
    Kind.WHOLE: Integer(),
    Kind.FIGURE: Float(53),
    Kind.MONEY: Exact(),
    Kind.DAY: Date(),
    Kind.YES_NO: Boolean(),
    Kind.LINK: String(LONGEST_TEXT),
    Kind.FILE: String(64),
}

metadata = MetaData(naming_convention=NAMING)


def _column(field: Field) -> Column[Any]:
    links = []
    if field.kind is Kind.LINK:
        links = [ForeignKey(f"{field.link}.code")]
    if field.kind is Kind.FILE:
        links = [ForeignKey("stored_file.sha256")]
    return Column(
        field.name,
        _TYPES[field.kind],
        *links,
        nullable=not field.required,
        index=field.kind is Kind.LINK or None,
    )


#: Files kept in the ledger, named by their content.
stored_files = Table(
    "stored_file",
    metadata,
    Column("sha256", String(64), primary_key=True),
    Column("name", String(LONGEST_TEXT), nullable=False),
    Column("content", LargeBinary, nullable=False),
)

#: Every version of every record, never changed once written; ``digest`` seals what it says.
history = Table(
    "history",
    metadata,
    Column("id", Integer, primary_key=True, autoincrement=False),
    Column("kind", String(40), nullable=False),
    Column("code", String(LONGEST_TEXT), nullable=False),
    Column("version", Integer, nullable=False),
    Column("at", String(40), nullable=False),
    Column("who", String(LONGEST_TEXT), nullable=False),
    Column("action", String(40), nullable=False),
    Column("reason", String(LONGEST_TEXT), nullable=False),
    Column("data", Text, nullable=False),
    Column("digest", String(64)),
    UniqueConstraint("kind", "code", "version"),
)

#: The last number given out for each table; locking its row orders the writers.
counters = Table(
    "counter",
    metadata,
    Column("name", String(40), primary_key=True),
    Column("last", Integer, nullable=False),
)

#: The records' tables by kind.
TABLES: dict[str, Table] = {
    kind.name: Table(
        kind.name,
        metadata,
        Column("id", Integer, primary_key=True, autoincrement=False),
        Column("code", String(LONGEST_TEXT), nullable=False),
        *[_column(field) for field in kind.fields],
        Column("version", Integer, nullable=False),
        Column("withdrawn", Boolean, nullable=False),
        UniqueConstraint("code"),
        CheckConstraint("version >= 1", name="version"),
    )
    for kind in RECORD_KINDS.values()
}
