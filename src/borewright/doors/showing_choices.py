"""A family of designs as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, figure, signed, told
from borewright.doors.showing import summary_words
from borewright.tasks.choices import FileChoices
from borewright.tasks.naming import title
from borewright.words import Reader


def choice_lines(words: Reader, done: FileChoices) -> Iterator[str]:
    """Every design with what it costs and gains, and what was taken."""
    family = done.family
    yield words.tell(title(done.instrument))
    yield words(
        "designs from the drawing to limits wide open; a step is 1 mm along the body, 0.5 mm of a "
        "hole, 0.25 mm of a rim, 0.1 mm of a bore"
    )
    headings = [
        words("design"),
        words("price of a step, cents²"),
        words("rms"),
        words("worst"),
        words("at"),
        words("uneven"),
        words("steps away"),
        words("moved"),
        words("largest change of a hole"),
        words("gains"),
    ]
    named = [(str(number), each) for number, each in enumerate(family.designs)]
    if family.bores_held is not None:
        named.append((words("all bores held"), family.bores_held))
    rows = [
        [
            name,
            figure(words, each.price_cents2, 2) if each.price_cents2 else "-",
            figure(words, each.rms_cents, 2),
            signed(words, each.worst_cents),
            each.worst_note,
            figure(words, each.uneven_cents, 2),
            figure(words, each.away_steps, 0),
            str(each.moved),
            words.number(each.largest_hole_share, ".0%"),
            told(words, each.gains),
        ]
        for name, each in named
    ]
    yield from columns(headings, rows, right=(0, 1, 2, 3, 5, 6, 7, 8))
    for held in family.held_back:
        yield words("with all bores held: {what}", what=held.words)
    if not family.finished:
        yield words("stopped before the last design")
    if done.taken is not None and done.after is not None and done.output is not None:
        yield ""
        yield words(
            "taken: design {number}: {summary}",
            number=done.taken,
            summary=summary_words(words, done.after),
        )
        yield words("saved   {path}", path=done.output)
