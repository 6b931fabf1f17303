"""A batch's yield as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns
from borewright.tasks.naming import title
from borewright.tasks.studies.answers import YieldAnswer
from borewright.tasks.studies.tables import tables
from borewright.tasks.studies.telling import sentences, small_print
from borewright.words import Reader

#: Changes that are told of each way, the weightiest first.
_CHANGES = 3


def yield_lines(words: Reader, found: YieldAnswer) -> Iterator[str]:
    """The answer on one page."""
    yield words.tell(title(found.instrument))
    for said in sentences(found):
        yield words.tell(said)
    for table in tables(found, words):
        yield ""
        yield words.tell(table.caption)
        heads = [words.tell(each) for each in table.headings]
        yield from columns(heads, table.rows, right=tuple(range(1, len(heads))))
    if found.ways:
        yield ""
    for way in found.ways:
        for what in way.made.what[:_CHANGES]:
            yield f"{way.made.name}, {words.tell(what)}"
    yield ""
    for said in small_print(found):
        yield words.tell(said)
    if found.kept is not None:
        yield words("builds: {folder}", folder=found.kept)
    for path in found.files:
        yield words("written {path}", path=path)
