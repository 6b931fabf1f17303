"""From the reed to the listener: radiated share, impulse response, notes in time."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import Air
from borewright.acoustics.blowing import Blowing, Event, play, resonators, table_of, voices
from borewright.acoustics.blowing.sound import AHEAD_S, SOUND_RATE, transfer
from borewright.model import Register


def test_a_pipe_radiates_what_theory_says(pipe, fingered):
    """A small source at the end: p = w rho U / (4 pi D), U from the tube's own line."""
    air = Air(speed_of_sound=345.0, density=1.18, losses=False)
    tube = pipe(length=500.0, top=15.0, outside=19.0)
    player = Blowing(reed_hz=2e4, reed_damping=1.0, distance_m=10.0)
    bank = resonators(tube, fingered(("C4", [], Register.CHALUMEAU)), player, air)
    hz = bank.answers.frequencies[[20, 60, 100]]
    k = 2 * np.pi * hz / 345.0
    outer = 7.5 / 9.5
    end = 7.5e-3 * (0.8217 - 0.2084 * outer + 0.057 * outer * (1 - outer**5))
    section = np.pi * 7.5e-3**2
    # Closed above, open below: U at the end over p at the top.
    flow = section / (1.18 * 345.0) * np.cos(k * end) / np.sin(k * (0.5 + end))
    away = np.hypot(10.0, 0.25)
    expected = 2 * np.pi * hz * 1.18 * flow / (4 * np.pi * away)
    found = np.abs(bank.answers.radiated[0][[20, 60, 100]])
    np.testing.assert_allclose(found, np.abs(expected), rtol=0.01)


@pytest.fixture(scope="module")
def band(clarinet, fingerings):
    player = Blowing()
    bank = resonators(clarinet, fingerings, player)
    return clarinet, fingerings, player, bank, voices(bank, player)


def test_the_impulse_response_has_ended_before_it_is_cut(band):
    bank = band[3]
    for row in range(len(bank.wanted)):
        impulse = transfer(bank.answers, row)
        energy = np.cumsum(impulse**2) / np.sum(impulse**2)
        assert energy[round(0.5 * AHEAD_S * SOUND_RATE)] < 1e-4
        assert 1 - energy[round(0.45 * SOUND_RATE)] < 1e-4


def test_notes_sound_as_the_table_says(band):
    instrument, table, player, bank, played = band
    rows = [0, 1, 2]
    done = play(bank, played, player, [Event(row, player.pressure, 0.8) for row in rows])
    told = table_of(instrument, table, player, bank, played)
    for number, row in enumerate(rows):
        tone = told.notes[row].tones[0]
        assert abs(1200 * np.log2(done.tone.hz[number] / tone.hz)) < 0.1
        sound = done.sounds[number]
        steady = sound[round(0.5 * SOUND_RATE) : round(0.7 * SOUND_RATE)]
        time = np.arange(len(steady)) / SOUND_RATE
        window = np.hanning(len(steady))
        for harmonic in (1, 2, 3, 5):
            turn = np.exp(-2j * np.pi * harmonic * tone.hz * time)
            size = np.abs(np.sum(window * steady * turn)) / np.sum(window) * np.sqrt(2)
            level = 20 * np.log10(size / 20e-6)
            assert level == pytest.approx(tone.radiated_db[harmonic - 1], abs=0.3)


def test_a_note_begins_and_ends_in_silence(band):
    _, _, player, bank, played = band
    [sound] = play(bank, played, player, [Event(1, player.pressure, 0.4)]).sounds
    loudest = np.abs(sound).max()
    assert np.abs(sound[:10]).max() < 1e-3 * loudest
    assert np.abs(sound[-10:]).max() < 1e-3 * loudest
    assert len(sound) == round(0.7 * SOUND_RATE)
