"""One fingering of a file held to its whole resonator in 3-D."""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.model import load
from borewright.tasks.inputs import fingerings_of, rows_of_note
from borewright.tasks.progress import Cancel, Progress, steps_told


@dataclass(frozen=True)
class Reference:
    """Resonances (Hz) of the closed forms and of the whole resonator, in lossless air."""

    instrument: str
    fingering: str
    open_holes: tuple[str, ...]
    reference_hz: tuple[float, ...]
    closed_forms_hz: tuple[float, ...]
    unknowns: int
    seconds: float

    @property
    def cents(self) -> tuple[float, ...]:
        """Closed forms against the reference."""
        pairs = zip(self.closed_forms_hz, self.reference_hz, strict=True)
        return tuple(1200 * math.log2(one / other) for one, other in pairs)

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            "instrument": self.instrument,
            "fingering": self.fingering,
            "open_holes": list(self.open_holes),
            "reference_hz": list(self.reference_hz),
            "closed_forms_hz": list(self.closed_forms_hz),
            "cents": list(self.cents),
            "unknowns": self.unknowns,
            "seconds": self.seconds,
        }


def reference_of(
    file: Path,
    fingerings: Path | None,
    name: str,
    count: int,
    *,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Reference:
    """Solve one fingering of an instrument's table.

    Parameters
    ----------
    file
        The instrument.
    fingerings
        A table that goes before the one that the file names.
    name
        A fingering, as ``B3 (sliver)``, or a written note (its first fingering).
    count
        How many resonances.
    progress, cancel
        Told between the steps of the solution; asked whether to stop.

    Raises
    ------
    ModelError
        Where a file cannot be read, or the table has no such note.
    AcousticsError
        Where the resonator cannot be solved.
    """
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    chosen = table.fingerings[rows_of_note(table, name)[0]]
    from borewright.acoustics.solved.whole import whole_resonances

    told = steps_told(progress, cancel)
    with _mesher_is_silent():
        found = whole_resonances(instrument, chosen.open_holes, count, progress=told)
    return Reference(
        instrument=instrument.name,
        fingering=chosen.name,
        open_holes=tuple(chosen.open_holes),
        reference_hz=found.frequencies_hz,
        closed_forms_hz=found.closed_forms_hz,
        unknowns=found.unknowns,
        seconds=found.seconds,
    )


@contextmanager
def _mesher_is_silent() -> Iterator[None]:
    """The mesher's own words, written by compiled code, kept out of answer and terminal."""
    sys.stdout.flush()
    kept = os.dup(1)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
