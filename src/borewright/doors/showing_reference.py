"""Whole resonators in 3-D, and the faster levels beside them, as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, figure, signed
from borewright.tasks.reference import Reference
from borewright.words import Reader


def reference_lines(words: Reader, found: Reference) -> Iterator[str]:
    """A table a fingering, a line a resonance."""
    for name, held in found.fingerings:
        yield words(
            "{instrument}, {fingering}: open {holes}",
            instrument=found.instrument,
            fingering=name,
            holes=" ".join(held[0].open_holes) or words("none"),
        )
        rows = [
            (
                str(each.number),
                figure(words, each.reference_hz, 2),
                words("unknown") if each.own_cents is None else figure(words, each.own_cents, 2),
                signed(words, each.solved_cents),
                signed(words, each.closed_forms_cents),
            )
            for each in held
        ]
        headings = (
            words("resonance"),
            words("reference Hz"),
            words("its own error below, cents"),
            words("solved, cents"),
            words("closed forms, cents"),
        )
        yield from columns(headings, rows, right=(1, 2, 3, 4))
        yield ""
    yield words("lossless air, 346 m/s; the reference is the whole resonator in 3-D")
    yield words("from now on the error bars of this body count with it ({seconds:.0f} s)",
                seconds=found.seconds)  # fmt: skip
