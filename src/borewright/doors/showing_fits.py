"""A fit as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, signed
from borewright.doors.showing import finding_lines, summary_words, title, trace_words
from borewright.model import Move, OutOfReach
from borewright.tasks.fitting import FileFit
from borewright.tasks.inputs import has_keys


def fit_lines(done: FileFit) -> Iterator[str]:
    """Before and after, what moved, what is out of reach and why, findings, files."""
    result = done.result
    yield title(done.after)
    if not result.finished:
        yield (
            f"STOPPED after {result.rounds} rounds: the best so far was saved; what holds it "
            "back was not worked out, and no report was written."
        )
    yield f"before  {summary_words(result.before.summary)}"
    yield f"after   {summary_words(result.after.summary)}"
    solved = f", side holes solved {result.hole_solutions} times" if result.hole_solutions else ""
    yield f"{result.rounds} rounds{solved}, {result.seconds:.1f} s; {trace_words(result.after)}"
    if not done.surveyed and has_keys(done.after):
        yield "No keywork survey was given, so no key's place was respected."
    yield from _moved_lines(result.moved)
    yield from _reach_lines(result.out_of_reach)
    if result.findings:
        yield ""
        yield "findings"
        yield from finding_lines(result.findings)
    yield ""
    yield f"saved   {done.output}"
    for path in done.report:
        yield f"report  {path}"


def _moved_lines(moved: list[Move]) -> Iterator[str]:
    rows = [
        (
            move.part,
            move.hole,
            move.dimension,
            f"{move.from_:.2f}",
            f"{move.to:.2f}",
            signed(move.to - move.from_, 2),
            move.limit,
        )
        for move in moved
        if move.to != move.from_ or move.limit
    ]
    yield ""
    if not rows:
        yield "nothing moved"
        return
    yield "moved, in mm, and the limit that holds it"
    headings = ("part", "hole", "dimension", "from", "to", "by", "limit")
    yield from columns(headings, rows, right=(3, 4, 5))


def _reach_lines(out_of_reach: list[OutOfReach]) -> Iterator[str]:
    if not out_of_reach:
        return
    yield ""
    yield "out of reach"
    for note in out_of_reach:
        yield (
            f"  {note.fingering}: {signed(note.cents)} cents, "
            f"tolerance {note.tolerance_cents:g}. {note.advice}"
        )
        for each in note.relaxations:
            yield f"    1 mm more at '{each.limit}' would leave {signed(each.cents_after)} cents"
