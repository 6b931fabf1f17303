"""What happens inside a transaction: records checked, numbered, written and remembered."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, RowMapping, insert, select, update
from sqlalchemy.exc import IntegrityError

from borewright.errors import LedgerError
from borewright.ledger.fields import Field, Kind, RecordKind, Value, as_json, code_value, read_value
from borewright.ledger.kinds import record_kind
from borewright.ledger.record import AnyRecord
from borewright.ledger.relations import check_relations
from borewright.ledger.schema import TABLES, counters, history, stored_files
from borewright.words import Place, say

#: A record as its table holds it, by column; the typed one is :class:`record.Record`.
Row = dict[str, Value]
# One encoder for all: json.dumps would make a new one for each of many thousand records.
_encode = json.JSONEncoder(ensure_ascii=False, sort_keys=True).encode
#: Columns of the history that its seal covers.
SEALED = ("kind", "code", "version", "at", "who", "action", "reason", "data")
_CHUNK = 500  # codes asked for at once; SQLite allows a limited number of parameters
_WHO = Field("who", Kind.TEXT, say("who writes this"), required=True)
#: Why a record is corrected or withdrawn: always to be given.
REASON = Field("reason", Kind.TEXT, say("why it is corrected"), required=True)


def deed_of(kind: RecordKind, who: str, action: str, reason: str) -> tuple[str, str, str]:
    """Who does what and why, checked; only what is added needs no reason."""
    why = REASON if action != "added" else Field("reason", Kind.TEXT, say("why"))
    checked = read_value(kind.name, why, reason)
    return str(read_value(kind.name, _WHO, who)), action, str(checked or "")


def add_within(
    connection: Connection,
    kind: str,
    rows: Sequence[Mapping[str, Any]],
    *,
    who: str,
    reason: str = "",
) -> list[Row]:
    """Add records within a transaction that is already open."""
    found = record_kind(kind)
    deed = deed_of(found, who, "added", reason)
    records = [_checked(found, row) for row in rows]
    if not records:
        return []
    last = _numbers(connection, found.name, len(records))
    for offset, record in enumerate(records):
        record["id"] = last - len(records) + 1 + offset
        record["code"] = record["code"] or f"{found.name}-{record['id']}"
    _check_new_codes(connection, found, records)
    _check_links(connection, found, records)
    check_relations(connection, found, records)
    try:
        connection.execute(insert(TABLES[found.name]), records)
    except IntegrityError as error:
        raise LedgerError(
            say("clashes with what another bench has just written"),
            place=found.name,
            remedy=say("Look at the newest records and try again; nothing was written."),
        ) from error
    _remember(connection, found, records, deed)
    return [public_record(record) for record in records]


def list_within(
    connection: Connection,
    kind: str,
    where: Mapping[str, Any] | None = None,
    *,
    limit: int | None = None,
    offset: int = 0,
    withdrawn: bool = False,
) -> list[Row]:
    """Records of a kind, in the order they were entered."""
    found = record_kind(kind)
    table = TABLES[found.name]
    names = public_names(found)
    query = select(*[table.c[name] for name in names]).order_by(table.c.id)
    for name, raw in (where or {}).items():
        if name == "code":
            query = query.where(table.c.code == raw)
            continue
        field = found.field(name)
        value = None if raw in (None, "") else read_value(found.name, field, raw)
        query = query.where(table.c[name].is_(None) if value is None else table.c[name] == value)
    if not withdrawn:
        query = query.where(table.c.withdrawn.is_(False))
    if limit is not None:
        query = query.limit(limit)
    rows = connection.execute(query.offset(offset))
    return [dict(zip(names, row, strict=True)) for row in rows]


def every_within(
    connection: Connection,
    kind: type[AnyRecord],
    where: Mapping[str, Any] | None = None,
    *,
    withdrawn: bool = False,
) -> list[AnyRecord]:
    """As :func:`list_within`, typed."""
    rows = list_within(connection, kind.kind.name, where, withdrawn=withdrawn)
    return [kind.read(row) for row in rows]


def public_names(kind: RecordKind) -> list[str]:
    """Names of what a record shows, in order."""
    return ["code", *[field.name for field in kind.fields], "version", "withdrawn"]


def public_record(row: Mapping[Any, Any]) -> Row:
    """A row without the number that only the database needs."""
    return {name: value for name, value in row.items() if name != "id"}


def _checked(kind: RecordKind, row: Mapping[str, Any]) -> Row:
    for name in row:
        if name != "code":
            kind.field(name)
    record: Row = {"code": code_value(kind, row.get("code"))}
    for field in kind.fields:
        record[field.name] = read_value(kind.name, field, row.get(field.name))
    return record | {"version": 1, "withdrawn": False}


def _numbers(connection: Connection, name: str, count: int) -> int:
    """Take the next ``count`` numbers of a table; the last of them is returned."""
    row = counters.c
    taken = (
        update(counters).where(row.name == name).values(last=row.last + count).returning(row.last)
    )
    last = connection.execute(taken).scalar()
    if last is None:
        raise LedgerError(
            say("the table '{name}' has no counter", name=name),
            place=say("ledger"),
            remedy=say("The ledger is damaged: verify it, and restore a backup."),
        )
    return int(last)


def _known(connection: Connection, column: Any, values: Sequence[Value]) -> set[Any]:
    found: set[Any] = set()
    for start in range(0, len(values), _CHUNK):
        asked = select(column).where(column.in_(values[start : start + _CHUNK]))
        found |= set(connection.execute(asked).scalars())
    return found


def _check_new_codes(connection: Connection, kind: RecordKind, records: Sequence[Row]) -> None:
    codes = [record["code"] for record in records]
    taken = {code for code, times in Counter(codes).items() if times > 1}
    taken |= _known(connection, TABLES[kind.name].c.code, codes)
    if taken:
        code = min(str(code) for code in taken)
        raise LedgerError(
            say("there is already a {noun} '{code}'", noun=kind.noun, code=code),
            place=kind.name,
            remedy=say("Give it another code, or correct the one there is."),
        )


def _check_links(connection: Connection, kind: RecordKind, records: Sequence[Row]) -> None:
    for field in kind.fields:
        if field.kind not in (Kind.LINK, Kind.FILE):
            continue
        wanted = sorted({str(r[field.name]) for r in records if r.get(field.name) is not None})
        column = stored_files.c.sha256
        if field.kind is Kind.LINK:
            column = TABLES[field.link].c.code
        absent = set(wanted) - _known(connection, column, wanted)
        if absent:
            noun = record_kind(field.link).noun if field.link else say("kept file")
            raise LedgerError(
                say("there is no {noun} '{code}'", noun=noun, code=min(absent)),
                place=(kind.name, field.name),
                remedy=say("Add it first, or name one that exists ({what}).", what=field.words),
            )


def row_of(connection: Connection, kind: RecordKind, code: str) -> RowMapping:
    """The row of a code; LedgerError where there is none."""
    table = TABLES[kind.name]
    row = connection.execute(select(table).where(table.c.code == code)).mappings().first()
    if row is None:
        raise LedgerError(
            say("there is no {noun} '{code}'", noun=kind.noun, code=code[:60]),
            place=say("ledger"),
            remedy=say("Look it up in the table '{table}'.", table=kind.name),
        )
    return row


def new_version(
    connection: Connection,
    kind: RecordKind,
    code: str,
    changes: Mapping[str, Any],
    deed: tuple[str, str, str],
    version: int | None,
) -> Row:
    """Write a record's next version, remembering it; refused where it has moved on."""
    table = TABLES[kind.name]
    row = dict(row_of(connection, kind, code))
    place = (kind.noun, code)
    if row["withdrawn"]:
        raise LedgerError(
            say("was withdrawn and is not changed any more"),
            place=place,
            remedy=say("Add a new record in its place."),
        )
    if version is not None and row["version"] != version:
        raise _moved_on(place, version, row["version"])
    new = {n: read_value(kind.name, kind.field(n), raw) for n, raw in changes.items()}
    new = {name: value for name, value in new.items() if value != row[name]}
    if not new and deed[1] == "corrected":
        raise LedgerError(
            say("says so already; nothing was changed"),
            place=place,
            remedy=say("Name a field with another value."),
        )
    _check_links(connection, kind, [new])
    if deed[1] == "corrected":
        check_relations(connection, kind, [row | new], set(new))
    new |= {"version": row["version"] + 1, "withdrawn": deed[1] == "withdrawn"}
    # The version in the condition is what makes a lost update impossible on a server, where
    # another bench may have written since the row was read.
    written = connection.execute(
        update(table)
        .where(table.c.id == row["id"], table.c.version == row["version"])
        .values(**new)
    )
    if written.rowcount != 1:
        raise _moved_on(place, row["version"], None)
    record = row | new
    _remember(connection, kind, [record], deed)
    return public_record(record)


def _moved_on(place: Place, version: int, now: int | None) -> LedgerError:
    cause = say("was changed by another bench since version {version}", version=version)
    if now is not None:
        cause = say(
            "was changed by another bench since version {version} and is now at version {now}",
            version=version,
            now=now,
        )
    remedy = say("Look at it again and repeat the correction; nothing was written.")
    return LedgerError(cause, place=place, remedy=remedy)


def _remember(
    connection: Connection, kind: RecordKind, records: Sequence[Row], deed: tuple[str, str, str]
) -> None:
    who, action, reason = deed
    at = datetime.now(UTC).isoformat(timespec="microseconds")
    last = _numbers(connection, "history", len(records))
    rows = [
        {
            "id": last - len(records) + 1 + offset,
            "kind": kind.name,
            "code": record["code"],
            "version": record["version"],
            "at": at,
            "who": who,
            "action": action,
            "reason": reason,
            "data": snapshot(kind, record),
        }
        for offset, record in enumerate(records)
    ]
    connection.execute(insert(history), [row | {"digest": seal_of(row)} for row in rows])


def seal_of(entry: Mapping[Any, Any]) -> str:
    """SHA-256 of everything that an entry of the history says."""
    said = "\x1f".join(str(entry[name]) for name in SEALED)
    return hashlib.sha256(said.encode()).hexdigest()


def snapshot(kind: RecordKind, record: Mapping[Any, Any]) -> str:
    """What a record says, as the JSON text its history keeps; unknown values are left out."""
    known = {}
    for field in kind.fields:
        value = record[field.name]
        if value is not None:
            known[field.name] = as_json(value)
    return _encode(known)
