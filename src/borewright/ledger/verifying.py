"""Whether a ledger is whole: every record as its history says, every file as its name says."""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection, func, select, text

from borewright.ledger.database import is_sqlite
from borewright.ledger.kinds import RECORD_KINDS
from borewright.ledger.schema import TABLES, counters, history, stored_files
from borewright.ledger.store import Ledger
from borewright.ledger.writing import seal_of, snapshot
from borewright.words import Message, say, say_many


def verify(ledger: Ledger) -> list[Message]:
    """What is wrong with a ledger, in sentences; empty where everything agrees."""
    with ledger.reading() as connection:
        return verify_within(connection)


def verify_within(connection: Connection) -> list[Message]:
    """As :func:`verify`, on an open connection."""
    wrong: list[Message] = []
    if is_sqlite(connection):
        found = connection.execute(text("PRAGMA integrity_check")).scalars().all()
        if list(found) != ["ok"]:
            wrong.append(
                say_many(
                    "the file is damaged in {count} place",
                    "the file is damaged in {count} places",
                    len(found),
                )
            )
        broken = connection.execute(text("PRAGMA foreign_key_check")).all()
        wrong += [say("a link of table '{table}' leads nowhere", table=row[0]) for row in broken]
    for name in RECORD_KINDS:
        wrong += _records_against_history(connection, name)
    wrong += _gaps(connection)
    wrong += _broken_seals(connection)
    wrong += _counters_behind(connection)
    for row in connection.execute(select(stored_files)):
        if hashlib.sha256(bytes(row.content)).hexdigest() != row.sha256:
            wrong.append(say("the kept file '{name}' is damaged", name=row.name))
    return wrong


def _records_against_history(connection: Connection, name: str) -> list[Message]:
    kind, table = RECORD_KINDS[name], TABLES[name]
    newest = (
        (history.c.kind == name)
        & (history.c.code == table.c.code)
        & (history.c.version == table.c.version)
    )
    query = select(table, history.c.data, history.c.action)
    query = query.select_from(table.outerjoin(history, newest))
    wrong = []
    for row in connection.execute(query).mappings():
        of = {"kind": name, "code": row["code"]}
        if row["data"] is None:
            missing = row["version"]
            wrong.append(
                say("{kind} {code}: version {version} is not in the history", version=missing, **of)
            )
        elif row["data"] != snapshot(kind, row):
            wrong.append(say("{kind} {code}: differs from the history's newest version", **of))
        elif (row["action"] == "withdrawn") != row["withdrawn"]:
            wrong.append(
                say("{kind} {code}: the history disagrees on whether it is withdrawn", **of)
            )
    return wrong


def _broken_seals(connection: Connection) -> list[Message]:
    """Entries of the history that do not say any more what they said when they were written."""
    return [
        say(
            "{kind} {code}: version {version} of the history was changed",
            kind=row["kind"],
            code=row["code"],
            version=row["version"],
        )
        for row in connection.execute(select(history)).mappings()
        if row["digest"] != seal_of(row)
    ]


def _counters_behind(connection: Connection) -> list[Message]:
    """Tables whose next number is taken already."""
    last = {row.name: row.last for row in connection.execute(select(counters))}
    wrong = []
    for name, table in (*TABLES.items(), ("history", history)):
        highest = connection.execute(select(func.max(table.c.id))).scalar() or 0
        if not isinstance(last.get(name), int) or last[name] < highest:
            wrong.append(say("the counter of the table '{table}' is behind", table=name))
    return wrong


def _gaps(connection: Connection) -> list[Message]:
    """Histories with a version missing, or of a record that is not there."""
    c = history.c
    query = (
        select(c.kind, c.code, func.count().label("kept"), func.max(c.version).label("newest"))
        .group_by(c.kind, c.code)
        .having(func.count() != func.max(c.version))
    )
    wrong = [
        say("{kind} {code}: history has gaps", kind=r.kind, code=r.code)
        for r in connection.execute(query)
    ]
    for name, table in TABLES.items():
        lost = (
            select(c.code)
            .where(c.kind == name, c.version == 1)
            .where(~select(table.c.id).where(table.c.code == c.code).exists())
        )
        gone = connection.execute(lost).scalars()
        wrong += [say("{kind} {code}: is gone", kind=name, code=code) for code in gone]
    return wrong
