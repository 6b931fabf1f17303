"""What a column of the ledger may hold, and how a person's text becomes such a value."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from functools import cache
from typing import Any

from borewright.errors import LedgerError
from borewright.model.bounds import refusal
from borewright.words import Choice, Message, Place, joined, say, say_as

LONGEST_TEXT = 200  # letters; also keeps every indexed value within what a server can index
LONGEST_NOTE = 2_000_000
LARGEST_WHOLE = 2**31 - 1
#: Days that a workshop's book can hold (from memory: nothing in it is older or later).
FIRST_DAY, LAST_DAY = date(1900, 1, 1), date(2200, 12, 31)
_MONEY = re.compile(r"[+-]?\d{1,13}([.,]\d{1,6})?")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_YES = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}


class Kind(Choice):
    """Kinds of value; MONEY is exact, FIGURE is a measured number."""

    TEXT = "text", say_as("field", "text")
    NOTE = "note", say_as("field", "note")
    CHOICE = "choice", say_as("field", "choice")
    WHOLE = "whole number", say_as("field", "whole number")
    FIGURE = "figure", say_as("field", "figure")
    MONEY = "money", say_as("field", "money")
    DAY = "day", say_as("field", "day")
    YES_NO = "yes or no", say_as("field", "yes or no")
    LINK = "link", say_as("field", "link")
    FILE = "file", say_as("field", "file")


Value = str | int | float | Decimal | date | bool | None


@dataclass(frozen=True)
class Field:
    """One column: its name (with the unit), kind, and what it is in a craftsman's words.

    ``link`` names the kind of record that a LINK leads to; ``lowest`` bounds numbers from below;
    ``bounds`` names those of the table of plausible figures; ``currency`` is one by ISO 4217.
    """

    name: str
    kind: Kind
    words: Message
    required: bool = False
    choices: tuple[Choice, ...] = ()
    link: str = ""
    lowest: float | None = None
    bounds: str = ""
    currency: bool = False


@dataclass(frozen=True)
class RecordKind:
    """One table of the ledger.

    ``noun`` is what one record of it is called; ``code_words`` says what the record's own code
    is (a serial number, say); where a code ``must_be_named`` the ledger never makes one up.
    """

    name: str
    noun: Message
    words: Message
    fields: tuple[Field, ...]
    code_words: Message
    must_be_named: bool = False

    def field(self, name: str) -> Field:
        """The field of this name; LedgerError lists those there are."""
        for field in self.fields:
            if field.name == name:
                return field
        raise LedgerError(
            say("there is no field '{name}'", name=name[:60]),
            place=self.name,
            remedy=self.fields_there_are,
        )

    @property
    def fields_there_are(self) -> Message:
        """Which names a row of this table may use."""
        names = joined((field.name for field in self.fields), ", ")
        return say("Fields are: code, {names}.", names=names)


def read_value(record: str, field: Field, raw: Any) -> Value:
    """A value as the ledger keeps it, from text or from a value of the right kind.

    Empty text is "not known", None. Raises LedgerError with the record's kind and field.
    """
    place = (record, field.name)
    if isinstance(raw, str):
        raw = _cleaned(field, raw, place)
    if raw is None or raw == "":
        if field.required:
            raise LedgerError(say("is missing"), place=place, remedy=_give(field))
        return None
    value: Value = _READERS[field.kind](field, raw, place)
    bounded = field.lowest is not None and isinstance(value, int | float | Decimal)
    if bounded and value < field.lowest:  # type: ignore[operator]
        raise LedgerError(
            say("{given} is below {lowest:g}", given=str(raw), lowest=field.lowest),
            place=place,
            remedy=_give(field),
        )
    _check_plausible(field, value, place)
    return value


def _check_plausible(field: Field, value: Value, place: Place) -> None:
    """Raise LedgerError for a figure, day or currency that cannot be."""
    if field.bounds and isinstance(value, int | float | Decimal):
        found = refusal(field.bounds, float(value))
        if found is not None:
            raise LedgerError(found[0], place=place, remedy=found[1])
    if isinstance(value, date) and not FIRST_DAY <= value <= LAST_DAY:
        raise LedgerError(
            say("{day} is no day of a workshop's book", day=value.isoformat()),
            place=place,
            remedy=say(
                "Write a day from {first} to {last}.",
                first=FIRST_DAY.isoformat(),
                last=LAST_DAY.isoformat(),
            ),
        )
    if field.currency and value is not None and str(value) not in currencies():
        raise LedgerError(
            say("'{given}' is no currency", given=str(value)[:20]),
            place=place,
            remedy=_currency_meant(str(value)),
        )


@cache
def currencies() -> frozenset[str]:
    """Codes of currencies (ISO 4217, as the Unicode CLDR of Babel lists them)."""
    from babel.core import Locale

    return frozenset(str(code) for code in Locale("en").currencies)


def _currency_meant(text: str) -> Message:
    close = text.strip().upper()
    if close in currencies():
        return say("Write {code}.", code=close)
    return say("Write its three capital letters by ISO 4217, such as EUR.")


def _give(field: Field) -> Message:
    return say("Give {what}.", what=field.words)


def shown(value: Value) -> str:
    """A value as text that :func:`read_value` reads back to the same value."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, float):
        return repr(value)
    return value.isoformat() if isinstance(value, date) else str(value)


def as_json(value: Value) -> str | int | float | bool | None:
    """A value for JSON; exact money and days become text."""
    return shown(value) if isinstance(value, Decimal | date) else value


def code_value(record: RecordKind, raw: Any) -> str | None:
    """A record's code: one short line, or None where the ledger may number it itself."""
    field = Field("code", Kind.TEXT, record.code_words, required=record.must_be_named)
    value = read_value(record.name, field, raw)
    return None if value is None else str(value)


def _cleaned(field: Field, raw: str, place: Place) -> str:
    longest = LONGEST_NOTE if field.kind is Kind.NOTE else LONGEST_TEXT
    if len(raw) > longest:
        raise LedgerError(
            say(
                "is {letters} letters long, and at most {most} are kept",
                letters=len(raw),
                most=longest,
            ),
            place=place,
            remedy=say("Shorten it, or keep the long text in a field called note."),
        )
    try:
        raw.encode("utf-8")
    except UnicodeEncodeError as error:
        raise LedgerError(
            say("is not sound Unicode text"),
            place=place,
            remedy=say("Type the text anew."),
        ) from error
    text = unicodedata.normalize("NFC", raw)
    if field.kind is Kind.NOTE:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
        allowed = "\n\t"
    else:
        text, allowed = text.strip(), ""
    for letter in text:
        if unicodedata.category(letter) in ("Cc", "Zl", "Zp") and letter not in allowed:
            raise LedgerError(
                say("holds the control character {sign}", sign=repr(letter)),
                place=place,
                remedy=say("Remove it; a field called note may have several lines."),
            )
    return text


def _wrong(raw: Any, place: Place, remedy: Message) -> LedgerError:
    cause = say("'{given}' cannot be used", given=str(raw)[:40])
    return LedgerError(cause, place=place, remedy=remedy)


def _text(field: Field, raw: Any, place: Place) -> str:
    if not isinstance(raw, str):
        raise _wrong(raw, place, say("Write text."))
    return raw


def _choice(field: Field, raw: Any, place: Place) -> str:
    if raw not in field.choices:
        # Told as they are typed: a choice is picked from a list wherever it has other words.
        choices = joined((choice.value for choice in field.choices), ", ")
        raise _wrong(raw, place, say("Write one of: {choices}.", choices=choices))
    return str(raw)


def _whole(field: Field, raw: Any, place: Place) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int | str):
        raise _wrong(raw, place, say("Write a whole number such as 12."))
    if isinstance(raw, str) and not re.fullmatch(r"[+-]?\d{1,10}", raw):
        raise _wrong(raw, place, say("Write a whole number such as 12."))
    value = int(raw)
    if abs(value) > LARGEST_WHOLE:
        raise _wrong(raw, place, say("Write a whole number up to {most}.", most=LARGEST_WHOLE))
    return value


def _figure(field: Field, raw: Any, place: Place) -> float:
    like = say("Write a number such as 12.5 or 12,5, without its unit.")
    if isinstance(raw, bool) or not isinstance(raw, int | float | Decimal | str):
        raise _wrong(raw, place, like)
    text = raw.replace("\u2212", "-") if isinstance(raw, str) else raw
    if isinstance(text, str) and text.count(",") == 1 and "." not in text:
        text = text.replace(",", ".")
    if isinstance(text, str) and not re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", text):
        raise _wrong(raw, place, like)
    value = float(text)
    if not math.isfinite(value):
        raise _wrong(raw, place, like)
    return value + 0.0  # minus zero becomes zero: not every database keeps its sign


def _money(field: Field, raw: Any, place: Place) -> Decimal:
    like = say("Write an amount such as 12.50, without its currency.")
    if isinstance(raw, bool) or not isinstance(raw, int | Decimal | str):
        raise _wrong(raw, place, like)
    text = f"{raw:f}" if isinstance(raw, Decimal) and raw.is_finite() else str(raw)
    if not _MONEY.fullmatch(text):
        raise _wrong(raw, place, like)
    try:
        return Decimal(text.replace(",", "."))
    except InvalidOperation as error:
        raise _wrong(raw, place, like) from error


def _day(field: Field, raw: Any, place: Place) -> date:
    if isinstance(raw, date):
        return raw
    try:
        if not _DAY.fullmatch(str(raw)):
            raise ValueError(raw)
        return date.fromisoformat(str(raw))
    except ValueError as error:
        raise _wrong(
            raw, place, say("Write a day as year-month-day, such as 2031-04-09.")
        ) from error


def _yes_no(field: Field, raw: Any, place: Place) -> bool:
    if isinstance(raw, bool):
        return raw
    if str(raw).lower() not in _YES:
        raise _wrong(raw, place, say("Write yes or no."))
    return _YES[str(raw).lower()]


def _file(field: Field, raw: Any, place: Place) -> str:
    if not isinstance(raw, str) or not re.fullmatch(r"[0-9a-f]{64}", raw):
        raise _wrong(raw, place, say("Write the SHA-256 of a kept file, 64 signs of 0-9 and a-f."))
    return raw


_READERS: dict[Kind, Callable[[Field, Any, Place], Value]] = {
    Kind.TEXT: _text,
    Kind.NOTE: _text,
    Kind.CHOICE: _choice,
    Kind.WHOLE: _whole,
    Kind.FIGURE: _figure,
    Kind.MONEY: _money,
    Kind.DAY: _day,
    Kind.YES_NO: _yes_no,
    Kind.LINK: _text,
    Kind.FILE: _file,
}
