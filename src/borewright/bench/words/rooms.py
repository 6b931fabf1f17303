"""Texts that come from the rooms, in the language in use.

The rooms write plain English and know of no other language. The bench recognises a text by the
shape it was written in: the catalogue ``LANGUAGE-rooms-NAME.po`` holds the room's sentence with
its places, "the hole is {diameter:n} mm wide", and the same in the language; a text that fits
is written anew with what stood in the places. ``:n`` marks a number, whose decimal sign changes
with the language. What stands in another place is looked up in turn (a limit named in a
sentence), but for names, which stay as they are: places called ``..._name`` or in quotes.

A text that fits nothing stays English; the tests hold that there is none.
"""

from __future__ import annotations

import re
from collections import defaultdict
from functools import cache, cached_property, lru_cache
from pathlib import Path

from borewright.bench.words import LANGUAGES, _
from borewright.errors import BorewrightError

#: Texts kept ready; a page shows a few hundred.
_MOST_KEPT = 8192
#: How deep texts within texts are looked up.
_DEEPEST = 6

_SENTENCES = re.compile(r"(?<=\.) +(?=[A-ZÄÖÜ0-9'\[{(])")
_JOINTS = ("; ", ": ", " + ", ", ")
_PLACE = re.compile(r"\{([a-z_0-9]+)(:n)?\}")
_NUMBER = r"[-+−±]?(?:\d[\d,]*(?:\.\d+)?(?:e[-+]?\d+)?|inf|nan)%?"
_WORD = re.compile(r"(?<![A-Za-z])[A-Za-z]{2,}(?![A-Za-z])")
_IN_BRACKETS = re.compile(r"(.*\S) \((.+)\)(\.?)", re.DOTALL)
_SWAPPED = str.maketrans(".,", ",.")
_FILE = re.compile(r"\.[a-z0-9]{2,5}$")
#: Places that hold names people gave, or what stands in a file.
_AS_THEY_ARE = {"name", "hole", "part", "path", "file", "serial", "source", "code", "text", "wish"}
#: Places that hold a room's words, quotes or not.
_WORDS = {"limit", "words", "kind_name"}


def said(text: str) -> str:
    """A room's text in the language in use."""
    return text if _.language == "en" else _said(text, _.language, 0)


def error_said(error: BorewrightError) -> str:
    """An error as one line: place, cause and remedy in the language in use."""
    place = f"{said(error.place)}: " if error.place else ""
    return f"{place}{said(error.cause).rstrip('.')}. {said(error.remedy)}".strip()


def clauses(text: str) -> list[str]:
    """The sentences of a text, as catalogues hold them: without the stop and stray signs."""
    bare = (sentence.strip(" ;,:").removesuffix(".").strip() for sentence in sentences(text))
    return [sentence for sentence in bare if sentence]


def sentences(text: str) -> list[str]:
    """A text cut where a sentence ends."""
    return _SENTENCES.split(text)


def number_said(number: str) -> str:
    """A number written in English, in the language in use."""
    return number if _.language == "en" else _decimal_comma(number)


class Template:
    """A sentence of a room with its places, and the same in another language."""

    def __init__(self, english: str, other: str) -> None:
        self.other = other
        self.pieces = _PLACE.split(english)  # text, name, ":n" or None, text, ...
        self.fixed = "".join(self.pieces[::3])

    @cached_property
    def places(self) -> list[tuple[str, bool, bool]]:
        """Name of each place, whether it is a number, whether what stands in it stays."""
        found = []
        for index in range(1, len(self.pieces), 3):
            name, number = self.pieces[index], bool(self.pieces[index + 1])
            before, after = self.pieces[index - 1], self.pieces[index + 2]
            quoted = before.endswith("'") and after.startswith("'")
            typed = "".join(self.pieces[:index:3]).count("`") % 2 == 1  # `borewright ...`
            if number:
                stays = typed or before.endswith("= ")  # as a file has it
            else:
                named = name in _AS_THEY_ARE or name.endswith(("_name", "_code"))
                stays = typed or ((quoted or named) and name not in _WORDS)
            found.append((name, number, stays))
        return found

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        """What a text of this shape looks like."""
        written = [re.escape(self.pieces[0])]
        seen: set[str] = set()
        for (name, number, stays), text in zip(self.places, self.pieces[3::3], strict=True):
            held = _NUMBER if number else "[^;:]*?" if stays else ".*?"
            what = f"(?P<{name}>{held})"
            written += [f"(?P={name})" if name in seen else what, re.escape(text)]
            seen.add(name)
        return re.compile("".join(written), re.DOTALL)

    def fill(self, text: str, language: str, depth: int) -> str | None:
        """The text in the other language; None where it has another shape."""
        if not (text.startswith(self.pieces[0]) and text.endswith(self.pieces[-1])):
            return None
        found = self.pattern.fullmatch(text)
        if found is None:
            return None
        values = found.groupdict()
        for name, number, stays in self.places:
            if not stays:
                value = values[name]
                values[name] = (
                    _decimal_comma(value) if number else _said(value, language, depth + 1)
                )
        return _PLACE.sub(lambda place: values[place[1]], self.other)


class Catalogue:
    """Templates of a language, found by the rarest word of their fixed text."""

    def __init__(self, language: str) -> None:
        self.whole: dict[str, str] = {}
        self._by_word: dict[str, list[Template]] = defaultdict(list)
        self.remarks: list[Template] = []
        templates = []
        for english, other in room_messages(language).items():
            if _PLACE.search(english):
                templates.append(Template(english, other))
                if english.startswith("("):
                    self.remarks.append(templates[-1])
            else:
                self.whole[english] = other
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

    def find(self, text: str, language: str, depth: int) -> str | None:
        """A sentence in the language; None where the catalogue does not know its shape."""
        if text in self.whole:
            return self.whole[text]
        for template in self.fitting(text):
            filled = template.fill(text, language, depth)
            if filled is not None:
                return filled
        return None

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


@cache
def _catalogue(language: str) -> Catalogue:
    return Catalogue(language)


@lru_cache(_MOST_KEPT)
def _said(text: str, language: str, depth: int) -> str:
    if depth > _DEEPEST or not text.strip():
        return text
    parts = sentences(text)
    if len(parts) > 1:
        found = [
            _with_remark(part, language, depth) or _sentence(part, language, depth)
            for part in parts
        ]
        if all(part is not None for part in found):
            return " ".join(part for part in found if part is not None)
    whole = _with_remark(text, language, depth) or _sentence(text, language, depth)
    if whole is not None:
        return whole
    if len(parts) > 1:
        return " ".join(_said(part, language, depth + 1) for part in parts)
    return _in_pieces(text, language, depth)


def _sentence(text: str, language: str, depth: int) -> str | None:
    """One sentence, with the stop and the large first letter it has; None where unknown."""
    bare = text.strip(" ;,:").removesuffix(".").strip()
    if not bare:
        return text
    before, _sep, after = text.partition(bare)
    catalogue = _catalogue(language)
    found = catalogue.find(bare, language, depth)
    if found is None and bare[0].isalpha():
        other = bare[0].swapcase() + bare[1:]
        found = catalogue.find(other, language, depth)
        if found is not None and bare[0].isupper():
            found = found[0].upper() + found[1:]
    return None if found is None else f"{before}{found}{after}"


def _with_remark(text: str, language: str, depth: int) -> str | None:
    """A text with a remark in brackets that a room hangs on many; None where there is none."""
    bracketed = _IN_BRACKETS.fullmatch(text) if ")" in text[-2:] else None
    if bracketed is None:
        return None
    before, inside, stop = bracketed.groups()
    for template in _catalogue(language).remarks:
        remark = template.fill(f"({inside})", language, depth)
        if remark is not None:
            return f"{_said(before, language, depth + 1)} {remark}{stop}"
    return None


def _in_pieces(text: str, language: str, depth: int) -> str:
    """A text that the rooms joined from others: each looked up by itself."""
    bracketed = _IN_BRACKETS.fullmatch(text)
    joint = next((joint for joint in _JOINTS if joint in text), "")
    if bracketed and joint in ("", ", "):
        before, inside, stop = bracketed.groups()
        words = _said(before, language, depth + 1), _said(inside, language, depth + 1)
        return f"{words[0]} ({words[1]}){stop}"
    if joint:
        parts = text.split(joint)
        in_file = bool(_FILE.search(parts[0]))  # then single words are its keys
        return joint.join(
            part if in_file and " " not in part else _said(part, language, depth + 1)
            for part in parts
        )
    for joint in (" or ", " and "):
        if joint in text:
            word = _catalogue(language).whole.get(joint.strip(), joint.strip())
            parts = [_said(part, language, depth + 1) for part in text.split(joint)]
            return f" {word} ".join(parts)
    return text


def _decimal_comma(number: str) -> str:
    swapped = number.translate(_SWAPPED)
    return swapped.removesuffix("%") + " %" if swapped.endswith("%") else swapped
