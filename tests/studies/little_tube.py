"""A tube of two notes, small enough that thousands of builds take a moment."""

from __future__ import annotations

from borewright.model import (
    Doubts,
    Fingering,
    FingeringTable,
    Instrument,
    Part,
    Register,
    Spread,
    ToneHole,
)

#: Nothing scatters.
STILL = {
    name: Spread() for name in Doubts.model_fields if name not in ("parameters", "model_cents")
}


def scattered(**kinds: Spread) -> Doubts:
    """Scatters of the kinds named, nothing else."""
    return Doubts(parameters={}, **(STILL | kinds))


def tube(length_mm: float = 300.0) -> Instrument:
    """A tube with one hole, closed at its top; written notes sound as written."""
    hole = ToneHole(name="H", station_mm=210.0, diameter_mm=8.0)
    part = Part(name="barrel", length_mm=length_mm, bore=[(0, 15), (length_mm, 15)],
                outside=[(0, 25), (length_mm, 25)], holes=[hole])  # fmt: skip
    return Instrument(name="tube", parts=[part], side_holes="closed forms")


def two_notes() -> FingeringTable:
    """All closed, and the hole open."""
    low = Fingering(written="D4", register=Register.CHALUMEAU, open_holes=())
    high = Fingering(written="A4", register=Register.CHALUMEAU, open_holes=("H",))
    return FingeringTable(fingerings=[low, high])
