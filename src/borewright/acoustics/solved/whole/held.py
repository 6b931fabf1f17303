"""The solved level of one body held to whole resonators, and kept for its error bars."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

from borewright.acoustics.solved._store import recalled, remember
from borewright.acoustics.solved.whole.detail import WholeDetail
from borewright.acoustics.solved.whole.solving import REFERENCE_AIR, Progress, whole_resonances
from borewright.errors import AcousticsError
from borewright.model import Instrument, SideHoles

#: To be raised whenever results may change.
_VERSION = 1
_FOLDER = "held"
#: What a resonator is made of: all else of an instrument leaves its lossless resonances alone.
_BODY = ("parts", "mouthpiece", "reed", "bottom_end", "outside_interaction", "pulled")


class HeldResonance(NamedTuple):
    """One resonance (Hz, lossless) of one fingering at three levels."""

    open_holes: tuple[str, ...]
    number: int
    reference_hz: float
    coarse_hz: float | None  # the reference by a coarser mesh; None where that could not be made
    solved_hz: float
    closed_forms_hz: float

    @property
    def solved_cents(self) -> float:
        """The solved level off the reference."""
        return 1200 * math.log2(self.solved_hz / self.reference_hz)

    @property
    def closed_forms_cents(self) -> float:
        """Closed forms off the reference."""
        return 1200 * math.log2(self.closed_forms_hz / self.reference_hz)

    @property
    def own_cents(self) -> float | None:
        """How far the coarser mesh is off: the reference's own error is less."""
        if self.coarse_hz is None:
            return None
        return 1200 * abs(math.log2(self.coarse_hz / self.reference_hz))


def hold_fingering(
    instrument: Instrument,
    open_holes: Sequence[str],
    count: int,
    progress: Progress | None = None,
) -> list[HeldResonance]:
    """Solve a fingering's whole resonator on two meshes, and compare and keep its resonances.

    Parameters
    ----------
    instrument, open_holes, count, progress
        As for :func:`whole_resonances`.

    Raises
    ------
    AcousticsError
        As :func:`whole_resonances`. A coarser mesh that cannot be made is no error: then the
        reference's own is not known.
    """
    from borewright.acoustics.impedance import resonances

    def step(first: int) -> Progress | None:
        if progress is None:
            return None
        return lambda words, done, of: progress(words, first * of + done, 2 * of)

    fine = whole_resonances(instrument, open_holes, count, progress=step(0))
    coarse: Sequence[float | None] = [None] * count
    try:
        coarser = whole_resonances(
            instrument, open_holes, count, detail=WholeDetail().coarser(), progress=step(1)
        )
        coarse = coarser.frequencies_hz
    except AcousticsError:
        pass
    solved = resonances(
        instrument, open_holes, count, air=REFERENCE_AIR, side_holes=SideHoles.SOLVED
    )
    found = [
        HeldResonance(tuple(open_holes), number, reference, rough, float(own), plain)
        for number, reference, rough, own, plain in zip(
            range(1, count + 1),
            fine.frequencies_hz,
            coarse,
            solved,
            fine.closed_forms_hz,
            strict=True,
        )
    ]
    new = {(frozenset(each.open_holes), each.number) for each in found}
    kept = [
        each
        for each in held_resonances(instrument)
        if (frozenset(each.open_holes), each.number) not in new
    ]
    rows = [list(each) for each in [*kept, *found]]
    remember(_FOLDER, _question(instrument), {"resonances": rows})
    return found


def held_resonances(instrument: Instrument) -> list[HeldResonance]:
    """What was held to the reference of this very body before, on this machine."""
    answer = recalled(_FOLDER, _question(instrument)) or {}
    rows = answer.get("resonances", [])
    return [HeldResonance(tuple(row[0]), *row[1:]) for row in rows]


def _question(instrument: Instrument) -> dict[str, Any]:
    return {"version": _VERSION, **instrument.model_dump(mode="json", include=set(_BODY))}
