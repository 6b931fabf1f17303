"""Time stepping: stable at any step, convergent, and true to the linear theory."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from borewright.acoustics.blowing.reed import ReedModel
from borewright.acoustics.blowing.running import Stage, gliding, run, swelling
from borewright.acoustics.blowing.steady import steady

DELAY = 1.6e-5  # s, a reed of 1 cm³ on a clarinet's bore


def tone(tube, reed, pressure, rate, seconds=0.8):
    lip = np.array([0.3])
    motion = run(
        [Stage(seconds, tube.modes, lip)],
        reed,
        DELAY,
        swelling(np.array([pressure]), 0.03),
        rate=rate,
        kept_s=0.2,
    )
    return motion, steady(motion.pressure, rate)


@pytest.mark.parametrize("touching", [False, True])
def test_the_reed_moves_as_its_equation_says(touching):
    reed = ReedModel(1700.0, 0.3, contact_stiffness=40.0, contact_damping=0.6)
    step, before, after, start = 1.5e-4, -0.4, 0.2, (-1.1, 300.0)
    w = 2 * np.pi * 1700.0

    def motion(time, state):
        force = before + (after - before) * time / step
        pull = force - state[0] - 0.3 * state[1] / w
        if touching:
            pull += 40.0 * (-1 - state[0]) - 2 * 0.6 * np.sqrt(40.0) * state[1] / w
        return [state[1], w**2 * pull]

    exact = solve_ivp(motion, (0, step), start, rtol=1e-10, atol=1e-12).y[:, -1]
    found = reed.step_matrix(step, touching=touching) @ [*start, before, after, 1.0]
    np.testing.assert_allclose(found, exact, rtol=1e-7)


def test_halving_the_step_leaves_the_pitch(cylinder, cents):
    tube, reed = cylinder(14), ReedModel(2300.0, 0.4)
    found = [tone(tube, reed, 0.45, rate)[1] for rate in (48_000, 96_000, 192_000)]
    coarse, fine = (cents(found[k].hz[0], found[2].hz[0]) for k in (0, 1))
    assert abs(fine) < 0.05
    assert abs(fine) < abs(coarse) / 2
    # The first five odd harmonics to a tenth of a dB.
    levels = [20 * np.log10(each.amplitude[0, 0:10:2]) for each in found]
    np.testing.assert_allclose(levels[1], levels[2], atol=0.1)


def test_no_step_is_too_long(cylinder):
    # At 8 kHz the reed and most modes turn by more than half a circle a step.
    motion, _ = tone(cylinder(30), ReedModel(7000.0, 0.1), 0.9, 8_000, seconds=2.0)
    assert np.abs(motion.pressure).max() < 3.0


def test_a_shut_reed_presses_the_lay_in_by_its_stiffness_only(cylinder):
    motion, _ = tone(cylinder(8), ReedModel(2300.0, 0.4), 0.97, 96_000)
    # A hundred times stiffer than the reed: some hundredths of the opening, with the impact.
    assert -0.1 < motion.opening.min() < 0.02


def test_silence_below_the_threshold(cylinder):
    _, found = tone(cylinder(8), ReedModel(2300.0, 0.4), 0.2, 96_000, seconds=2.0)
    assert np.isnan(found.hz[0])


def test_breath_glides():
    breath = gliding(np.array([0.4, 0.5]), np.array([0.6, 0.3]), 0.1, 0.5, 1.0)
    at = breath(np.array([0.0, 0.05, 0.3, 0.75, 1.2]))
    expected = [[0, 0], [0.2, 0.25], [0.4, 0.5], [0.5, 0.4], [0.6, 0.3]]
    np.testing.assert_allclose(at, expected, atol=1e-12)


@pytest.mark.parametrize("hz", [147.3, 441.7, 1273.9])
def test_pitch_and_harmonics_of_a_known_tone(hz, cents):
    time = np.arange(0, 0.3, 1 / 96_000)
    known = np.array([0.3, 0.02, 0.15, 0.01])
    signal = sum(
        np.sqrt(2) * size * np.cos(2 * np.pi * n * hz * time + n)
        for n, size in enumerate(known, start=1)
    )
    found = steady(signal[:, None], 96_000, harmonics=4)
    assert abs(cents(found.hz[0], hz)) < 0.02
    np.testing.assert_allclose(found.amplitude[0], known, rtol=2e-3, atol=2e-4)


def test_a_tone_that_repeats_after_two_periods_is_the_lower_one(cents):
    time = np.arange(0, 0.3, 1 / 96_000)
    signal = np.cos(2 * np.pi * 430 * time) + 0.4 * np.cos(2 * np.pi * 215 * time)
    assert abs(cents(steady(signal[:, None], 96_000).hz[0], 215.0)) < 0.05
