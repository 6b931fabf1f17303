"""Texts that come from the rooms, in the language in use.

The rooms write plain English and know of no other language. The bench recognises a text by the
shape it was written in: the catalogue ``LANGUAGE-rooms-NAME.po`` holds the room's sentence with
its places, "the hole is {diameter:n} mm wide", and the same in the language; a text that fits
is written anew with what stood in the places. ``:n`` marks a number, whose decimal sign changes
with the language. What stands in another place is looked up in turn (a limit named in a
sentence), but for names, which stay as they are: places called ``..._name`` or in quotes.

A text may also be joined from others, sentence by sentence or with ``;`` and ``,``. Of all ways
to read it, the one that leaves the fewest letters as they were is taken. What fits nothing
stays English; the tests hold that there is none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from borewright.bench.words import _
from borewright.bench.words.room_catalogue import Catalogue, Told, decimal_comma, letters
from borewright.errors import BorewrightError
from borewright.words import Place, Reader, Text

#: Texts kept ready; a page shows a few hundred, and they are looked up in parts.
_MOST_KEPT = 16384

_SENTENCES = re.compile(r"(?<=\.) +(?=[A-ZÄÖÜ0-9'\[{(])")
_JOINTS = ("; ", ": ", " + ", ", ")
_BOTH = (" or ", " and ")
_IN_BRACKETS = re.compile(r"(.*\S) \((.+)\)(\.?)", re.DOTALL)
_FILE = re.compile(r"\.[a-z0-9]{2,5}$")


def said(text: Text | Place) -> str:
    """A room's text in the language in use."""
    if not isinstance(text, str):
        return Reader(_.language).place(text)
    return text if _.language == "en" else _speaker(_.language).tell(text).text


def error_said(error: BorewrightError) -> str:
    """An error as one line: place, cause and remedy in the language in use."""
    place = f"{said(error.place)}: " if error.place else ""
    return f"{place}{said(error.cause).rstrip('.')}. {said(error.remedy)}".strip()


def number_said(number: str) -> str:
    """A number written in English, in the language in use."""
    return number if _.language == "en" else decimal_comma(number)


def clauses(text: str) -> list[str]:
    """The sentences of a text, as catalogues hold them: without the stop and stray signs."""
    bare = (sentence.strip(" ;,:").removesuffix(".").strip() for sentence in sentences(text))
    return [sentence for sentence in bare if sentence]


def sentences(text: str) -> list[str]:
    """A text cut where a sentence ends."""
    return _SENTENCES.split(text)


class Speaker:
    """Tells texts in one language."""

    def __init__(self, language: str) -> None:
        self.catalogue = Catalogue(language)
        self.tell = lru_cache(_MOST_KEPT)(self._tell)

    def _tell(self, text: str) -> Told:
        best = Told(text, letters(text))
        if best.left:
            for way in self._ways(text):
                if way.left < best.left:
                    best = way
                if best.left == 0:
                    break
        return best

    def _ways(self, text: str) -> Iterator[Told]:
        """The ways to read a text that come into question."""
        parts = sentences(text)
        if len(parts) > 1:
            yield self._joined(" ", parts)
        bracketed = _IN_BRACKETS.fullmatch(text)
        if bracketed:
            yield from self._with_remark(*bracketed.groups())
        whole = self._sentence(text)
        if whole is not None:
            yield whole
        if bracketed:
            yield self._with_brackets(*bracketed.groups())
        joint = next((joint for joint in _JOINTS if joint in text), "")
        if joint:
            yield self._joined(joint, text.split(joint))
        for both in _BOTH:
            if both in text:
                parts = text.split(both)
                word = self.catalogue.whole.get(both.strip(), both.strip())
                way = self._joined(f" {word} ", parts)
                # Two names that nothing is known of are left alone, whatever joins them.
                if way.left < sum(map(letters, parts)) or all("'" in part for part in parts):
                    yield way

    def _joined(self, joint: str, parts: list[str]) -> Told:
        in_file = joint == ", " and _FILE.search(parts[0])  # then single words are its keys
        told = [Told(part, 0) if in_file and " " not in part else self.tell(part) for part in parts]
        return Told(joint.join(each.text for each in told), sum(each.left for each in told))

    def _with_remark(self, before: str, inside: str, stop: str) -> Iterator[Told]:
        """With a remark in brackets that the rooms hang on many texts."""
        for template in self.catalogue.remarks:
            remark = template.fill(f"({inside})", self.tell)
            if remark is not None:
                first = self.tell(before)
                yield Told(f"{first.text} {remark.text}{stop}", first.left + remark.left)

    def _with_brackets(self, before: str, inside: str, stop: str) -> Told:
        first, second = self.tell(before), self.tell(inside)
        return Told(f"{first.text} ({second.text}){stop}", first.left + second.left)

    def _sentence(self, text: str) -> Told | None:
        """One sentence with the stop and the large first letter it has; None where unknown."""
        bare = text.strip(" ;,:").removesuffix(".").strip()
        if not bare:
            return None
        before, _bare, after = text.partition(bare)
        found = self.catalogue.find(bare, self.tell)
        if found is None and bare[0].isalpha():
            found = self.catalogue.find(bare[0].swapcase() + bare[1:], self.tell)
            if found is not None and bare[0].isupper():
                found = Told(found.text[0].upper() + found.text[1:], found.left)
        return None if found is None else Told(f"{before}{found.text}{after}", found.left)


@lru_cache(None)
def _speaker(language: str) -> Speaker:
    return Speaker(language)
