"""A batch's yield as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, signed
from borewright.model.results.yields import Culprit, YieldResult
from borewright.tasks.naming import title
from borewright.tasks.studies.telling import sentences, small_print
from borewright.tasks.studies.yields import WayAnswer, YieldAnswer
from borewright.words import Reader

#: Rows of each table; JSON has all.
_NOTES, _KINDS, _SINGLES, _CHANGES = 8, 8, 5, 3


def yield_lines(words: Reader, found: YieldAnswer) -> Iterator[str]:
    """The answer on one page."""
    result = found.result
    yield words.tell(title(found.instrument))
    for said in sentences(found):
        yield words.tell(said)
    yield from _culprits(words, result)
    yield from _notes(words, result)
    yield from _allotted(words, result)
    if found.ways:
        yield from _ways(words, found)
    yield ""
    for said in small_print(found):
        yield words.tell(said)
    if found.kept is not None:
        yield words("builds: {folder}", folder=found.kept)


def _culprits(words: Reader, result: YieldResult) -> Iterator[str]:
    headings = [
        words("what spoils it"),
        words("scatter, mm"),
        words("of the variance"),
        words("yield without it"),
    ]
    for found in (result.kinds[:_KINDS], result.singles[:_SINGLES]):
        if found:
            yield ""
            yield from columns(headings, [_culprit(words, one) for one in found], right=(1, 2, 3))
        headings = [words("single dimensions"), *headings[1:]]


def _culprit(words: Reader, one: Culprit) -> list[str]:
    return [
        words.tell(one.what),
        words.number(one.scatter_mm, ".3f"),
        words.number(one.variance_share, ".1%"),
        words.number(one.perfect.share.value, ".1%"),
    ]


def _notes(words: Reader, result: YieldResult) -> Iterator[str]:
    worst = sorted(result.notes, key=lambda note: -note.off)[:_NOTES]
    rows = [
        [
            note.fingering,
            signed(words, note.design_cents),
            words.number(note.scatter_cents, ".1f"),
            words.number(note.off, ".1%"),
        ]
        for note in worst
        if note.off > 0
    ]
    if rows:
        headings = [
            words("notes most often off"),
            words("design, cents"),
            words("scatter, cents"),
            words("off in"),
        ]
        yield ""
        yield from columns(headings, rows, right=(1, 2, 3))


def _allotted(words: Reader, result: YieldResult) -> Iterator[str]:
    found = result.allotment
    if found is None:
        return
    yield ""
    wanted = 100 * found.wanted
    if not found.reached:
        yield words(
            "{wanted:g} % cannot be had by tolerances: without any scatter {percent:.1f} % would "
            "do.",
            wanted=wanted,
            percent=100 * found.share.value,
        )
        return
    yield words(
        "Allotted for {wanted:g} %, at least cost where halving any scatter costs alike (standard "
        "deviations, mm):",
        wanted=wanted,
    )
    rows = [
        [
            words.tell(one.what),
            words.number(one.now_common_mm, ".3f"),
            words.number(one.common_mm, ".3f"),
            words.number(one.now_each_mm, ".3f"),
            words.number(one.each_mm, ".3f"),
        ]
        for one in found.kinds
    ]
    headings = [
        words("tolerances"),
        words("all alike, now"),
        words("allotted"),
        words("each, now"),
        words("allotted"),
    ]
    yield from columns(headings, rows, right=(1, 2, 3, 4))


def _ways(words: Reader, found: YieldAnswer) -> Iterator[str]:
    headings = [words("way of making"), words("yield"), words("gained")]
    money = found.prices is not None
    if money:
        headings += [words("putting right"), words("the way costs"), words("saves"),
                     words("pays from")]  # fmt: skip
    rows = [_way(words, way, words("as now") if way is found.now else "", money)
            for way in (found.now, *found.ways)]  # fmt: skip
    yield ""
    yield from columns(headings, rows, right=tuple(range(1, len(headings))))
    for way in found.ways:
        for what in way.made.what[:_CHANGES]:
            yield f"    {way.made.name}, {words.tell(what)}"


def _way(words: Reader, way: WayAnswer, name: str, money: bool) -> list[str]:
    made = way.made.what_if
    row = [
        name or way.made.name,
        words.number(made.share.value, ".1%"),
        "" if name else signed(words, 100 * made.gained) + " %",
    ]
    if money and way.cost is not None:
        row += [
            words.tell(way.cost.putting_right.words),
            words.tell(way.cost.way.words),
            "" if name else words.tell(way.cost.saved.words),
            "-" if name or way.cost.pays_from is None else str(way.cost.pays_from),
        ]
    return row
