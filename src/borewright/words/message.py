"""What is said, as data: a template that is its own key, the values in it, nothing rendered.

The template is the English sentence with places in Python's format syntax. A value may be a
number (told with the reader's decimal sign), a name that somebody gave or a path (``str``,
``Path``: never translated), a day (as ISO 8601 writes it, in every language), an enumeration
that has a message as its ``words``, or another message.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import lru_cache
from numbers import Real
from pathlib import Path
from string import Formatter
from typing import Annotated, Any

from pydantic_core import core_schema

_KINDS = (str, Real, Decimal, date, Path, Enum)


class _Serial:
    """Pydantic fields hold what is said; JSON gets English, or with context the data itself."""

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(
            _read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                _write, info_arg=True, when_used="json"
            ),
        )


@dataclass(frozen=True, slots=True)
class Message(_Serial):
    """One sentence or word as data.

    ``template`` is the English text and the key of the catalogue; ``plural`` its form for any
    count but 1, where it counts (``values`` then holds ``count``); ``context`` tells apart what
    English writes alike. ``str()`` tells it in English.
    """

    template: str
    values: tuple[tuple[str, Any], ...] = ()
    plural: str = ""
    context: str = ""

    def value(self, name: str) -> Any:
        """The value of one place; KeyError if there is no such place."""
        return dict(self.values)[name]

    def as_data(self) -> dict[str, Any]:
        """Key and values for JSON, told again by any reader after :func:`said_from_data`."""
        data: dict[str, Any] = {"key": self.template}
        if self.values:
            data["values"] = {name: _value_data(value) for name, value in self.values}
        if self.plural:
            data["plural"] = self.plural
        if self.context:
            data["context"] = self.context
        return data

    def __str__(self) -> str:
        return _ENGLISH.tell(self)


@dataclass(frozen=True, slots=True)
class Joined(_Serial):
    """Several things said, one after the other: sentences, clauses, or a list in words.

    ``joint`` stands between them as it is; "and" and "or" make a list in the reader's language.
    """

    items: tuple[Text, ...]
    joint: str = " "

    def as_data(self) -> dict[str, Any]:
        """The items for JSON."""
        return {"joined": [_value_data(item) for item in self.items], "joint": self.joint}

    def __str__(self) -> str:
        return _ENGLISH.tell(self)


class Teller:
    """Tells messages in English; a reader of another language replaces what differs there."""

    def __init__(self) -> None:
        self._filler = _Filler(self)

    def tell(self, said: Text) -> str:
        """What is said, in this language; a bare name stays as it is."""
        if isinstance(said, Enum):
            said = said.words if hasattr(said, "words") else str(said.value)
        if isinstance(said, str):
            return said
        if isinstance(said, Joined):
            return self._tell_joined(said)
        return self._filler.vformat(self._found(said), (), dict(said.values))

    def place(self, place: Text | Place) -> str:
        """A place with its steps, from the outside in."""
        if isinstance(place, tuple):
            return ", ".join(told for told in map(self.tell, place) if told)
        return self.tell(place)

    def number(self, value: float | Decimal, spec: str = "") -> str:
        """A number as this language writes it; ``spec`` as in Python's format."""
        return format(value, spec)

    def _found(self, message: Message) -> str:
        """The template in this language."""
        counted = message.plural and message.value("count") != 1
        return message.plural if counted else message.template

    def _tell_joined(self, said: Joined) -> str:
        told = [self.tell(item) for item in said.items]
        if said.joint not in _LISTS or len(told) < 2:
            return (", " if said.joint in _LISTS else said.joint).join(told)
        template = self._found(_LISTS[said.joint])
        return template.format(items=", ".join(told[:-1]), last=told[-1])


class _Filler(Formatter):
    """Fills a template's places; numbers and messages as the reader is told them."""

    def __init__(self, teller: Teller) -> None:
        self._teller = teller

    def get_value(self, key: int | str, args: Any, kwargs: Mapping[str, Any]) -> Any:
        return kwargs[key]  # type: ignore[index]

    def format_field(self, value: Any, format_spec: str) -> str:
        if isinstance(value, Enum):
            value = value.words  # type: ignore[attr-defined]
        if isinstance(value, Message | Joined):
            return self._teller.tell(value)
        if isinstance(value, Real | Decimal):
            return self._teller.number(value, format_spec)  # type: ignore[arg-type]
        return format(str(value), format_spec)


class _Somewhere:
    """Pydantic fields that hold bare names, things said, or a place's steps."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(
            _read_place,
            serialization=core_schema.plain_serializer_function_ser_schema(
                _write_place, info_arg=True, when_used="json"
            ),
        )


#: What is said; what may also be a bare name that somebody gave.
Said = Message | Joined
Text = Annotated[Message | Joined | str, _Somewhere()]
#: Where it is said of: steps from the outside in, such as file, part, key.
Place = tuple[Text, ...]
#: A place in a field of a result; JSON holds it as one text.
Where = Annotated[Text | Place, _Somewhere()]


def say(template: str, /, **values: Any) -> Message:
    """A message; TypeError where its values are not those of its places."""
    return _checked(Message(template, tuple(values.items())), _places(template))


def say_many(one: str, many: str, count: int, /, **values: Any) -> Message:
    """A message that counts: ``one`` for 1, ``many`` otherwise; both may show ``{count}``."""
    message = Message(one, (("count", count), *values.items()), plural=many)
    return _checked(message, _places(one) | _places(many) | {"count"})


def say_as(context: str, template: str, /, **values: Any) -> Message:
    """A message whose English means several things: ``context`` says which is meant."""
    message = Message(template, tuple(values.items()), context=context)
    return _checked(message, _places(template))


def given(text: str) -> Message:
    """Words that somebody else wrote, such as a person's note: told as they are."""
    return Message("{given}", (("given", text),))


def joined(items: Iterable[Text], joint: str = " ") -> Joined:
    """Things said one after the other, with ``joint`` between them."""
    return Joined(tuple(items), joint)


def listed(items: Iterable[Text], joint: str = "and") -> Joined:
    """A list in words, such as "a, b and c"; ``joint`` is "and" or "or"."""
    if joint not in ("and", "or"):
        raise TypeError(f"a list is joined by 'and' or 'or', not {joint!r}")
    return Joined(tuple(items), joint)


def place_of(place: Text | Place) -> Place:
    """A place as its steps; an empty text is nowhere."""
    if isinstance(place, tuple):
        return place
    return (place,) if place else ()


def said_from_data(data: Mapping[str, Any]) -> Said:
    """What was said, from :meth:`Message.as_data` or :meth:`Joined.as_data`."""
    if "joined" in data:
        return Joined(tuple(_value_from(item) for item in data["joined"]), data["joint"])
    values = tuple((name, _value_from(value)) for name, value in data.get("values", {}).items())
    return Message(data["key"], values, data.get("plural", ""), data.get("context", ""))


@lru_cache(maxsize=8192)
def _places(template: str) -> frozenset[str]:
    return frozenset(name for _, name, _, _ in Formatter().parse(template) if name is not None)


def _checked(message: Message, places: frozenset[str]) -> Message:
    names = {name for name, _ in message.values}
    if names != places:
        raise TypeError(
            f"{message.template!r} has the places {sorted(places)}, not {sorted(names)}"
        )
    for name, value in message.values:
        if isinstance(value, bool) or not isinstance(value, (*_KINDS, Message, Joined)):
            raise TypeError(f"{message.template!r}: {name} cannot be told: {value!r}")
        if isinstance(value, Enum) and not isinstance(getattr(value, "words", None), Message):
            raise TypeError(f"{message.template!r}: {value!r} has no message as its words")
    return message


def _value_data(value: Any) -> Any:
    if isinstance(value, Message | Joined):
        return value.as_data()
    if isinstance(value, Enum):
        return value.words.as_data()  # type: ignore[attr-defined]
    if isinstance(value, Decimal):
        return {"decimal": str(value)}
    return value if isinstance(value, int | float | str) else str(value)


def _value_from(value: Any) -> Any:
    if isinstance(value, Mapping):
        return Decimal(value["decimal"]) if "decimal" in value else said_from_data(value)
    return value


def _read(value: Any) -> Said:
    if isinstance(value, Message | Joined):
        return value
    if isinstance(value, str):
        return given(value)
    if isinstance(value, Mapping):
        try:
            return said_from_data(value)
        except (LookupError, TypeError, AttributeError, ArithmeticError, ValueError) as error:
            # A table that somebody wrote where a sentence belongs.
            raise ValueError("is neither a message nor the data of one") from error
    raise ValueError("is neither a message nor the data of one")


def _write(value: Said, info: Any) -> Any:
    as_data = isinstance(info.context, Mapping) and info.context.get("messages") == "data"
    return value.as_data() if as_data else str(value)


def _read_place(value: Any) -> Text | Place:
    if isinstance(value, list | tuple):
        return tuple(value if isinstance(value, str) else _read(value) for value in value)
    return value if isinstance(value, str) else _read(value)


def _write_place(value: Text | Place, info: Any) -> Any:
    if not (isinstance(info.context, Mapping) and info.context.get("messages") == "data"):
        return _ENGLISH.place(value)
    return [_value_data(step) for step in value] if isinstance(value, tuple) else _value_data(value)


_LISTS = {
    "and": say("{items} and {last}", items="", last=""),
    "or": say("{items} or {last}", items="", last=""),
}
_ENGLISH = Teller()
