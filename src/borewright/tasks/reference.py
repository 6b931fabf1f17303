"""Fingerings of a file held to their whole resonators in 3-D."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.model import FingeringTable, Instrument, Register, Use, load
from borewright.tasks.inputs import fingerings_of, rows_of_note
from borewright.tasks.progress import Cancel, Progress, steps_told

if TYPE_CHECKING:
    from borewright.acoustics.solved.whole import HeldResonance


@dataclass(frozen=True)
class Reference:
    """Fingerings held to their whole resonators, in lossless air."""

    instrument: str
    fingerings: list[tuple[str, list[HeldResonance]]]
    seconds: float

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            "instrument": self.instrument,
            "fingerings": [
                {
                    "fingering": name,
                    "open_holes": list(found[0].open_holes),
                    "resonances": [
                        {
                            "number": each.number,
                            "reference_hz": each.reference_hz,
                            "own_error_below_cents": each.own_cents,
                            "solved_hz": each.solved_hz,
                            "solved_cents": each.solved_cents,
                            "closed_forms_hz": each.closed_forms_hz,
                            "closed_forms_cents": each.closed_forms_cents,
                        }
                        for each in found
                    ],
                }
                for name, found in self.fingerings
            ],
            "seconds": self.seconds,
        }


def reference_of(
    file: Path,
    fingerings: Path | None,
    name: str | None,
    count: int | None,
    *,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Reference:
    """Hold one fingering of an instrument's table to its whole resonator, or one of each register.

    What is found is kept: the error bars of this very body count with it from then on.

    Parameters
    ----------
    file
        The instrument.
    fingerings
        A table that goes before the one that the file names.
    name
        A fingering, as ``B3 (sliver)``, or a written note (its first fingering). None: of every
        register the standard fingering that is predicted furthest out of tune.
    count
        How many resonances; None: up to the one that sounds.
    progress, cancel
        Told between the steps of the solutions; asked whether to stop. Fingerings that were
        finished stay kept.

    Raises
    ------
    ModelError
        Where a file cannot be read, or the table has no such note.
    AcousticsError
        Where a resonator cannot be solved.
    """
    begun = time.perf_counter()
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    rows = _furthest_out(instrument, table) if name is None else rows_of_note(table, name)[:1]
    from borewright.acoustics.solved.whole import hold_fingering

    held = []
    for number, row in enumerate(rows):
        chosen = table.fingerings[row]
        told = steps_told(progress, cancel, number / len(rows), (number + 1) / len(rows))
        with _mesher_is_silent():
            found = hold_fingering(
                instrument, chosen.open_holes, count or chosen.resonance_number, progress=told
            )
        held.append((chosen.name, found))
    return Reference(instrument.name, held, time.perf_counter() - begun)


def _furthest_out(instrument: Instrument, table: FingeringTable) -> list[int]:
    """Of every register the row of the standard fingering furthest from its target."""
    from borewright.acoustics import tuning

    furthest: dict[Register, tuple[float, int]] = {}
    for row, note in enumerate(tuning(instrument, table).notes):
        if note.use is Use.STANDARD and note.cents is not None:
            off = (abs(note.cents), row)
            furthest[note.register_] = max(furthest.get(note.register_, off), off)
    return [row for _, row in furthest.values()]


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
