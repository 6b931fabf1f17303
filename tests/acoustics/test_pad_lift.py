"""Workshop rule: a pad must lift by a third of its hole's diameter (trade handbook)."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from borewright.acoustics import resonances, tuning
from borewright.acoustics.solved import HoleCover, HoleShape, MeshDetail, solve_hole
from borewright.model import Pad, ToneHole, dimensions, read_values, with_values

DIAMETER_MM, PAD_MM = 8.0, 12.0
THIRD_MM = DIAMETER_MM / 3
#: Downwards by equal steps of a twelfth of the diameter, from twice a third to a twelfth.
LIFTS_MM = DIAMETER_MM / 12 * np.arange(8, 0, -1)


@pytest.fixture(scope="module")
def pitch_hz(pipe, lossless):
    """First resonance (Hz) of a tube with one open hole, with the pad at a lift (mm)."""

    def find(station_mm: float, lift_mm: float) -> float:
        pad = Pad(diameter_mm=PAD_MM, lift_mm=lift_mm, rest="open")
        hole = ToneHole(
            name="1", station_mm=station_mm, diameter_mm=DIAMETER_MM, cover="pad", pad=pad
        )
        return resonances(pipe(length=400, holes=[hole]), ["1"], 1, lossless)[0]

    return find


@pytest.mark.parametrize("station_mm", [250, 330, 375])
def test_below_a_third_it_flattens_more_and_more(pitch_hz, cents, station_mm):
    free = pitch_hz(station_mm, 30.0)
    flat = np.array([cents(pitch_hz(station_mm, lift), free) for lift in LIFTS_MM])
    steps = np.diff(flat)
    # Every step down flattens, and by more than the step before.
    assert flat[0] < 0
    assert np.all(steps < 0)
    assert np.all(np.diff(steps) < 0)
    # Above a third as much travel as below it (to a twelfth) does a fifth of the harm at most.
    third = int(np.argmin(np.abs(LIFTS_MM - THIRD_MM)))
    above, below = flat[third] - flat[0], flat[-1] - flat[third]
    assert above > below / 5
    # All lift beyond a third, however much, wins back less than the first two steps below lose.
    assert -flat[third] < flat[third] - flat[third + 2]


def test_a_pads_own_note_flattens_and_the_rest_hear_less(clarinet, fingerings, cents):
    """Pad P lowered from its 3 mm by halves: its own two notes before any other."""
    labels = [dimension.label for dimension in dimensions(clarinet)]
    column = labels.index("P lift")

    def at(lift: float) -> np.ndarray:
        values = read_values(clarinet)
        values[column] = lift
        notes = tuning(with_values(clarinet, values), fingerings).notes
        return np.array([note.sounding_hz for note in notes])

    pitches = [at(lift) for lift in (6.0, 3.0, 1.5, 0.75)]
    falls = [cents(low, high) for high, low in itertools.pairwise(pitches)]
    opened = np.array(["P" in fingering.open_holes for fingering in fingerings.fingerings])
    for fall in falls:
        assert np.all(fall[opened] < 0)
        assert fall[~opened] == pytest.approx(0, abs=1e-6)
        own = [fingering.name in ("C#4", "G#5") for fingering in fingerings.fingerings]
        assert np.max(fall[own]) < np.min(fall[opened & ~np.array(own)])
    assert np.all(np.array(falls[0])[opened] > np.array(falls[1])[opened])
    assert np.all(np.array(falls[1])[opened] > np.array(falls[2])[opened])


def test_the_hole_solved_in_3_d_says_the_same():
    """Its added length grows by more at every step down; a third has a tenth of the shunt."""
    shape = HoleShape(7.5, 4.0, 8.0, cover=HoleCover.PAD, pad_radius_mm=6.0, lift_mm=60.0)
    mesh = MeshDetail(order=3)

    def shunt(lift: float) -> float:
        padded = HoleShape(7.5, 4.0, 8.0, cover=HoleCover.PAD, pad_radius_mm=6.0, lift_mm=lift)
        return solve_hole(padded, mesh=mesh, check=False).shunt_length_mm

    free = solve_hole(shape, mesh=mesh, check=False).shunt_length_mm
    lengths = np.array([shunt(lift) for lift in LIFTS_MM])
    steps = np.diff(lengths)
    assert np.all(steps > 0)
    assert np.all(np.diff(steps) > 0)
    third = int(np.argmin(np.abs(LIFTS_MM - THIRD_MM)))
    assert lengths[third] - free < free / 10
    assert lengths[-1] - lengths[third] > 3 * (lengths[third] - free)
