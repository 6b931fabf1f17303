"""A record as a typed object, and its table read off its class.

A kind of record is one frozen dataclass: the annotation of a field says what it may hold, and
:class:`Is` what it is in a craftsman's words. The table, the forms and the CSV columns follow
from it.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import (
    Annotated,
    Any,
    ClassVar,
    Self,
    TypeVar,
    Union,
    dataclass_transform,
    get_args,
    get_origin,
    get_type_hints,
)

from borewright.ledger.fields import Field, Kind, RecordKind
from borewright.words import Choice, Message, say

_KINDS: dict[Any, Kind] = {
    str: Kind.TEXT,
    int: Kind.WHOLE,
    float: Kind.FIGURE,
    Decimal: Kind.MONEY,
    date: Kind.DAY,
    bool: Kind.YES_NO,
}
#: Where a record's code is nothing particular.
NUMBER = say("number of the record")


@dataclass(frozen=True)
class Is:
    """What a field is: its words, the record it leads to, the least number, another kind.

    ``bounds`` names those of :data:`borewright.model.bounds.BOUNDS`; ``currency`` tells that it
    is a currency's code.
    """

    words: Message
    link: str = ""
    lowest: float | None = None
    kind: Kind | None = None
    bounds: str = ""
    currency: bool = False


@dataclass(frozen=True, kw_only=True)
class Record:
    """What every record has besides its own fields."""

    kind: ClassVar[RecordKind]
    code: str
    version: int
    withdrawn: bool

    @classmethod
    def read(cls, row: Mapping[Any, Any]) -> Self:
        """The record of a table's row."""
        values = {field.name: _typed(field, row[field.name]) for field in cls.kind.fields}
        own = {name: row[name] for name in ("code", "version", "withdrawn")}
        return cls(**own, **values)


AnyRecord = TypeVar("AnyRecord", bound=Record)


@dataclass_transform(frozen_default=True, kw_only_default=True)
def record(
    name: str, noun: Message, words: Message, *, code: Message = NUMBER, named: bool = False
) -> Callable[[type[AnyRecord]], type[AnyRecord]]:
    """Make a class a kind of record; see :class:`RecordKind` for what the arguments mean."""

    def made(cls: type[AnyRecord]) -> type[AnyRecord]:
        own = list(cls.__annotations__)
        hints = get_type_hints(cls, include_extras=True)
        fields = tuple(_field(each, hints[each]) for each in own)
        cls.kind = RecordKind(name, noun, words, fields, code, named)
        return dataclass(frozen=True, kw_only=True)(cls)

    return made


def _field(name: str, hint: Any) -> Field:
    held, said = get_args(hint)[0], next(m for m in hint.__metadata__ if isinstance(m, Is))
    required = True
    if get_origin(held) in (Union, types.UnionType):
        required = type(None) not in get_args(held)
        held = get_args(held)[0]
    choices: tuple[Choice, ...] = ()
    if said.link:
        kind = Kind.LINK
    elif issubclass(held, Choice):
        kind, choices = Kind.CHOICE, tuple(held)
    else:
        kind = said.kind or _KINDS[held]
    return Field(
        name, kind, said.words, required, choices, said.link, said.lowest, said.bounds,
        said.currency,
    )  # fmt: skip


def _typed(field: Field, value: Any) -> Any:
    return type(field.choices[0])(value) if field.choices and value is not None else value


#: Text of several lines.
Note = Annotated[str | None, Is(say("anything worth remembering"), kind=Kind.NOTE)]
#: The currency that a record's amounts are in.
Currency = Annotated[str, Is(say("a currency's three letters, such as EUR"), currency=True)]
CurrencyIfAny = Annotated[
    str | None, Is(say("a currency's three letters, such as EUR"), currency=True)
]
