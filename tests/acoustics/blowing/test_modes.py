"""The modal fit: as good as it says, passive, with the network's own resonances."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import input_impedance
from borewright.acoustics.blowing import Blowing, resonators
from borewright.acoustics.blowing.modes import fit_modes
from borewright.acoustics.blowing.resonators import STEP_HZ
from borewright.errors import AcousticsError
from borewright.model import Mouthpiece, Reed, Register


@pytest.fixture(scope="module")
def bank(five_holes, fingered):
    tube = five_holes(mouthpiece=Mouthpiece(), reed=Reed())
    every = ["1", "2", "3", "4", "5"]
    table = fingered(
        ("C4", [], Register.CHALUMEAU),
        ("D4", ["4", "5"], Register.CHALUMEAU),
        ("E4", every, Register.CHALUMEAU),
    )
    return tube, table, resonators(tube, table, Blowing())


def test_the_answers_are_the_engines(bank):
    tube, table, found = bank
    reedless = tube.model_copy(update={"reed": None})
    hz = found.answers.frequencies[10::400]
    for row, fingering in enumerate(table.fingerings):
        expected = input_impedance(reedless, fingering.open_holes, hz) / found.answers.reference
        np.testing.assert_allclose(found.answers.impedance[row, 10::400], expected, rtol=1e-9)


def test_interaction_outside_is_heard_in_the_impedance(five_holes, fingered):
    tube = five_holes(outside_interaction=True, reed=Reed())
    table = fingered(("D4", ["3", "4", "5"], Register.CHALUMEAU))
    found = resonators(tube, table, Blowing())
    reedless = tube.model_copy(update={"reed": None})
    hz = found.answers.frequencies[10::400]
    expected = input_impedance(reedless, ["3", "4", "5"], hz) / found.answers.reference
    np.testing.assert_allclose(found.answers.impedance[0, 10::400], expected, rtol=1e-9)


def test_the_error_is_small_and_true(bank):
    # Half a percent is 0.04 dB; the three highest peaks, which carry a note, are nearer still.
    _, _, found = bank
    assert found.modes.error.max() < 5e-3
    assert found.modes.peak_error.max() < 3e-3
    hz = np.arange(61.0, 6000.0, 7.0)  # between the frequencies of the fit
    given = np.array(
        [np.interp(hz, found.answers.frequencies, 1 / row) for row in found.answers.impedance]
    )
    wrong = np.abs(found.modes.impedance(hz) * given - 1)
    assert np.sqrt(np.mean(wrong**2)) < 1e-2


def test_resonances_stay(bank, cents):
    _, _, found = bank
    hz = found.answers.frequencies
    near = 1 / found.modes.impedance(hz)
    true = 1 / found.answers.impedance
    for row in range(3):
        rises = np.flatnonzero((true[row].imag[:-1] < 0) & (true[row].imag[1:] >= 0))[:3]
        for at in rises:
            places = [
                hz[at] - STEP_HZ * each[at].imag / (each[at + 1].imag - each[at].imag)
                for each in (true[row], near[row])
            ]
            assert abs(cents(*places)) < 0.05


def test_nothing_is_given_back_that_was_not_blown_in(bank):
    _, _, found = bank
    hz = np.concatenate([np.arange(1.0, 8000.0), np.geomspace(8000.0, 1e6, 300)])
    assert found.modes.impedance(hz).real.min() > -1e-9
    assert found.modes.poles.real.max() < 0


def test_a_fit_that_gains_energy_is_made_passive():
    hz = np.arange(2.0, 6001.0, 2.0)
    s = 2j * np.pi * hz
    # A band-limited curve whose real part is negative between its two peaks.
    found = sum(
        800 * np.exp(1j * turn) / (s - (-60 + 2j * np.pi * at))
        + 800 * np.exp(-1j * turn) / (s - (-60 - 2j * np.pi * at))
        for at, turn in ((700.0, 0.02), (1900.0, -0.02))
    )
    assert found.real.min() < 0
    modes = fit_modes(hz, found[None], count=2)
    assert modes.impedance(np.arange(1.0, 2e4)).real.min() > -1e-9


def test_infinite_peaks_are_refused():
    hz = np.arange(2.0, 6001.0, 2.0)
    endless = np.full((1, len(hz)), np.inf + 0j)
    with pytest.raises(AcousticsError, match="not finite"):
        fit_modes(hz, endless)
