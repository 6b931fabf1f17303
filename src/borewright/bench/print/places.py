"""Where on the body a finding is: the parts, holes and posts that it names."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from borewright.model import Finding, Instrument, KeyworkSurvey, SurveyItem
from borewright.words import ENGLISH


@dataclass(frozen=True)
class Places:
    """Names on the body; ``stations_mm`` are from the top of the part that is named first."""

    parts: tuple[str, ...] = ()
    holes: tuple[str, ...] = ()
    posts: tuple[str, ...] = ()
    stations_mm: tuple[float, ...] = ()

    @property
    def found(self) -> bool:
        """Whether there is anything to show."""
        return bool(self.parts or self.holes or self.posts)


def places_of(
    finding: Finding,
    instrument: Instrument,
    survey: KeyworkSurvey | None = None,
    pieces: Mapping[str, str] | None = None,
) -> Places:
    """What a finding's words name, in the words that the checks use.

    ``pieces`` are parts that were cut in two for the printer: {piece: part it is of}.
    """
    words = f"{ENGLISH.place(finding.place)}; {finding.what}"
    cut = [piece for piece in pieces or {} if f"'{piece}'" in words]
    for piece in cut:
        words = words.replace(f"'{piece}'", f"'{(pieces or {})[piece]}'")
    holes = [h for h in instrument.hole_names() if _named(words, h, "holes?|pads?|and|seat of")]
    posts = []
    for row in survey.rows if survey else []:
        if row.item is SurveyItem.POST and _named(words, row.name, "posts?|and"):
            posts.append(row.name)
        elif row.item is not SurveyItem.POST and _named(words, row.name, "cups?|rings?"):
            holes += [row.hole] if row.hole and row.hole not in holes else []
    parts = [
        part.name
        for part in instrument.parts
        if f"'{part.name}'" in words or words.startswith((f"{part.name},", f"{part.name};"))
    ]
    stations = [float(text) for text in re.findall(r"\bstation ([0-9]+(?:\.[0-9]+)?)", words)]
    if cut:
        stations = []  # they are the piece's own, not the part's
    return Places(tuple(parts), tuple(holes), tuple(posts), tuple(stations))


def _named(words: str, name: str, before: str) -> bool:
    pattern = rf"\b(?:{before}) (?:hole )?(?:'{re.escape(name)}'|{re.escape(name)}(?![\w'-]))"
    return re.search(pattern, words) is not None
