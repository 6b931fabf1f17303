"""The tuning table: every fingering's pitch, and the twelfths."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.options import Air
from borewright.acoustics.request import climate_words, request_of_table
from borewright.acoustics.side_holes import HoleLevel, HoleProgress, hole_level
from borewright.acoustics.status import statuses
from borewright.model import (
    Fingering,
    FingeringTable,
    Instrument,
    NoteResult,
    SideHoles,
    TuningSummary,
    TuningTable,
    Twelfth,
    note_number,
)
from borewright.words import Said

PURE_TWELFTH_CENTS = 1200 * math.log2(3)


def tuning(
    instrument: Instrument,
    fingerings: FingeringTable,
    air: Air | None = None,
    *,
    side_holes: SideHoles | str | None = None,
    progress: HoleProgress | None = None,
) -> TuningTable:
    """Predict the pitch of every fingering.

    Parameters
    ----------
    instrument
        With pitch standard and climate.
    fingerings
        Which holes are open for which written note.
    air
        Explicit constants instead of the instrument's climate.
    side_holes
        ``"closed forms"``, ``"solved in 3-D"`` or ``"each solved in 3-D"``; None, the default,
        is the level that the instrument was fitted at, or solved where it tells none.
    progress
        Called while holes are solved, with how many are done and how many there are.

    Returns
    -------
    TuningTable
        Cents against the pitch standard; a status per fingering instead of an exception.
    """
    return tuning_at(instrument, fingerings, hole_level(instrument, side_holes, progress), air)


def tuning_at(
    instrument: Instrument,
    fingerings: FingeringTable,
    level: HoleLevel,
    air: Air | None = None,
) -> TuningTable:
    """As :func:`tuning`, with holes whose level is known already."""
    solved = kernels.resonances(*request_of_table(instrument, fingerings, air, level.terms))
    return table_of(instrument, fingerings, solved, air, level=level.words)


def table_of(
    instrument: Instrument,
    fingerings: FingeringTable,
    solved: kernels.Solved,
    air: Air | None = None,
    *,
    level: Said,
) -> TuningTable:
    """Tuning table of resonances that are already solved, at the model level named."""
    notes = []
    rows = zip(fingerings.fingerings, np.asarray(solved.frequency), statuses(solved), strict=True)
    for fingering, frequency, status in rows:
        target = instrument.pitch.target_hz(fingering.written)
        notes.append(
            NoteResult(
                written=fingering.written,
                register=fingering.register_,
                fingering=fingering.name,
                open_holes=fingering.open_holes,
                use=fingering.use,
                target_hz=target,
                sounding_hz=float(frequency) if status.usable else None,
                cents=1200 * math.log2(frequency / target) if status.usable else None,
                status=status,
            )
        )
    return TuningTable(
        instrument=instrument.name,
        notes=notes,
        twelfths=_twelfths(fingerings.fingerings, notes),
        summary=TuningSummary.of(notes),
        model_level=level,
        climate=climate_words(instrument.climate, air),
    )


def twelfth_pairs(fingerings: Sequence[Fingering]) -> list[tuple[int, int]]:
    """Rows of low and high fingerings, 19 semitones apart, that differ by one open hole: the vent.

    The low one sounds its first resonance, the high one its second.
    """
    rows = [
        (row, fingering.resonance_number, note_number(fingering.written), fingering.open_holes)
        for row, fingering in enumerate(fingerings)
    ]
    upper = defaultdict(list)
    for row, resonance, number, holes in rows:
        if resonance == 2:
            upper[number].append((row, set(holes)))
    return [
        (low, high)
        for low, resonance, number, holes in rows
        if resonance == 1
        for high, vented in upper[number + 19]
        if vented.issuperset(holes) and len(vented) == len(set(holes)) + 1
    ]


def _twelfths(fingerings: list[Fingering], notes: list[NoteResult]) -> list[Twelfth]:
    """Twelfths of those pairs that sound."""
    pairs = []
    for low, high in twelfth_pairs(fingerings):
        low_hz, high_hz = notes[low].sounding_hz, notes[high].sounding_hz
        if low_hz is not None and high_hz is not None:
            interval = 1200 * math.log2(high_hz / low_hz)
            pairs.append(
                Twelfth(
                    low=fingerings[low].name,
                    high=fingerings[high].name,
                    stretch_cents=interval - PURE_TWELFTH_CENTS,
                )
            )
    return pairs
