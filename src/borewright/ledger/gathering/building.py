"""A new ledger made of what could be read, whole in itself, with a list of what is lost."""

from __future__ import annotations

import hashlib
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Connection, insert, update

from borewright.ledger.fields import Field, Kind, RecordKind, Value
from borewright.ledger.gathering.readable import Gleaned, values_of
from borewright.ledger.kinds import RECORD_KINDS
from borewright.ledger.schema import TABLES, counters, history, stored_files
from borewright.ledger.writing import seal_of, snapshot
from borewright.words import Message, say

_CHUNK = 500
_STAND_IN = b"This file could not be read when the ledger was gathered.\n"
_STAND_IN_SHA256 = hashlib.sha256(_STAND_IN).hexdigest()
#: What the history says of versions that were not in it any more. English, as all reasons of
#: the program itself: it is kept, not shown in a language.
_REASON = "gathered from a damaged ledger: what this version said is lost"
_FROM_ROW = "gathered from a damaged ledger: its history is lost"
_FILE_LOST = "gathered from a damaged ledger: its kept file is lost"
_ONLY_CODE = "gathered from a damaged ledger: only its code is known"


class Rebuilt:
    """Records and history as they will be written."""

    def __init__(self, found: Gleaned, who: str) -> None:
        self.found = found
        self.who = who
        self.lost: list[Message] = list(found.lost)
        self.records: dict[tuple[str, str], dict[str, Any]] = {}
        self.entries: list[dict[str, Any]] = []
        self.stand_in = False
        self._at = datetime.now(UTC).isoformat(timespec="microseconds")
        self._taken = {v.number for each in found.versions.values() for v in each.values()}
        self._next = max(self._taken, default=0)
        for key in sorted({*found.versions, *found.rows}):
            self._record(*key)
        self._mend_files()
        self._mend_links()
        self._number()

    def _record(self, name: str, code: str) -> None:
        kind = RECORD_KINDS[name]
        versions = self.found.versions.get((name, code), {})
        row = self.found.rows.get((name, code))
        newest = max(versions, default=0)
        if row is not None and row["version"] > newest:
            record = dict(row)
            self._lost_versions(name, code, versions, row["version"] - 1)
            self._enter(name, code, row["version"], _FROM_ROW, snapshot(kind, record),
                        "withdrawn" if row["withdrawn"] else None)  # fmt: skip
            self.lost.append(
                say("{kind} {code}: version {version} is known from its row alone",
                    kind=name, code=code, version=row["version"])
            )  # fmt: skip
        else:
            version = versions[newest]
            values = values_of(kind, version.data)
            assert values is not None  # looked at when it was read
            record = {
                **values,
                "id": row["id"] if row else 0,
                "code": code,
                "version": newest,
                "withdrawn": version.action == "withdrawn",
            }
            self._lost_versions(name, code, versions, newest)
            if snapshot(kind, record) != version.data:
                self._append(record, kind, _FROM_ROW)
            if row is not None and row["version"] == newest and row != record | {"id": row["id"]}:
                self.lost.append(
                    say("{kind} {code}: its row was damaged; the history's version stands",
                        kind=name, code=code)
                )  # fmt: skip
        self.records[name, code] = record
        for version in versions.values():
            self.entries.append(
                {"id": version.number, "kind": name, "code": code, "version": version.version,
                 "at": version.at, "who": version.who, "action": version.action,
                 "reason": version.reason, "data": version.data}
            )  # fmt: skip

    def _lost_versions(self, name: str, code: str, known: dict[int, Any], newest: int) -> None:
        for version in range(1, newest + 1):
            if version not in known:
                self._enter(name, code, version, _REASON, "{}")
                self.lost.append(
                    say("{kind} {code}: what version {version} said is lost",
                        kind=name, code=code, version=version)
                )  # fmt: skip

    def _enter(
        self, name: str, code: str, version: int, reason: str, data: str, action: str | None = None
    ) -> None:
        self._next += 1
        action = action or ("added" if version == 1 else "corrected")
        self.entries.append(
            {"id": self._next, "kind": name, "code": code, "version": version, "at": self._at,
             "who": self.who, "action": action, "reason": reason, "data": data}
        )  # fmt: skip

    def _append(self, record: dict[str, Any], kind: RecordKind, reason: str) -> None:
        """A further version, for what has to be said anew."""
        record["version"] += 1
        action = "withdrawn" if record["withdrawn"] else "corrected"
        code, version = str(record["code"]), int(record["version"])
        self._enter(kind.name, code, version, reason, snapshot(kind, record), action)

    def _mend_files(self) -> None:
        for (name, code), record in self.records.items():
            kind, gone = RECORD_KINDS[name], []
            for field in kind.fields:
                sha256 = record[field.name]
                if field.kind is Kind.FILE and sha256 and sha256 not in self.found.files:
                    gone.append(field)
            for field in gone:
                self.lost.append(
                    say("{kind} {code}: the kept file of '{field}' is lost",
                        kind=name, code=code, field=field.name)
                )  # fmt: skip
                record[field.name] = _STAND_IN_SHA256 if field.required else None
                self.stand_in |= field.required
            if gone:
                self._append(record, kind, _FILE_LOST)

    def _mend_links(self) -> None:
        waiting = list(self.records.values())
        names = [name for name, _ in self.records]
        while waiting:
            record, name = waiting.pop(), names.pop()
            for field in RECORD_KINDS[name].fields:
                code = record[field.name]
                if field.kind is not Kind.LINK or code is None:
                    continue
                if (field.link, code) in self.records:
                    continue
                standing = self._placeholder(field.link, str(code))
                waiting.append(standing)
                names.append(field.link)

    def _placeholder(self, name: str, code: str) -> dict[str, Any]:
        kind = RECORD_KINDS[name]
        record: dict[str, Any] = {each.name: self._nothing(each) for each in kind.fields}
        record |= {"id": 0, "code": code, "version": 1, "withdrawn": True}
        self.records[name, code] = record
        self._enter(name, code, 1, _ONLY_CODE, snapshot(kind, record), "withdrawn")
        self.lost.append(say("{kind} {code}: only its code is known", kind=name, code=code))
        return record

    def _nothing(self, field: Field) -> Value:
        if not field.required:
            return None
        if field.kind is Kind.FILE:
            self.stand_in = True
            return _STAND_IN_SHA256
        if field.kind is Kind.CHOICE:
            return field.choices[0].value
        empty: dict[Kind, Value] = {
            Kind.WHOLE: 1, Kind.FIGURE: 1.0, Kind.MONEY: Decimal(0), Kind.DAY: date(1900, 1, 1),
            Kind.YES_NO: False,
        }  # fmt: skip
        return empty.get(field.kind, "?")

    def _number(self) -> None:
        for name in RECORD_KINDS:
            of_kind = [each for (kind, _), each in self.records.items() if kind == name]
            seen: set[int] = set()
            for record in of_kind:
                if record["id"] in seen:
                    record["id"] = 0
                seen.add(record["id"])
            last = max(seen, default=0)
            for record in of_kind:
                if not record["id"]:
                    last += 1
                    record["id"] = last

    def write(self, connection: Connection) -> None:
        """Write everything into an empty ledger."""
        files = dict(self.found.files)
        if self.stand_in:
            files[_STAND_IN_SHA256] = ("lost.txt", _STAND_IN)
        _insert(
            connection,
            stored_files,
            [{"sha256": sha, "name": name, "content": c} for sha, (name, c) in files.items()],
        )
        connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        for name in RECORD_KINDS:
            rows = [each for (kind, _), each in self.records.items() if kind == name]
            _insert(connection, TABLES[name], sorted(rows, key=lambda row: row["id"]))
            last = max((row["id"] for row in rows), default=0)
            _count(connection, name, last)
        entries = self._entries()
        _insert(connection, history, [one | {"digest": seal_of(one)} for one in entries])
        _count(connection, "history", max((entry["id"] for entry in entries), default=0))

    def _entries(self) -> list[dict[str, Any]]:
        """The history, each entry with a number of its own."""
        seen: set[int] = set()
        for entry in self.entries:
            if entry["id"] in seen:
                self._next += 1
                entry["id"] = self._next
            seen.add(entry["id"])
        return sorted(self.entries, key=lambda entry: entry["id"])


def _count(connection: Connection, name: str, last: int) -> None:
    connection.execute(update(counters).where(counters.c.name == name).values(last=last))


def _insert(connection: Connection, table: Any, rows: list[dict[str, Any]]) -> None:
    for start in range(0, len(rows), _CHUNK):
        connection.execute(insert(table), rows[start : start + _CHUNK])
