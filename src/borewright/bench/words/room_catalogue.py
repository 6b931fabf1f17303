"""Sentences of the rooms in other languages, and how a written text is recognised in them."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable
from functools import cache, cached_property
from pathlib import Path
from typing import NamedTuple

from borewright.bench.words import LANGUAGES

_PLACE = re.compile(r"\{([a-z_0-9]+)(:n)?\}")
_NUMBER = r"[-+−±]?(?:\d[\d,]*(?:\.\d+)?(?:e[-+]?\d+)?|inf|nan)%?"
_WORD = re.compile(r"(?<![A-Za-z])[A-Za-z]{2,}(?![A-Za-z])")
_LETTER = re.compile(r"[A-Za-z]")
_SWAPPED = str.maketrans(".,", ",.")
#: Places that hold names people gave, or what stands in a file.
_AS_THEY_ARE = {"name", "hole", "part", "path", "file", "serial", "source", "code", "text", "wish"}
#: Places that hold a room's words, quotes or not.
_WORDS = {"limit", "words", "kind_name"}


class Told(NamedTuple):
    """A text in another language, and how many letters of it were left as they were."""

    text: str
    left: int


Tell = Callable[[str], Told]


def letters(text: str) -> int:
    """How many letters a text has."""
    return len(_LETTER.findall(text))


def decimal_comma(number: str) -> str:
    """A number with comma for point and point for comma, and a space before per cent."""
    swapped = number.translate(_SWAPPED)
    return swapped.removesuffix("%") + " %" if swapped.endswith("%") else swapped


class Place(NamedTuple):
    """A place of a template: its name, whether it holds a number, whether that stays as it is.

    ``quoted`` places hold names for certain, others (``hole_name``) by what they are called.
    """

    name: str
    number: bool
    stays: bool
    quoted: bool


class Template:
    """A sentence of a room with its places, and the same in another language."""

    def __init__(self, english: str, other: str) -> None:
        self.other = other
        self.pieces = _PLACE.split(english)  # text, name, ":n" or None, text, ...
        self.fixed = "".join(self.pieces[::3])

    @cached_property
    def places(self) -> list[Place]:
        """The places in their order."""
        return [self._place(index) for index in range(1, len(self.pieces), 3)]

    def _place(self, index: int) -> Place:
        name, number = self.pieces[index], bool(self.pieces[index + 1])
        before, after = self.pieces[index - 1], self.pieces[index + 2]
        typed = "".join(self.pieces[:index:3]).count("`") % 2 == 1  # `borewright ...`
        quoted = typed or (before.endswith("'") and after.startswith("'"))
        if number:
            return Place(name, True, typed or before.endswith("= "), quoted)  # as a file has it
        named = name in _AS_THEY_ARE or name.endswith(("_name", "_code"))
        return Place(name, False, typed or ((quoted or named) and name not in _WORDS), quoted)

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        """What a text of this shape looks like."""
        written = [re.escape(self.pieces[0])]
        seen: set[str] = set()
        for place, text in zip(self.places, self.pieces[3::3], strict=True):
            held = _NUMBER if place.number else "[^;:]*?" if place.stays else ".*?"
            what = f"(?P<{place.name}>{held})"
            written += [f"(?P={place.name})" if place.name in seen else what, re.escape(text)]
            seen.add(place.name)
        return re.compile("".join(written), re.DOTALL)

    def fill(self, text: str, tell: Tell) -> Told | None:
        """The text in the other language; None where it has another shape."""
        if not (text.startswith(self.pieces[0]) and text.endswith(self.pieces[-1])):
            return None
        found = self.pattern.fullmatch(text)
        if found is None:
            return None
        values, left = found.groupdict(), 0
        for place in self.places:
            value = values[place.name]
            if place.number and not place.stays:
                values[place.name] = decimal_comma(value)
            elif not place.number and not place.stays:
                values[place.name], more = tell(value)
                left += more
            elif not place.quoted:
                left += letters(value)
        return Told(_PLACE.sub(lambda place: values[place[1]], self.other), left)


class Catalogue:
    """Templates of a language, found by the rarest word of their fixed text."""

    def __init__(self, language: str) -> None:
        self.whole: dict[str, str] = {}
        self._by_word: dict[str, list[Template]] = defaultdict(list)
        templates = []
        for english, other in room_messages(language).items():
            if _PLACE.search(english):
                templates.append(Template(english, other))
            else:
                self.whole[english] = other
        #: Remarks in brackets, which rooms hang on many texts.
        self.remarks = [each for each in templates if each.fixed.startswith("(")]
        words = [self._words(template) for template in templates]
        often: dict[str, int] = defaultdict(int)
        for each in words:
            for word in each:
                often[word] += 1
        for template, each in zip(templates, words, strict=True):
            rarest = min(sorted(each), key=often.__getitem__, default="")
            self._by_word[rarest].append(template)

    @staticmethod
    def _words(template: Template) -> set[str]:
        """Words that stand free of places, so that they are whole words of the text too."""
        return set(_WORD.findall("0".join(template.pieces[::3]))) - {
            word
            for before, after in zip(template.pieces[:-3:3], template.pieces[3::3], strict=True)
            for word in (*re.findall(r"[A-Za-z]+$", before), *re.findall(r"^[A-Za-z]+", after))
        }

    def find(self, text: str, tell: Tell) -> Told | None:
        """A sentence in the language; None where the catalogue does not know its shape.

        Of several shapes that fit, the one that leaves the fewest letters as they were.
        """
        if text in self.whole:
            return Told(self.whole[text], 0)
        best = None
        for template in self.fitting(text):
            filled = template.fill(text, tell)
            if filled is not None and (best is None or filled.left < best.left):
                best = filled
                if best.left == 0:
                    break
        return best

    def fitting(self, text: str) -> list[Template]:
        """Templates that may fit a text, those with most fixed signs first."""
        words = {*_WORD.findall(text), ""}
        found = [template for word in words for template in self._by_word.get(word, ())]
        return sorted(found, key=lambda each: -len(each.fixed))


@cache
def room_messages(language: str) -> dict[str, str]:
    """The rooms' sentences in a language, by the English with its places."""
    if language == "en" or language not in LANGUAGES:
        return {}
    from babel.messages.pofile import read_po

    found: dict[str, str] = {}
    for file in sorted(Path(__file__).parent.glob(f"{language}-rooms-*.po")):
        with file.open("rb") as stream:
            for message in read_po(stream, locale=language):
                if message.id and isinstance(message.id, str) and isinstance(message.string, str):
                    found[message.id] = message.string or message.id
    return found
