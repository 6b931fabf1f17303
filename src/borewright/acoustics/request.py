"""From an instrument and fingerings to the arrays that kernels take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from borewright.acoustics.options import Air, Options, options_of
from borewright.acoustics.structure import Numbers, SolvedTerms, Structure, numbers_of, structure_of
from borewright.errors import AcousticsError
from borewright.model import Climate, FingeringTable, Instrument, SideHoles
from borewright.words import Message, say

#: Phase (rad) that a reflection may turn between neighbours of the counting sweep. Below an
#: open hole narrow resonances hide between coarser steps: 1,100 random fingerings of a 24-hole
#: clarinet gave none that was wrong without a word at 0.11, five at 0.22 and 76 at 0.9.
_SWEEP_STEP = 0.11
#: The sweep looks this far above the highest wanted pitch.
_HEADROOM = 1.35
_BUCKET = 16
#: Below this diameter losses are not left to the series of wide tubes: x = 7 at 12 Hz.
_NARROW_BORE_MM = 6.0


class Request(NamedTuple):
    """Everything a kernel needs, in its order of arguments."""

    structure: Structure
    options: Options
    numbers: Numbers
    fixed: np.ndarray  # [2]
    masks: np.ndarray  # [F, H]
    order: np.ndarray  # [F]
    grid: np.ndarray  # [K] Hz


def sweep_grid(instrument: Instrument, highest_hz: float) -> np.ndarray:
    """Frequencies (Hz) of the counting sweep, evenly from one step up to the highest."""
    length = instrument.length_mm
    if instrument.mouthpiece:
        area = math.pi / 4 * instrument.mouthpiece.bore_diameter_mm**2
        reed = instrument.reed.equivalent_volume_mm3 if instrument.reed else 0.0
        length += instrument.mouthpiece.bore_length_mm
        length += (instrument.mouthpiece.chamber_mm3 + reed) / area
    step = _SWEEP_STEP * 345.0 / (4 * math.pi * length / 1000)
    count = math.ceil(highest_hz * _HEADROOM / step / _BUCKET) * _BUCKET
    return step * np.arange(1, count + 1)


def masks_of(instrument: Instrument, open_holes: Sequence[Sequence[str]]) -> np.ndarray:
    """Booleans [F, H] of open holes; AcousticsError for a hole the instrument lacks."""
    names = instrument.hole_names()
    for holes in open_holes:
        for hole in holes:
            if hole not in names:
                raise AcousticsError(
                    say(
                        "'{instrument}' has no hole '{hole}'", instrument=instrument.name, hole=hole
                    ),
                    place="open_holes",
                    remedy=say("Holes are: {holes}.", holes=" ".join(names) or say("(none)")),
                )
    return np.array(
        [[name in holes for name in names] for holes in open_holes], dtype=bool
    ).reshape(len(open_holes), len(names))


def request_for(
    instrument: Instrument,
    open_holes: Sequence[Sequence[str]],
    order: Sequence[int],
    highest_hz: float,
    air: Air | None = None,
    solved: SolvedTerms | None = None,
) -> Request:
    """Arrays for a list of (open holes, number of resonance).

    ``solved`` are the terms of a ``HoleLevel``, of whoever asks. Only an instrument whose own
    level is closed forms needs none: nothing is to fall back to them unseen.
    """
    if solved is None and instrument.level is not SideHoles.CLOSED_FORMS:
        raise TypeError("the terms of the instrument's level are missing")
    options, fixed = options_of(air)
    if not options.lossless and _has_narrow_bore(instrument):
        options = options._replace(any_width=True)
    numbers = numbers_of(instrument)
    return Request(
        structure_of(instrument),
        options,
        numbers if solved is None else numbers._replace(solved=solved),
        np.array(fixed),
        masks_of(instrument, open_holes),
        np.array(order, dtype=float),
        sweep_grid(instrument, highest_hz),
    )


def _has_narrow_bore(instrument: Instrument) -> bool:
    bores = [diameter for part in instrument.parts for _, diameter in part.bore]
    if instrument.mouthpiece:
        bores.append(instrument.mouthpiece.bore_diameter_mm)
    return min(bores) < _NARROW_BORE_MM


def request_of_table(
    instrument: Instrument,
    table: FingeringTable,
    air: Air | None = None,
    solved: SolvedTerms | None = None,
) -> Request:
    """Arrays for a fingering table; ``solved`` as for :func:`request_for`."""
    table.check_against(instrument)
    targets = [instrument.pitch.target_hz(fingering.written) for fingering in table.fingerings]
    return request_for(
        instrument,
        [fingering.open_holes for fingering in table.fingerings],
        [fingering.resonance_number for fingering in table.fingerings],
        max(targets),
        air,
        solved,
    )


def climate_words(climate: Climate, air: Air | None) -> Message:
    """One line that traces which air a figure belongs to."""
    if air is not None:
        return say(
            "fixed: {speed:g} m/s, {density:g} kg/m3, {losses}",
            speed=air.speed_of_sound,
            density=air.density,
            losses=say("with losses") if air.losses else say("lossless"),
        )
    return say(
        "room {room_c:g} °C, reed end {reed_end_c:g} °C, humidity {humidity:g} %, "
        "CO2 {carbon_dioxide:g} %, {pressure_hpa:g} hPa",
        room_c=climate.room_c,
        reed_end_c=climate.reed_end_c,
        humidity=climate.relative_humidity * 100,
        carbon_dioxide=climate.carbon_dioxide * 100,
        pressure_hpa=climate.pressure_hpa,
    )
