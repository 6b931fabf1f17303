"""A seating as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, told
from borewright.doors.showing import ending_lines
from borewright.tasks.naming import title
from borewright.tasks.seating import FileSeating
from borewright.words import Reader


def seating_lines(words: Reader, done: FileSeating) -> Iterator[str]:
    """What was set for each hole, what the checks still say, and the file."""
    result = done.result
    yield words.tell(title(done.after))
    yield words(
        "faults before {before}, after {after}",
        before=result.faults_before,
        after=result.faults_after,
    )
    yield ""
    if not result.changes:
        yield words("every hole sits under its key already")
    else:
        rows = [
            (
                each.part,
                each.hole,
                told(words, each.what),
                told(words, each.before),
                told(words, each.after),
                told(words, each.because),
            )
            for each in result.changes
        ]
        headings = [
            words("part"),
            words("hole"),
            words("dimension"),
            words("from"),
            words("to"),
            words("because of"),
        ]
        yield from columns(headings, rows, right=(3, 4))
    yield from ending_lines(words, result.after, words("what no hole can mend"), done.output)
