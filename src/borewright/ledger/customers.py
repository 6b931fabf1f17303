"""What the ledger knows of a customer: shown, handed out, and erased where that is asked for.

A customer is the name that orders carry. Erasing puts a pseudonym in its place, in the records and
in all of their history, so that numbers, prices and serial numbers stay and nobody is named; what
left the workshop as paper is listed, because that cannot be called back.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, String, cast, or_, select, update

from borewright.errors import LedgerError
from borewright.ledger.database import is_sqlite
from borewright.ledger.fields import Kind, as_json
from borewright.ledger.kinds import RECORD_KINDS, record_kind
from borewright.ledger.schema import TABLES, history
from borewright.ledger.store import Ledger
from borewright.ledger.writing import REASON, deed_of, new_version, seal_of
from borewright.words import Message, say

#: Fields of an order that tell who somebody is; the name itself becomes the pseudonym.
_TELLING = ("contact", "note")
_CHUNK = 500


@dataclass(frozen=True)
class CustomerData:
    """Everything on one customer, as JSON can hold it.

    ``named_in`` says where else the name stands, in texts that somebody wrote.
    """

    customer: str
    orders: list[dict[str, Any]]
    instruments: list[dict[str, Any]]
    services: list[dict[str, Any]]
    certificates: list[dict[str, Any]]
    history: list[dict[str, Any]]
    named_in: list[str]

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return dict(vars(self))


@dataclass(frozen=True)
class Erased:
    """What was done: the pseudonym, orders, papers that are out, where the name still stands."""

    pseudonym: str
    orders: list[str]
    papers: list[Message]
    named_in: list[str]


def customer_names(ledger: Ledger) -> list[str]:
    """Names of all customers, by the alphabet."""
    column = TABLES["order"].c.customer
    with ledger.reading() as connection:
        return sorted(connection.execute(select(column).distinct()).scalars())


def customer_data(ledger: Ledger, name: str) -> CustomerData:
    """Everything on a customer; LedgerError where no order carries the name."""
    with ledger.reading() as connection:
        return _data(connection, name)


def erase_customer(ledger: Ledger, name: str, *, who: str, reason: str) -> Erased:
    """Put a pseudonym in place of a customer, in records and history, in one transaction.

    Contact and note of the orders go. LedgerError where no order carries the name or no reason
    is given. Backups made before still hold the name: they are the owner's to replace.
    """
    order = record_kind("order")
    deed = deed_of(order, who, "corrected", reason)
    if name.lower() in reason.lower():
        raise LedgerError(
            say("the reason names the customer"),
            place=(order.name, REASON.name),
            remedy=say("Write it without the name: it stays in the history."),
        )
    with ledger.writing() as connection:
        found = _data(connection, name)
        pseudonym = f"customer {secrets.token_hex(4)}"
        codes = [str(row["code"]) for row in found.orders]
        if is_sqlite(connection):
            connection.exec_driver_sql("PRAGMA secure_delete=ON")
        _rewrite_history(connection, codes, name, pseudonym)
        table = TABLES["order"]
        for code in codes:
            row = connection.execute(select(table).where(table.c.code == code)).mappings().one()
            connection.execute(update(table).where(table.c.code == code).values(customer=pseudonym))
            if row["withdrawn"]:
                empty: dict[str, Any] = dict.fromkeys(_TELLING)
                connection.execute(update(table).where(table.c.code == code).values(**empty))
                continue
            # The pseudonym with a mark of its own makes this a version, with who and why.
            changes = {"customer": f"{pseudonym} (erased)", **dict.fromkeys(_TELLING)}
            new_version(connection, order, code, changes, deed, None)
    _leave_nothing_behind(ledger)
    papers = [
        say(
            "certificate {code} of {instrument}, {day}",
            code=str(row["code"]),
            instrument=str(row["instrument"]),
            day=str(row["day"]),
        )
        for row in found.certificates
    ]
    papers += [
        say("quotation of order {code}, {day}", code=str(row["code"]), day=str(row["quoted"]))
        for row in found.orders
        if row.get("quoted")
    ]
    return Erased(f"{pseudonym} (erased)", codes, papers, found.named_in)


def _data(connection: Connection, name: str) -> CustomerData:
    orders = _rows(connection, "order", "customer", [name])
    if not orders:
        raise LedgerError(
            say("no order is of the customer '{name}'", name=name[:60]),
            place=say("ledger"),
            remedy=say("List the names with `borewright ledger customers`."),
        )
    codes = [str(row["code"]) for row in orders]
    instruments = _rows(connection, "instrument", "order", codes)
    serials = [str(row["code"]) for row in instruments]
    entries = connection.execute(
        select(history).where(history.c.kind == "order", history.c.code.in_(codes))
    ).mappings()
    return CustomerData(
        customer=name,
        orders=orders,
        instruments=instruments,
        services=_rows(connection, "service", "instrument", serials),
        certificates=_rows(connection, "certificate", "instrument", serials),
        history=[
            {"code": e["code"], "version": e["version"], "at": e["at"], "who": e["who"],
             "action": e["action"], "reason": e["reason"], "said": json.loads(e["data"])}
            for e in entries
        ],
        named_in=_named_in(connection, name, set(codes)),
    )  # fmt: skip


def _rows(
    connection: Connection, name: str, column: str, values: Sequence[str]
) -> list[dict[str, Any]]:
    kind, table = RECORD_KINDS[name], TABLES[name]
    found: list[dict[str, Any]] = []
    for start in range(0, len(values), _CHUNK):
        asked = table.c[column].in_(values[start : start + _CHUNK])
        for row in connection.execute(select(table).where(asked)).mappings():
            known = {field.name: as_json(row[field.name]) for field in kind.fields}
            found.append({"code": row["code"], **known})
    return found


def _named_in(connection: Connection, name: str, orders: set[str]) -> list[str]:
    """Records (table and code) in whose texts the name stands, other than the orders themselves."""
    found = []
    like = f"%{name.replace(chr(92), chr(92) * 2).replace('%', chr(92) + '%')}%"
    for kind in RECORD_KINDS.values():
        table = TABLES[kind.name]
        texts = [f.name for f in kind.fields if f.kind in (Kind.TEXT, Kind.NOTE)]
        if not texts:
            continue
        matches = or_(*[cast(table.c[one], String).like(like, escape="\\") for one in texts])
        for code in connection.execute(select(table.c.code).where(matches)).scalars():
            if kind.name != "order" or code not in orders:
                found.append(f"{kind.name} {code}")
    return found


def _rewrite_history(
    connection: Connection, codes: Sequence[str], name: str, pseudonym: str
) -> None:
    with _unlocked(connection):
        for start in range(0, len(codes), _CHUNK):
            chosen = history.c.code.in_(codes[start : start + _CHUNK])
            query = select(history).where(history.c.kind == "order", chosen)
            for row in connection.execute(query).mappings().all():
                entry = dict(row)
                said = json.loads(entry["data"])
                said["customer"] = pseudonym
                for field in _TELLING:
                    said.pop(field, None)
                entry["data"] = json.dumps(said, ensure_ascii=False, sort_keys=True)
                entry["reason"] = entry["reason"].replace(name, pseudonym)[:200]
                values = {
                    "data": entry["data"], "reason": entry["reason"], "digest": seal_of(entry),
                }  # fmt: skip
                connection.execute(
                    update(history).where(history.c.id == entry["id"]).values(**values)
                )


@contextmanager
def _unlocked(connection: Connection) -> Iterator[None]:
    """The one time that history is changed: its trigger steps aside, inside the transaction."""
    if not is_sqlite(connection):
        connection.exec_driver_sql("ALTER TABLE history DISABLE TRIGGER history_no_update")
        yield
        connection.exec_driver_sql("ALTER TABLE history ENABLE TRIGGER history_no_update")
        return
    made = connection.exec_driver_sql(
        "SELECT sql FROM sqlite_master WHERE name = 'history_no_update'"
    ).scalar_one()
    connection.exec_driver_sql("DROP TRIGGER history_no_update")
    yield
    connection.exec_driver_sql(made)


def _leave_nothing_behind(ledger: Ledger) -> None:
    """Let SQLite write its file anew: what was erased is then in none of its pages."""
    if ledger.engine.dialect.name != "sqlite":
        return
    with ledger.engine.connect() as connection:
        cursor = connection.connection.cursor()
        cursor.execute("VACUUM")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        cursor.close()
