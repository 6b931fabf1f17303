"""Earlier takes and readings, carried over the steps that were done since.

What an instrument sounded before a step tells of it after the step too: the model says what the
step did. So no takes are lost from stage to stage, and their scatter lessens.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from borewright.acoustics import tuning
from borewright.model import FingeringTable, Instrument
from borewright.model.results.advice import CorrectionStep
from borewright.playing.measured import MeasuredNote
from borewright.playing.readings import Item, Reading

#: What is believed of a step's effect is right to this share of it: work is not done to the
#: hundredth of a millimetre (from memory).
_STEP_SHARE = 0.1


class EarlierTakes(NamedTuple):
    """Takes of an instrument before some steps, at its own climate.

    ``shared_cents`` is the standard error that all their notes share.
    """

    instrument: Instrument
    notes: Mapping[str, MeasuredNote]
    shared_cents: float


def with_earlier(
    instrument: Instrument,
    fingerings: FingeringTable,
    measured: Mapping[str, MeasuredNote],
    shared_cents: float,
    earlier: Sequence[EarlierTakes],
) -> tuple[dict[str, MeasuredNote], float]:
    """The newest takes and the earlier ones together, each counting as sure as it is.

    Parameters
    ----------
    instrument, fingerings
        As it is now, at the climate of its takes.
    measured, shared_cents
        The newest takes: they say which notes there are.
    earlier
        Before steps, all in the order of one instrument's story.

    Returns
    -------
    tuple
        Notes with their errors, and the error that they share.
    """
    sets = [(dict(measured), shared_cents)]
    for each in earlier:
        pairs = zip(
            tuning(instrument, fingerings).notes,
            tuning(each.instrument, fingerings).notes,
            strict=True,
        )
        moved = {
            now.fingering: now.cents - then.cents
            for now, then in pairs
            if now.cents is not None and then.cents is not None
        }
        carried = {
            name: MeasuredNote(
                note.cents + moved[name], math.hypot(note.error, _STEP_SHARE * moved[name])
            )
            for name, note in each.notes.items()
            if name in measured and name in moved
        }
        if carried:
            sets.append((carried, each.shared_cents))
    trust = [
        1 / (float(np.median([note.error for note in notes.values()])) ** 2 + shared**2)
        for notes, shared in sets
    ]
    found = {}
    for name in measured:
        own = [(weight, notes[name]) for weight, (notes, _) in zip(trust, sets, strict=True)
               if name in notes]  # fmt: skip
        total = sum(weight for weight, _ in own)
        found[name] = MeasuredNote(
            sum(weight * note.cents for weight, note in own) / total,
            math.sqrt(sum((weight * note.error) ** 2 for weight, note in own)) / total,
        )
    pairs_of = zip(trust, sets, strict=True)
    shared = math.sqrt(sum((weight * own) ** 2 for weight, (_, own) in pairs_of)) / sum(trust)
    return found, shared


#: Which readings a step of some kind changes, and whether it is a part's or a hole's.
_CHANGES = {
    "diameter": Item.DIAMETER,
    "tape": Item.DIAMETER,
    "rim": Item.HEIGHT,
    "lift": Item.LIFT,
    "barrel": Item.LENGTH,
    "length": Item.LENGTH,
    "bore": Item.BORE,
}


def readings_after(
    readings: Sequence[Reading], steps: Sequence[CorrectionStep], reamed_alike: Sequence[str] = ()
) -> list[Reading]:
    """Readings from before some steps, as they would read after them.

    ``reamed_alike`` names the holes of a step that reams every hole that has room for it.
    """
    found = []
    for each in readings:
        by = 0.0
        for step in steps:
            if step.kind == "every hole":
                by += step.by_mm * (each.item is Item.DIAMETER and each.hole in reamed_alike)
            elif _CHANGES.get(step.kind) is each.item:
                same = step.hole == each.hole if each.hole else step.part == each.part
                by += step.by_mm * same
        found.append(each.model_copy(update={"value": each.value + by}) if by else each)
    return found
