"""Onset and beating of a lossless cylinder, in theory and in time.

Dalmont, Gilbert, Kergomard and Ollivier, J. Acoust. Soc. Am. 118 (2005) 3294 (from memory):
oscillation starts at a third of the closing pressure, the reed beats from a half.
"""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import Air
from borewright.acoustics.blowing import Blowing, resonators
from borewright.acoustics.blowing.reed import ReedModel
from borewright.acoustics.blowing.running import RATE, Stage, run, swelling
from borewright.acoustics.blowing.steady import steady
from borewright.model import Register

#: Both within 2 %, as asked for; what is found is nearer by far.
CLOSE = 0.02
LIP = 0.3


def blown(modes, reed, pressures, seconds, attack_s=0.05, kept_s=None):
    """The same resonator blown at several pressures."""
    pressures = np.asarray(pressures)
    count = len(pressures)
    copies = modes._replace(
        poles=np.repeat(modes.poles, count, axis=0),
        residues=np.repeat(modes.residues, count, axis=0),
        error=np.zeros(count),
        peak_error=np.zeros(count),
    )
    stage = Stage(seconds, copies, np.full(count, LIP))
    return run([stage], reed, 0.0, swelling(pressures, attack_s), kept_s=kept_s)


@pytest.fixture(scope="module")
def lossless_pipe(pipe, fingered):
    """The network's own cylinder, losses off: only the open end takes a little."""
    tube = pipe(length=600.0, top=15.0)
    air = Air(speed_of_sound=345.0, density=1.18, losses=False)
    table = fingered(("C4", [], Register.CHALUMEAU))
    return resonators(tube, table, Blowing(reed_hz=20_000.0, reed_damping=0.05), air)


def test_the_threshold_is_a_third(lossless_pipe):
    onset = lossless_pipe.onset
    assert onset.pressure[0, 0] == pytest.approx(1 / 3, rel=CLOSE)
    assert onset.pressure[0, 0] > 1 / 3  # what the end takes must be blown in


def test_at_the_threshold_the_resonance_sounds(lossless_pipe, cents):
    # What is left is the lag of a reed 140 times faster than the note.
    onset = lossless_pipe.onset
    assert abs(cents(onset.hz[0, 0], onset.resonance_hz[0, 0])) < 0.1


def test_in_time_a_small_sound_grows_from_a_third_on(cylinder, fast_reed):
    tube = cylinder(12)
    pressures = np.array([0.31, 0.32, 0.345, 0.36])
    motion = blown(tube.modes, fast_reed, pressures, 1.0, attack_s=0.2)
    time = np.arange(len(motion.pressure)) / RATE
    turning = motion.pressure * np.exp(-2j * np.pi * tube.first_hz * time)[:, None]
    window = round(0.2 * RATE)
    early, late = (
        np.abs(np.mean(np.hanning(window)[:, None] * turning[at : at + window], axis=0))
        for at in (round(0.3 * RATE), round(0.7 * RATE))
    )
    growth = np.log(late / early) / 0.4
    assert np.all(growth[:2] < 0)
    assert np.all(growth[2:] > 0)
    onset = np.interp(0.0, growth, pressures)
    assert onset == pytest.approx(1 / 3, rel=CLOSE)


def test_in_time_the_reed_beats_from_a_half_on(cylinder, fast_reed):
    tube = cylinder(60)
    pressures = np.array([0.44, 0.46, 0.48, 0.53])
    motion = blown(tube.modes, fast_reed, pressures, 0.8, kept_s=0.2)
    # The slit is shut for half a period; its median over that half leaves out the flanks.
    lower = np.sort(motion.opening, axis=0)[: len(motion.opening) // 2]
    slit = np.median(lower, axis=0)
    assert np.all(slit[:3] > 0)
    assert slit[3] < 0.001
    slope, height = np.polyfit(pressures[:3], slit[:3], 1)
    assert -height / slope == pytest.approx(0.5, rel=CLOSE)
    # Without losses the pressure swings as far down as the mouth's is up.
    assert slit[:3] == pytest.approx(1 - 2 * pressures[:3], abs=0.02)


def test_the_playing_frequency_tends_to_the_resonance(cylinder, cents):
    tube = cylinder(3)
    motion = blown(tube.modes, ReedModel(20_000.0, 0.1), [0.36, 0.42, 0.48], 2.0, kept_s=0.2)
    away = np.abs(cents(steady(motion.pressure, RATE).hz, tube.first_hz))
    assert away[0] < 1.5
    assert away[0] < away[1] < away[2]
