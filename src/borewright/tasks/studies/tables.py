"""What a batch's study says in tables: the same on command line, page and paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from borewright.words import Reader, Said, Text, say

if TYPE_CHECKING:
    from borewright.model.results.yields import Culprit, YieldResult
    from borewright.tasks.studies.answers import WayAnswer, YieldAnswer

#: Rows of each table; JSON has all.
_NOTES, _KINDS, _SINGLES = 8, 8, 5


@dataclass(frozen=True)
class StudyTable:
    """A table for its reader: the first column holds words, the others figures."""

    caption: Said
    headings: list[Text]
    rows: list[list[str]]


def tables(found: YieldAnswer, words: Reader, *, kinds: bool = True) -> Iterator[StudyTable]:
    """All tables of an answer that have something in them, in the order of what is asked.

    ``kinds`` False leaves out the kinds of dimensions, where a chart shows them.
    """
    result = found.result
    if found.ways:
        yield _ways(words, found)
    spoiling = [_kinds(words, result)] if kinds else []
    for table in (*spoiling, _singles(words, result), _notes(words, result)):
        if table.rows:
            yield table
    if result.allotment is not None and result.allotment.reached:
        yield _allotted(words, result)


def _kinds(words: Reader, result: YieldResult) -> StudyTable:
    rows = [_culprit(words, one) for one in result.kinds[:_KINDS]]
    return StudyTable(say("What spoils it"), _culprit_heads(say("kind")), rows)


def _singles(words: Reader, result: YieldResult) -> StudyTable:
    rows = [_culprit(words, one) for one in result.singles[:_SINGLES]]
    return StudyTable(say("Single dimensions"), _culprit_heads(say("dimension")), rows)


def _culprit_heads(first: Text) -> list[Text]:
    return [first, say("scatter, mm"), say("of the variance"), say("yield without it")]


def _culprit(words: Reader, one: Culprit) -> list[str]:
    return [
        words.tell(one.what),
        words.number(one.scatter_mm, ".3f"),
        words.number(one.variance_share, ".1%"),
        words.number(one.perfect.share.value, ".1%"),
    ]


def _notes(words: Reader, result: YieldResult) -> StudyTable:
    worst = sorted(result.notes, key=lambda note: -note.off)[:_NOTES]
    rows = [
        [
            note.fingering,
            words.number(round(note.design_cents, 1) or 0.0, "+.1f"),
            words.number(note.scatter_cents, ".1f"),
            words.number(note.off, ".1%"),
        ]
        for note in worst
        if note.off > 0
    ]
    heads: list[Text] = [
        say("note"), say("design, cents"), say("scatter, cents"), say("off in"),
    ]  # fmt: skip
    return StudyTable(say("Notes most often off"), heads, rows)


def _allotted(words: Reader, result: YieldResult) -> StudyTable:
    assert result.allotment is not None
    rows = [
        [
            words.tell(one.what),
            words.number(one.now_common_mm, ".3f"),
            words.number(one.common_mm, ".3f"),
            words.number(one.now_each_mm, ".3f"),
            words.number(one.each_mm, ".3f"),
        ]
        for one in result.allotment.kinds
    ]
    caption = say(
        "Allotted for {wanted:g} %, at least cost where halving any scatter costs alike (standard "
        "deviations, mm)",
        wanted=100 * result.allotment.wanted,
    )
    heads: list[Text] = [
        say("kind"), say("all alike, now"), say("allotted"), say("each, now"), say("allotted"),
    ]  # fmt: skip
    return StudyTable(caption, heads, rows)


def _ways(words: Reader, found: YieldAnswer) -> StudyTable:
    heads: list[Text] = [say("way"), say("yield"), say("gained")]
    money = found.prices is not None
    if money:
        heads += [say("putting right"), say("the way costs"), say("saves"), say("pays from")]
    rows = [_way(words, found.now, words("as now"), money)]
    rows += [_way(words, way, "", money) for way in found.ways]
    return StudyTable(say("Ways of making"), heads, rows)


def _way(words: Reader, way: WayAnswer, name: str, money: bool) -> list[str]:
    made = way.made.what_if
    row = [
        name or way.made.name,
        words.number(made.share.value, ".1%"),
        "" if name else words.number(100 * made.gained, "+.1f") + " %",
    ]
    if money and way.cost is not None:
        row += [
            words.tell(way.cost.putting_right.words),
            words.tell(way.cost.way.words),
            "" if name else words.tell(way.cost.saved.words),
            "–" if name or way.cost.pays_from is None else str(way.cost.pays_from),
        ]
    return row
