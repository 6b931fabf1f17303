"""From the temperature of the takes to the climate that an instrument is designed for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from borewright.acoustics import tuning
from borewright.model import FingeringTable, Instrument
from borewright.playing.measured import MeasuredNote
from borewright.playing.records import Record


def room_temperature(records: Sequence[Record]) -> float | None:
    """Mean room temperature (°C) of takes; None where none was written down."""
    known = [record.temperature_c for record in records if record.temperature_c is not None]
    return float(np.mean(known)) if known else None


def at_design_climate(
    instrument: Instrument,
    fingerings: FingeringTable,
    notes: Mapping[str, MeasuredNote],
    room_c: float | None,
) -> dict[str, MeasuredNote]:
    """What the notes would have been in the instrument's own climate.

    Every note is moved by what the model says the other room temperature does to it; the air
    at the reed is the player's and stays. Without a temperature nothing is moved.
    """
    if room_c is None or abs(room_c - instrument.climate.room_c) < 0.05:
        return dict(notes)
    there = instrument.model_copy(
        update={"climate": instrument.climate.model_copy(update={"room_c": room_c})}
    )
    pairs = zip(tuning(instrument, fingerings).notes, tuning(there, fingerings).notes, strict=True)
    shift = {
        own.fingering: own.cents - other.cents
        for own, other in pairs
        if own.cents is not None and other.cents is not None
    }
    return {
        name: MeasuredNote(value.cents + shift.get(name, 0.0), value.error)
        for name, value in notes.items()
    }
