"""Somebody who reads: the language that messages and numbers are told in."""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from typing import Any

from borewright.words.message import Message, Teller, say, say_many
from borewright.words.translations import LANGUAGES, catalogue


class Reader(Teller):
    """Tells messages in one language.

    Called like a function it tells a surface's own words: ``words("Hole schedule")``.
    """

    def __init__(self, language: str = "en") -> None:
        if language not in LANGUAGES:
            raise ValueError(f"no language '{language}'; there are {', '.join(LANGUAGES)}")
        super().__init__()
        self.language = language

    def __call__(self, template: str, /, **values: Any) -> str:
        """A sentence of the surface itself, told at once."""
        return self.tell(say(template, **values))

    def many(self, one: str, many: str, count: int, /, **values: Any) -> str:
        """A sentence that counts, told at once."""
        return self.tell(say_many(one, many, count, **values))

    def number(self, value: float | Decimal, spec: str = "") -> str:
        """A number as this language writes it; ``spec`` as in Python's format."""
        written = super().number(value, spec)
        if self.language == "en":
            return written
        decimal, group, percent = _signs(self.language)
        swapped = written.translate({ord("."): decimal, ord(","): group})
        return swapped.replace("%", percent)

    def _found(self, message: Message) -> str:
        found = catalogue(self.language)
        if message.plural:
            return found.ngettext(message.template, message.plural, message.value("count"))
        if message.context:
            return found.pgettext(message.context, message.template)
        # gettext keeps the catalogue's own head under the empty text.
        return found.gettext(message.template) if message.template else ""


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
