"""A score played on one design: sound pressure at the listener, note by note added up."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from borewright.acoustics.blowing import (
    Blowing,
    Breathing,
    Event,
    play,
    resonators,
    voices,
)
from borewright.acoustics.blowing.steps import RESONANCES, SOUND, VOICES, untold
from borewright.model import FingeringTable, Instrument
from borewright.model.results.blowing import Speaking
from borewright.playing.listening.score import ScoreNote, rows_of
from borewright.words import Message, Said

#: Silence before the first note and after the last (s).
LEAD_S = 0.25
_STRONGEST = 0.97
#: Farther (cents) from its resonance a tone belongs to another register.
_NEAR_CENTS = 150.0


@dataclass(frozen=True)
class Rendering:
    """Sound (Pa, mono) with its notes; ``hz`` are the model's playing frequencies, NaN for none."""

    instrument: str
    samples: np.ndarray
    rate: int
    score: list[ScoreNote]
    fingerings: list[str]
    targets_hz: list[float]
    speaking: list[Speaking]
    hz: list[float]
    release_s: float
    player: Said


def render(
    instrument: Instrument,
    fingerings: FingeringTable,
    score: Sequence[ScoreNote],
    blowing: Blowing | None = None,
    breathing: Breathing | None = None,
    progress: Callable[[Message, int, int], None] | None = None,
) -> Rendering:
    """Play a score.

    Only fingerings of the score are solved. A note that does not speak in its register by
    itself is prepared or helped, see :mod:`borewright.acoustics.blowing.helping`. ``progress``
    is called with what comes next, how many steps are done, and how many there are.

    Raises
    ------
    PlayingError, AcousticsError
        For a note without a fingering; an instrument that cannot be blown.
    """
    blowing, breathing = blowing or Blowing(), breathing or Breathing()
    all_rows = rows_of(score, fingerings)
    used = sorted(set(all_rows))
    table = FingeringTable(
        fingerings=[fingerings.fingerings[row] for row in used], source=fingerings.source
    )
    place = {row: number for number, row in enumerate(used)}
    rows = [place[row] for row in all_rows]
    told = progress or untold
    told(RESONANCES, 0, 3)
    bank = resonators(instrument, table, blowing)
    told(VOICES, 1, 3)
    played = voices(bank, blowing)
    events = [
        Event(row, min(blowing.pressure * note.strength, _STRONGEST), note.seconds)
        for row, note in zip(rows, score, strict=True)
    ]
    told(SOUND, 2, 3)
    done = play(bank, played, blowing, events, breathing)
    end = max(
        note.start_s * done.rate + len(sound)
        for note, sound in zip(score, done.sounds, strict=True)
    )
    lead = round(LEAD_S * done.rate)
    samples = np.zeros(int(np.ceil(end)) + 2 * lead)
    for note, sound in zip(score, done.sounds, strict=True):
        first = lead + round(note.start_s * done.rate)
        samples[first : first + len(sound)] += sound
    names = [table.fingerings[row].name for row in rows]
    targets = [instrument.pitch.target_hz(table.fingerings[row].written) for row in rows]
    return Rendering(
        instrument=instrument.name,
        samples=samples,
        rate=done.rate,
        score=[note._replace(start_s=note.start_s + LEAD_S) for note in score],
        fingerings=names,
        targets_hz=targets,
        speaking=[
            _as_heard(played.speaking[row], hz, bank.wanted_hz[row])
            for row, hz in zip(rows, done.tone.hz, strict=True)
        ],
        hz=[float(hz) for hz in done.tone.hz],
        release_s=breathing.release_s,
        player=blowing.described(bank.reed),
    )


def _as_heard(speaking: Speaking, hz: float, wanted_hz: float) -> Speaking:
    """What the table promised, unless this very note fell into another register."""
    if np.isfinite(hz) and not abs(1200 * np.log2(hz / wanted_hz)) < _NEAR_CENTS:
        return Speaking.OTHER
    return speaking
