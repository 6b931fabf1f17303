"""Sound that nobody here made: a General MIDI bank's clarinet, bent by known amounts."""

from __future__ import annotations

import io
from importlib.resources import files

import midirenderer
import mido
import numpy as np
import pytest

from borewright.model import PitchStandard
from borewright.playing import analyse_take

CLARINET_PROGRAM = 71
#: Wheel steps for a semitone at the bank's usual range of two semitones.
STEPS = 4096


def rendered(notes: list[tuple[int, float]]) -> bytes:
    """WAV of (MIDI number, bend in cents) notes, two seconds each."""
    track = mido.MidiTrack([mido.Message("program_change", program=CLARINET_PROGRAM)])
    for number, bend in notes:
        track += [
            # A rest of 1.5 s: the bank's release, bent already, would sound into the note.
            mido.Message("pitchwheel", pitch=round(bend / 100 * STEPS), time=1440),
            mido.Message("note_on", note=number, velocity=80),
            mido.Message("note_off", note=number, time=1920),
        ]
    song = mido.MidiFile(ticks_per_beat=480, tracks=[track])
    midi = io.BytesIO()
    song.save(file=midi)
    bank = (files("pretty_midi") / "TimGM6mb.sf2").read_bytes()
    return midirenderer.render_wave_from(bank, midi.getvalue())


def test_bends_are_recovered_within_a_cent(tmp_path):
    """The bank's own tuning is unknown: each bend is measured from the same note unbent."""
    numbers = range(52, 92, 6)
    bends = [0.0, 7.3, -12.0, 25.0, -40.0]
    notes = [(number, bend) for number in numbers for bend in bends]
    path = tmp_path / "bank.wav"
    path.write_bytes(rendered(notes))
    take, _ = analyse_take(path, pitch=PitchStandard(), temperature_c=20, tones=False)
    assert len(take.notes) == len(notes)
    hz = np.array([note.hz for note in take.notes]).reshape(len(numbers), len(bends))
    found = 1200 * np.log2(hz / hz[:, :1])
    planted = np.round(np.array(bends) / 100 * STEPS) / STEPS * 100
    assert np.abs(found - planted).max() < 1.0
    # No octave or twelfth errors: every note lies within a quarter tone of its name.
    wanted = 440 * 2 ** ((np.array(numbers) - 69) / 12)
    assert np.abs(1200 * np.log2(hz[:, 0] / wanted)).max() < 50.0


@pytest.mark.parametrize("number", [55, 76])
def test_the_tone_is_a_clarinets(tmp_path, number):
    """Low notes of a clarinet have weak even harmonics; the twelfth above is less odd."""
    path = tmp_path / "bank.wav"
    path.write_bytes(rendered([(number, 0.0)]))
    take, _ = analyse_take(path, pitch=PitchStandard(), temperature_c=20)
    balance = take.notes[0].tone.odd_even_db
    assert balance > 3.0 if number == 55 else np.isfinite(balance)
