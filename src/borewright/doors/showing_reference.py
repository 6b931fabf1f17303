"""A whole resonator in 3-D as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, signed
from borewright.tasks.reference import Reference


def reference_lines(found: Reference) -> Iterator[str]:
    """A line a resonance, and what it cost."""
    yield f"{found.instrument}, {found.fingering}: open {' '.join(found.open_holes) or 'none'}"
    yield "lossless air, 346 m/s; the reference is the whole resonator in 3-D"
    yield ""
    rows = [
        (str(number), f"{reference:.2f}", f"{engine:.2f}", signed(cents))
        for number, (reference, engine, cents) in enumerate(
            zip(found.reference_hz, found.closed_forms_hz, found.cents, strict=True), start=1
        )
    ]
    headings = ("resonance", "reference Hz", "closed forms Hz", "cents")
    yield from columns(headings, rows, right=(1, 2, 3))
    yield ""
    yield f"{found.unknowns} unknowns, {found.seconds:.0f} s"
