"""The ledger's tables, fields and values in the words of the page."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from borewright.bench.words import _
from borewright.ledger.fields import Field, Kind, RecordKind, shown
from borewright.ledger.kinds import RECORD_KINDS, record_kind


def noun(kind: str) -> str:
    """What one record of a table is called."""
    return _.tell(record_kind(kind).noun)


def tables() -> dict[str, str]:
    """Every table with what stands in it, for a choice."""
    return {
        name: upper(f"{noun(name)}: {_.tell(kind.words)}") for name, kind in RECORD_KINDS.items()
    }


def upper(words: str) -> str:
    """Words with a large first letter."""
    return words[:1].upper() + words[1:]


def label(field: Field) -> str:
    """What a field is called on the page."""
    return upper(_.tell(field.words))


def code_label(kind: RecordKind) -> str:
    """What the record's own code is called."""
    return upper(_.tell(kind.code_words))


def typed_text(field: Field, value: Any) -> str:
    """A value as somebody would type it, with the comma where the language writes one."""
    text = shown(value)
    figure = bool(text) and field.kind in (Kind.FIGURE, Kind.MONEY)
    return _.number(Decimal(text), "f") if figure else text


def value_words(field: Field, value: Any) -> str:
    """A value as it is read: choices, yes and no in words, a kept file by its first signs."""
    if value is None or value == "":
        return "–"
    if field.kind is Kind.YES_NO:
        return _("yes") if value else _("no")
    if field.kind is Kind.CHOICE:
        return _.tell(type(field.choices[0])(value).words)
    if field.kind is Kind.FILE:
        return f"{str(value)[:12]}…"
    return typed_text(field, value)


def differences(
    kind: RecordKind, before: Mapping[str, Any], after: Mapping[str, Any]
) -> list[tuple[Field, str, str]]:
    """Fields in which two versions differ, each with the words of before and after."""
    return [
        (
            field,
            value_words(field, before.get(field.name)),
            value_words(field, after.get(field.name)),
        )
        for field in kind.fields
        if before.get(field.name) != after.get(field.name)
    ]


def local_time(at: str) -> str:
    """A moment that the ledger keeps (UTC) in this machine's time, to the minute."""
    return f"{datetime.fromisoformat(at).astimezone():%Y-%m-%d %H:%M}"
