"""Bodies of other pitches as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, signed
from borewright.tasks.naming import title
from borewright.tasks.studies.siblings import SiblingsAnswer, sibling_sentences
from borewright.words import Reader

#: Hinges that are told of each body, those that stretch most.
_HINGES = 6


def sibling_lines(words: Reader, found: SiblingsAnswer) -> Iterator[str]:
    """Sentences, then bodies, then what hinges ask for."""
    yield words.tell(title(found.instrument))
    for said in sibling_sentences(found):
        yield words.tell(said)
    headings = [
        words("pitch"), words("keys"), words("rms"), words("worst"), words("at"),
        words("beyond 10"), words("bodies, mm"), words("barrel, mm"), words("bell, mm"),
        words("keys anew"),
    ]  # fmt: skip
    rows = [
        [
            one.name,
            words("held") if one.held else words("stretched"),
            words.number(one.rms_cents, ".1f"),
            signed(words, one.worst_cents),
            one.worst_note,
            str(one.outside),
            words.number(one.body_mm, ".1f"),
            words.number(one.barrel_mm, ".1f"),
            words.number(one.bell_mm, ".1f"),
            str(sum(key.anew for key in one.keys)),
        ]
        for one in found.result.bodies
    ]
    yield ""
    yield from columns(headings, rows, right=(2, 3, 5, 6, 7, 8, 9))
    for one in found.result.bodies:
        moving = [key for key in one.keys if abs(key.along_mm) >= 0.05 or key.stretch_mm >= 0.05]
        if one.held or not moving:
            continue
        yield ""
        yield words("{name}, keys stretched: what hinges ask for, mm", name=one.name)
        yield from columns(
            [words("hinge"), words("holes"), words("down the joint"), words("apart, ±"), ""],
            [
                [
                    key.hinge,
                    " ".join(key.holes),
                    signed(words, key.along_mm, 2),
                    words.number(key.stretch_mm, ".2f"),
                    words("anew") if key.anew else "",
                ]
                for key in moving[:_HINGES]
            ],
            right=(2, 3),
        )
    for path in found.files:
        yield words("saved   {path}", path=path)
