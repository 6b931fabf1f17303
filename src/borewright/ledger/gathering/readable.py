"""Rows found in a damaged ledger or backup, and whether they say what their table can hold."""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from borewright.ledger.fields import LARGEST_WHOLE, Field, Kind, RecordKind, Value
from borewright.ledger.kinds import RECORD_KINDS
from borewright.ledger.writing import seal_of
from borewright.words import Message, say

_MONEY = re.compile(r"-?\d{1,13}(\.\d{1,6})?")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_ACTIONS = ("added", "corrected", "withdrawn")


@dataclass(frozen=True)
class Version:
    """One entry of the history whose text can be read."""

    number: int
    kind: str
    code: str
    version: int
    at: str
    who: str
    action: str
    reason: str
    data: str


@dataclass
class Gleaned:
    """Everything that could be read, and sentences about what could not."""

    versions: dict[tuple[str, str], dict[int, Version]] = field(default_factory=dict)
    rows: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)
    files: dict[str, tuple[str, bytes]] = field(default_factory=dict)
    lost: list[Message] = field(default_factory=list)

    def take(self, table: str, row: Mapping[str, Any]) -> bool:
        """Keep a row of a table; False where it makes no sense."""
        if table == "history":
            return self._take_version(row)
        if table == "stored_file":
            return self._take_file(row)
        if table == "counter" or table not in RECORD_KINDS:
            return True
        return self._take_row(RECORD_KINDS[table], row)

    def _take_version(self, row: Mapping[str, Any]) -> bool:
        found = version_of(row)
        if found is None:
            return False
        known = self.versions.setdefault((found.kind, found.code), {})
        known.setdefault(found.version, found)
        return True

    def _take_file(self, row: Mapping[str, Any]) -> bool:
        sha256, name, content = row.get("sha256"), row.get("name"), row.get("content")
        if isinstance(content, memoryview | bytearray):
            content = bytes(content)
        if not isinstance(content, bytes) or not isinstance(name, str):
            return False
        if hashlib.sha256(content).hexdigest() != sha256:
            return False
        self.files[str(sha256)] = (name[:200], content)
        return True

    def _take_row(self, kind: RecordKind, row: Mapping[str, Any]) -> bool:
        record = record_of(kind, row)
        if record is None:
            return False
        key = (kind.name, str(record["code"]))
        if key not in self.rows or self.rows[key]["version"] < record["version"]:
            self.rows[key] = record
        return True


def version_of(row: Mapping[str, Any]) -> Version | None:
    """An entry of the history, or None where a row is no such entry."""
    texts = [row.get(name) for name in ("kind", "code", "at", "who", "action", "reason", "data")]
    number, version = row.get("id"), row.get("version")
    if not all(isinstance(text, str) and "\0" not in text for text in texts):
        return None
    if not isinstance(number, int) or not isinstance(version, int):
        return None
    kind, code, at, who, action, reason, data = (str(text) for text in texts)
    if kind not in RECORD_KINDS or not code or action not in _ACTIONS:
        return None
    if not (0 < version < 1_000_000 and 0 < number < LARGEST_WHOLE):
        return None
    if values_of(RECORD_KINDS[kind], data) is None:
        return None
    if row.get("digest") not in (None, seal_of(row)):
        return None  # something in it, or its seal, is not what was written
    return Version(number, kind, code, version, at, who, action, reason, data)


def values_of(kind: RecordKind, data: str) -> dict[str, Value] | None:
    """The fields that a history's text holds; None where they make no sense."""
    try:
        said = json.loads(data)
    except (ValueError, RecursionError):
        return None
    if not isinstance(said, dict):
        return None
    if set(said) - {one.name for one in kind.fields}:
        return None
    try:
        return {one.name: typed(one, said.get(one.name)) for one in kind.fields}
    except ValueError:
        return None


def record_of(kind: RecordKind, row: Mapping[str, Any]) -> dict[str, Any] | None:
    """A record's row with typed values, or None where a value cannot be."""
    code, version, number = row.get("code"), row.get("version"), row.get("id")
    if not isinstance(code, str) or not code or "\0" in code:
        return None
    if not isinstance(version, int) or not 0 < version < 1_000_000:
        return None
    if not isinstance(number, int) or not 0 < number < LARGEST_WHOLE:
        return None
    if row.get("withdrawn") not in (0, 1, True, False):
        return None
    try:
        record: dict[str, Any] = {one.name: typed(one, row.get(one.name)) for one in kind.fields}
    except ValueError:
        return None
    return record | {
        "id": number, "code": code, "version": version, "withdrawn": bool(row["withdrawn"]),
    }  # fmt: skip


def typed(one: Field, raw: Any) -> Value:
    """A value as the database keeps it; ValueError where a field cannot hold it.

    Only whether it can be read: what today's rules would refuse may stand in an old record.
    """
    if raw is None:
        if one.required:
            raise ValueError(one.name)
        return None
    if one.kind in (Kind.FIGURE, Kind.WHOLE) and isinstance(raw, bool):
        raise ValueError(one.name)
    if one.kind is Kind.WHOLE and isinstance(raw, int) and abs(raw) <= LARGEST_WHOLE:
        return raw
    if one.kind is Kind.FIGURE and isinstance(raw, int | float) and math.isfinite(raw):
        return float(raw)
    if one.kind is Kind.YES_NO and raw in (0, 1, True, False):
        return bool(raw)
    if isinstance(raw, str) and "\0" not in raw:
        if one.kind is Kind.DAY:
            return date.fromisoformat(raw)
        if one.kind is Kind.MONEY and _MONEY.fullmatch(raw):
            return Decimal(raw)
        if one.kind is Kind.CHOICE and raw in one.choices:
            return raw
        if one.kind is Kind.FILE and _SHA256.fullmatch(raw):
            return raw
        if one.kind in (Kind.TEXT, Kind.NOTE, Kind.LINK):
            return raw
    raise ValueError(one.name)


def lost_row(table: str, where: Message) -> Message:
    """What is said of a row that could not be read."""
    return say("a row of the table '{table}' cannot be read ({where})", table=table, where=where)
