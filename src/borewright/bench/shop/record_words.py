"""The ledger's tables, fields and values in the words of the page."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from borewright.bench.words import _
from borewright.bench.words.rooms import number_said, said
from borewright.ledger.fields import Field, Kind, RecordKind, shown


def nouns() -> dict[str, str]:
    """What one record of each table is called."""
    return {
        "setting": _("setting"),
        "order": _("order"),
        "source": _("keywork source"),
        "quote": _("quote"),
        "sample": _("keywork set"),
        "measurement": _("measurement"),
        "lever": _("lever"),
        "trial": _("trial"),
        "criterion": _("criterion"),
        "score": _("score"),
        "lot": _("lot"),
        "design": _("design"),
        "batch": _("batch"),
        "printer": _("printer"),
        "print_job": _("print job"),
        "instrument": _("instrument"),
        "part": _("printed part"),
        "assembly": _("assembly"),
        "labour": _("labour"),
        "check": _("check"),
        "service": _("service visit"),
        "expense": _("expense"),
    }


def noun(kind: str) -> str:
    """What one record of a table is called; the table's own name where there is no word."""
    return nouns().get(kind, kind.replace("_", " "))


def tables() -> dict[str, str]:
    """Every table with what stands in it, for a choice."""
    from borewright.ledger import RECORD_KINDS

    return {name: upper(f"{noun(name)}: {said(kind.words)}") for name, kind in RECORD_KINDS.items()}


def upper(words: str) -> str:
    """Words with a large first letter."""
    return words[:1].upper() + words[1:]


def label(field: Field) -> str:
    """What a field is called on the page."""
    return upper(said(field.words))


def code_label(kind: RecordKind) -> str:
    """What the record's own code is called."""
    return upper(said(kind.code_words))


def choice_words(value: str) -> str:
    """One of the values a field may have, in the page's language."""
    return said(value)


def typed_text(field: Field, value: Any) -> str:
    """A value as somebody would type it, with the comma where the language writes one."""
    text = shown(value)
    return number_said(text) if field.kind in (Kind.FIGURE, Kind.MONEY) else text


def value_words(field: Field, value: Any) -> str:
    """A value as it is read: choices, yes and no in words, a kept file by its first signs."""
    if value is None or value == "":
        return "–"
    if field.kind is Kind.YES_NO:
        return _("yes") if value else _("no")
    if field.kind is Kind.CHOICE:
        return choice_words(str(value))
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
