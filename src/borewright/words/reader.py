"""Somebody who reads: the language that messages and numbers are told in."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from enum import Enum
from functools import cache
from numbers import Real
from string import Formatter
from typing import Any

from borewright.words.message import Joined, Message, Place, Text, say, say_many
from borewright.words.translations import LANGUAGES, catalogue

_LISTS = {
    "and": say("{items} and {last}", items="", last=""),
    "or": say("{items} or {last}", items="", last=""),
}


class Reader:
    """Tells messages in one language.

    Called like a function it tells a surface's own words: ``words("Hole schedule")``.
    """

    def __init__(self, language: str = "en") -> None:
        if language not in LANGUAGES:
            raise ValueError(f"no language '{language}'; there are {', '.join(LANGUAGES)}")
        self.language = language
        self._filler = _Filler(self)

    def __call__(self, template: str, /, **values: Any) -> str:
        """A sentence of the surface itself, told at once."""
        return self.tell(say(template, **values))

    def many(self, one: str, many: str, count: int, /, **values: Any) -> str:
        """A sentence that counts, told at once."""
        return self.tell(say_many(one, many, count, **values))

    def tell(self, said: Text) -> str:
        """What is said, in this reader's language; a bare name stays as it is."""
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
        written = format(value, spec)
        if self.language == "en":
            return written
        decimal, group, percent = _signs(self.language)
        swapped = written.translate(str.maketrans({".": decimal, ",": group}))
        return swapped.replace("%", percent)

    def _found(self, message: Message) -> str:
        found = catalogue(self.language)
        if message.plural:
            return found.ngettext(message.template, message.plural, message.value("count"))
        if message.context:
            return found.pgettext(message.context, message.template)
        # gettext keeps the catalogue's own head under the empty text.
        return found.gettext(message.template) if message.template else ""

    def _tell_joined(self, said: Joined) -> str:
        told = [self.tell(item) for item in said.items]
        if said.joint not in _LISTS or len(told) < 2:
            return (", " if said.joint in _LISTS else said.joint).join(told)
        template = catalogue(self.language).gettext(_LISTS[said.joint].template)
        return template.format(items=", ".join(told[:-1]), last=told[-1])


class _Filler(Formatter):
    """Fills a template's places; numbers and messages as the reader is told them."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader

    def get_value(self, key: int | str, args: Any, kwargs: Mapping[str, Any]) -> Any:
        return kwargs[key]  # type: ignore[index]

    def format_field(self, value: Any, format_spec: str) -> str:
        if isinstance(value, Enum):
            value = value.words  # type: ignore[attr-defined]
        if isinstance(value, Message | Joined):
            return self._reader.tell(value)
        if isinstance(value, Real | Decimal):
            return self._reader.number(value, format_spec)
        return format(str(value), format_spec)


@cache
def _signs(language: str) -> tuple[str, str, str]:
    """Decimal sign, sign between thousands, and how per cent follows a number."""
    from babel import Locale

    locale = Locale.parse(language)
    symbols = locale.number_symbols["latn"]
    after = locale.percent_formats[None].pattern.split("0")[-1]
    return symbols["decimal"], symbols["group"], after


#: For the log, for JSON, and for tests.
ENGLISH = Reader("en")
