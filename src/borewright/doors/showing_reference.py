"""A whole resonator in 3-D as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, figure, signed
from borewright.tasks.reference import Reference
from borewright.words import Reader


def reference_lines(words: Reader, found: Reference) -> Iterator[str]:
    """A line a resonance, and what it cost."""
    yield words(
        "{instrument}, {fingering}: open {holes}",
        instrument=found.instrument,
        fingering=found.fingering,
        holes=" ".join(found.open_holes) or words("none"),
    )
    yield words("lossless air, 346 m/s; the reference is the whole resonator in 3-D")
    yield ""
    rows = [
        (str(number), figure(words, reference, 2), figure(words, engine, 2), signed(words, cents))
        for number, (reference, engine, cents) in enumerate(
            zip(found.reference_hz, found.closed_forms_hz, found.cents, strict=True), start=1
        )
    ]
    headings = (
        words("resonance"),
        words("reference Hz"),
        words("closed forms Hz"),
        words("cents"),
    )
    yield from columns(headings, rows, right=(1, 2, 3))
    yield ""
    yield words(
        "{unknowns} unknowns, {seconds:.0f} s", unknowns=found.unknowns, seconds=found.seconds
    )
