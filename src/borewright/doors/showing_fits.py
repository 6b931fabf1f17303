"""A fit as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, figure, signed, told
from borewright.doors.showing import finding_lines, summary_words, trace_words
from borewright.model import Move, OutOfReach
from borewright.model.results.fitting import limit_words
from borewright.tasks.fitting import FileFit
from borewright.tasks.inputs import has_keys
from borewright.tasks.naming import title
from borewright.words import Reader


def fit_lines(words: Reader, done: FileFit) -> Iterator[str]:
    """Before and after, what moved, what is out of reach and why, findings, files."""
    result = done.result
    yield words.tell(title(done.after))
    if not result.finished:
        yield words(
            "STOPPED after {rounds} rounds: the best so far was saved; what holds it back was not "
            "worked out, and no report was written.",
            rounds=result.rounds,
        )
    before, after = (summary_words(words, each.summary) for each in (result.before, result.after))
    yield words("before  {summary}", summary=before)
    yield words("after   {summary}", summary=after)
    trace = trace_words(words, result.after)
    if result.hole_solutions:
        yield words(
            "{rounds} rounds, side holes solved {times} times, {seconds:.1f} s; {trace}",
            rounds=result.rounds,
            times=result.hole_solutions,
            seconds=result.seconds,
            trace=trace,
        )
    else:
        yield words(
            "{rounds} rounds, {seconds:.1f} s; {trace}",
            rounds=result.rounds,
            seconds=result.seconds,
            trace=trace,
        )
    if not done.surveyed and has_keys(done.after):
        yield words("No keywork survey was given, so no key's place was respected.")
    yield from _moved_lines(words, result.moved)
    yield from _reach_lines(words, result.out_of_reach)
    if result.held_back:
        yield ""
        yield words("what would pay if it were freed")
        for each in result.held_back:
            yield f"  {words.tell(each.words)}"
    if result.at_limits:
        yield ""
        yield words("what the limits that are reached cost")
        for said in limit_words(result.at_limits):
            yield f"  {words.tell(said)}"
    if result.also:
        yield ""
        yield words("the same body in further states")
        for state in result.also:
            yield words(
                "  {state}: before {before}; after {after}",
                state=state.name,
                before=summary_words(words, state.before),
                after=summary_words(words, state.after.summary),
            )
    if result.findings:
        yield ""
        yield words("findings")
        yield from finding_lines(words, result.findings)
    yield ""
    yield words("saved   {path}", path=done.output)
    for path in done.report:
        yield words("report  {path}", path=path)


def _moved_lines(words: Reader, moved: list[Move]) -> Iterator[str]:
    rows = [
        (
            move.part,
            move.hole,
            told(words, move.dimension),
            figure(words, move.from_, 2),
            figure(words, move.to, 2),
            signed(words, move.to - move.from_, 2),
            told(words, move.limit or ""),
        )
        for move in moved
        if move.to != move.from_ or move.limit
    ]
    yield ""
    if not rows:
        yield words("nothing moved")
        return
    yield words("moved, in mm, and the limit that holds it")
    headings = (
        words("part"),
        words("hole"),
        words("dimension"),
        words("from"),
        words("to"),
        words("by"),
        words("limit"),
    )
    yield from columns(headings, rows, right=(3, 4, 5))


def _reach_lines(words: Reader, out_of_reach: list[OutOfReach]) -> Iterator[str]:
    if not out_of_reach:
        return
    yield ""
    yield words("out of reach")
    for note in out_of_reach:
        yield words(
            "  {note}: {cents} cents, tolerance {tolerance:g}. {advice}",
            note=note.fingering,
            cents=signed(words, note.cents),
            tolerance=note.tolerance_cents,
            advice=note.advice,
        )
        for each in note.relaxations:
            yield words(
                "    {change}: {cents} cents",
                change=each.change or each.limit,
                cents=signed(words, each.cents_after),
            )
