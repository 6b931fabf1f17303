"""Where on the body a finding is: the parts, holes and posts that its data name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from borewright.model import Finding, Instrument, KeyworkSurvey, SurveyItem
from borewright.words import Joined, Message, place_of

#: Places of a message that say what is named there; others are told apart by the name.
_PART, _POST, _HOLE = {"part"}, {"post"}, {"hole", "pad"}


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
    """What a finding's place and message name.

    ``pieces`` are parts that were cut in two for the printer: {piece: part it is of}.
    """
    pieces = pieces or {}
    known_parts = {part.name for part in instrument.parts}
    known_holes, rows = set(instrument.hole_names()), survey.rows if survey else []
    known_posts = {row.name for row in rows if row.item is SurveyItem.POST}
    over = {row.name: row.hole for row in rows if row.item is not SurveyItem.POST and row.hole}
    # In the order in which they are named; a dictionary keeps each once.
    parts: dict[str, None] = {}
    holes: dict[str, None] = {}
    posts: dict[str, None] = {}
    stations, cut = [], False
    for key, value in _named((*place_of(finding.place), finding.what)):
        if not isinstance(value, str):
            if key.startswith("station"):
                stations.append(float(value))
            continue
        cut = cut or value in pieces
        if (name := pieces.get(value, value)) in known_parts and key not in _POST | _HOLE:
            parts[name] = None
        if value in known_posts and key not in _PART | _HOLE:
            posts[value] = None
        if key not in _PART | _POST:
            if value in known_holes:
                holes[value] = None
            elif value in over:
                holes[over[value]] = None
    if cut:
        stations = []  # they are the piece's own, not the part's
    return Places(tuple(parts), tuple(holes), tuple(posts), tuple(stations))


def _named(said: Any, key: str = "") -> Iterator[tuple[str, Any]]:
    """Every name and number in what is said, with the place of the message it stands in."""
    if isinstance(said, Message):
        for name, value in said.values:
            yield from _named(value, name)
    elif isinstance(said, Joined | tuple):
        for each in said.items if isinstance(said, Joined) else said:
            yield from _named(each, key)
    elif isinstance(said, str | int | float):
        yield key, said
