"""Note names and the pitch standard (ISO 16: A4 = 440 Hz unless the owner says otherwise)."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import Field, model_validator

from borewright.errors import RefusedValue
from borewright.model.base import Entity, Finite
from borewright.model.bounds import Bounded, Cents
from borewright.words import say

_STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
_NAMES = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")
_NOTE = re.compile(r"([A-Ga-g])([#♯b♭]?)(-?[0-9]{1,2})$")


def note_number(name: str) -> int:
    """MIDI number of a note name such as ``Bb3`` or ``F#5`` (A4 = 69).

    Raises ValueError for anything else, and outside MIDI's 0 to 127.
    """
    match = _NOTE.match(name.strip())
    number = -1
    if match:
        letter, accidental, octave = match.groups()
        shift = {"": 0, "#": 1, "♯": 1, "b": -1, "♭": -1}[accidental]
        number = _STEPS[letter.upper()] + shift + 12 * (int(octave) + 1)
    if not 0 <= number <= 127:
        raise RefusedValue(
            say("'{name}' is not a note", name=name[:20]), say("Write it as C4, Bb3 or F#5.")
        )
    return number


def note_name(number: int) -> str:
    """Usual name of a MIDI number, flats for Eb and Bb, sharps for the others."""
    return f"{_NAMES[number % 12]}{number // 12 - 1}"


class PitchStandard(Entity):
    """A4 in Hz, transposition, and a temperament.

    ``written_to_sounding_semitones`` is -2 for a B-flat clarinet. ``temperament_cents``
    holds twelve deviations from equal temperament for the sounding notes C, C#, … B;
    empty means equal temperament.
    """

    a4_hz: Annotated[Finite, Bounded("a4_hz")] = 440.0
    written_to_sounding_semitones: Annotated[int, Field(strict=True, ge=-36, le=36)] = 0
    temperament_cents: list[Cents] = []

    @model_validator(mode="after")
    def _twelve(self) -> PitchStandard:
        if len(self.temperament_cents) not in (0, 12):
            raise RefusedValue(
                say("temperament_cents has {count} values", count=len(self.temperament_cents)),
                say("Give twelve, from C to B, or leave it out for equal temperament."),
            )
        return self

    def target_hz(self, written: str) -> float:
        """Sounding frequency (Hz) that a written note should have."""
        number = note_number(written) + self.written_to_sounding_semitones
        cents = self.temperament_cents[number % 12] if self.temperament_cents else 0.0
        return float(self.a4_hz * 2 ** ((number - 69) / 12 + cents / 1200))
