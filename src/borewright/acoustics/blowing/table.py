"""The blowing table: thresholds, how each register speaks, pitch against breath and lip, sound."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from borewright.acoustics.blowing.attempts import Voices, blown, voices
from borewright.acoustics.blowing.player import Blowing
from borewright.acoustics.blowing.resonators import Resonators, resonators
from borewright.acoustics.blowing.steps import RESONANCES, VOICES, untold
from borewright.acoustics.options import Air
from borewright.acoustics.request import climate_words
from borewright.model import Fingering, FingeringTable, Instrument
from borewright.model.results.blowing import BlowingTable, BlownNote, Speaking, Threshold, Tone
from borewright.words import Message, say

#: Other ways of blowing: pressure and embouchure over those asked for. The pitches of the
#: first two, the softest and the strongest, make the drift.
WAYS = ((0.9, 1.0), (1.25, 1.0), (1.0, 0.75), (1.0, 1.25))
_STRONGEST = 0.97
_NEAR_CENTS = 150.0
#: Hearing's zero, Pa; levels below this many dB are left at it.
_ZERO_PA, _FLOOR_DB = 20e-6, -99.0


def blow(
    instrument: Instrument,
    fingerings: FingeringTable,
    blowing: Blowing | None = None,
    air: Air | None = None,
    progress: Callable[[Message, int, int], None] | None = None,
) -> BlowingTable:
    """Blow every fingering.

    Parameters
    ----------
    instrument
        With mouthpiece and reed, pitch standard and climate.
    fingerings
        Which holes are open for which written note.
    blowing
        Breath, lip and reed; None takes the defaults.
    air
        Explicit constants instead of the instrument's climate.
    progress
        Called with what comes next, how many steps are done, and how many there are.

    Returns
    -------
    BlowingTable
        A status for each fingering instead of an exception.

    Raises
    ------
    AcousticsError
        As for :func:`borewright.acoustics.blowing.resonators.resonators`.
    """
    blowing = blowing or Blowing()
    told = progress or untold
    told(RESONANCES, 0, 3)
    bank = resonators(instrument, fingerings, blowing, air)
    told(VOICES, 1, 3)
    played = voices(bank, blowing)
    told(say("the same softer, stronger, looser and firmer"), 2, 3)
    return table_of(instrument, fingerings, blowing, bank, played, air)


def table_of(
    instrument: Instrument,
    fingerings: FingeringTable,
    blowing: Blowing,
    bank: Resonators,
    played: Voices,
    air: Air | None = None,
) -> BlowingTable:
    """The table of fingerings whose voices are already found."""
    pressures = np.array([min(way[0] * blowing.pressure, _STRONGEST) for way in WAYS])
    lips = np.array([way[1] * blowing.embouchure for way in WAYS])
    tones, beats = blown(bank, played, blowing, pressures, lips)
    count = len(bank.wanted)
    notes = []
    for row, fingering in enumerate(fingerings.fingerings):
        target = instrument.pitch.target_hz(fingering.written)
        ways = [(blowing.pressure, blowing.embouchure, played.tone, played.beats, row)]
        ways += [
            (float(pressures[way]), float(lips[way]), tones, beats, way * count + row)
            for way in range(len(WAYS))
        ]
        found = tuple(
            _tone(bank, row, target, blowing, pressure, lip, steady.hz[at], steady.amplitude[at],
                  bool(beat[at]))
            for pressure, lip, steady, beat, at in ways
        )  # fmt: skip
        notes.append(_note(fingering, bank, played, row, target, found))
    return BlowingTable(
        instrument=instrument.name,
        notes=notes,
        pressure=blowing.pressure,
        embouchure=blowing.embouchure,
        closing_kpa=blowing.closing_kpa,
        distance_m=blowing.distance_m,
        player=blowing.described(bank.reed),
        model_level=say(
            "{holes}; modes to 6 kHz, quasi-static jet",
            holes=bank.level,
        ),
        climate=climate_words(instrument.climate, air),
    )


def _tone(
    bank: Resonators,
    row: int,
    target: float,
    blowing: Blowing,
    pressure: float,
    embouchure: float,
    hz: float,
    amplitude: np.ndarray,
    beats: bool,
) -> Tone:
    wanted = bank.wanted_hz[row]
    near = np.isfinite(hz) and abs(1200 * np.log2(hz / wanted)) < _NEAR_CENTS
    if not near:
        return Tone(pressure=pressure, embouchure=embouchure, hz=None)
    orders = np.arange(1, len(amplitude) + 1)
    share = np.interp(
        orders * hz, bank.answers.frequencies, np.abs(bank.answers.radiated[row]), right=0.0
    )
    heard = amplitude * share * blowing.closing_kpa * 1000 / _ZERO_PA
    return Tone(
        pressure=pressure,
        embouchure=embouchure,
        hz=float(hz),
        cents_from_target=float(1200 * np.log2(hz / target)),
        inside_db=_levels(amplitude),
        radiated_db=_levels(heard),
        beats=beats,
    )


def _levels(amplitude: np.ndarray) -> tuple[float, ...]:
    return tuple(
        round(max(float(20 * np.log10(max(value, 1e-30))), _FLOOR_DB), 2) for value in amplitude
    )


def _note(
    fingering: Fingering,
    bank: Resonators,
    played: Voices,
    row: int,
    target: float,
    tones: tuple[Tone, ...],
) -> BlownNote:
    soft, strong = tones[1].hz, tones[2].hz
    drift = 1200 * np.log2(strong / soft) if soft and strong else None
    onset = bank.onset
    return BlownNote(
        fingering=fingering.name,
        written=fingering.written,
        register_=fingering.register_,
        resonance=int(bank.wanted[row]),
        target_hz=target,
        resonance_hz=_number(bank.wanted_hz[row]),
        thresholds=tuple(
            Threshold(
                resonance=number + 1,
                pressure=_number(onset.pressure[row, number]),
                hz=_number(onset.hz[row, number]),
            )
            for number in range(onset.hz.shape[1])
        ),
        speaking=played.speaking[row] if tones[0].hz else _unfit(played.speaking[row]),
        from_rest=played.from_rest[row],
        tones=tones,
        drift_cents=None if drift is None else float(drift),
        fit_error=float(bank.modes.error[row]),
    )


def _unfit(speaking: Speaking) -> Speaking:
    return Speaking.SILENT if speaking is Speaking.SILENT else Speaking.OTHER


def _number(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None
