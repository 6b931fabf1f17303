"""Cold, warm and hot rooms, the warm-up, and what player and air do to each register."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.parameters import PARAMETERS
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import HoleProgress, hole_level
from borewright.acoustics.tuning import tuning_at
from borewright.model import (
    Climate,
    FingeringTable,
    Instrument,
    ParameterEffect,
    SideHoles,
    TuningTable,
    WarmUpPoint,
)

#: Room and reed-end temperature (°C) of the usual questions; from memory, common practice.
ROOMS = {"cold start": (16.0, 16.0), "warm": (21.0, 30.5), "hot room": (32.0, 33.5)}
#: Time constant (minutes) in which the reed end warms up; from memory.
WARM_UP_MINUTES = 4.0


def in_climate(instrument: Instrument, **changes: float) -> Instrument:
    """The instrument in another climate; keys are those of ``model.Climate``."""
    climate = Climate.model_validate({**instrument.climate.model_dump(), **changes})
    return instrument.model_copy(update={"climate": climate})


def climate_tables(
    instrument: Instrument,
    fingerings: FingeringTable,
    *,
    side_holes: SideHoles | str | None = None,
    progress: HoleProgress | None = None,
) -> dict[str, TuningTable]:
    """Tuning tables for a cold start, a warm instrument and a hot room (see ``ROOMS``).

    ``side_holes`` and ``progress`` are those of :func:`borewright.acoustics.tuning`.
    """
    level = hole_level(instrument, side_holes, progress)
    return {
        name: tuning_at(in_climate(instrument, room_c=room, reed_end_c=reed_end), fingerings, level)
        for name, (room, reed_end) in ROOMS.items()
    }


def warm_up(
    instrument: Instrument,
    fingerings: FingeringTable,
    minutes: Sequence[float] = (0, 1, 2, 3, 5, 8, 12, 20),
    *,
    side_holes: SideHoles | str | None = None,
) -> list[WarmUpPoint]:
    """Mean pitch of each register against minutes of playing.

    The reed end starts at the room's temperature and approaches its warm value with a time
    constant of ``WARM_UP_MINUTES``.
    """
    climate, level = instrument.climate, hole_level(instrument, side_holes)
    points = []
    for minute in minutes:
        share = 1.0 - math.exp(-minute / WARM_UP_MINUTES)
        reed_end = climate.room_c + share * (climate.reed_end_c - climate.room_c)
        table = tuning_at(in_climate(instrument, reed_end_c=reed_end), fingerings, level)
        registers: dict[str, list[float]] = {}
        for note in table.notes:
            if note.cents is not None:
                registers.setdefault(note.register_.value, []).append(note.cents)
        means = {name: float(np.mean(cents)) for name, cents in registers.items()}
        points.append(WarmUpPoint(minutes=minute, reed_end_c=reed_end, mean_cents=means))
    return points


def parameter_effects(
    instrument: Instrument,
    fingerings: FingeringTable,
    *,
    side_holes: SideHoles | str | None = None,
) -> list[ParameterEffect]:
    """Mean cents per unit of each parameter of climate, reed, mouthpiece and wall, by register."""
    terms = hole_level(instrument, side_holes).terms
    request = request_of_table(instrument, fingerings, solved=terms)
    solved = kernels.resonances(*request)
    slopes = CENTS_PER_LOG * np.asarray(kernels.full_jacobian(*request[:5], solved))
    slopes = slopes[:, -len(PARAMETERS) :]
    registers = [fingering.register_.value for fingering in fingerings.fingerings]
    return [
        ParameterEffect(
            parameter=parameter.words,
            unit=parameter.unit,
            cents_per_unit={
                register: float(np.mean(slopes[[r == register for r in registers], column]))
                for register in dict.fromkeys(registers)
            },
        )
        for column, parameter in enumerate(PARAMETERS)
    ]
