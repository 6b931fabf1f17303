"""Cut-offs and strengths with their derivatives, against other ways to the same figures."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest

from borewright.acoustics import Air, input_impedance, kernels
from borewright.acoustics.character.lattice import formula_hz
from borewright.acoustics.qualities import lattice_cutoffs, strengths
from borewright.acoustics.request import request_for, request_of_table
from borewright.model import Instrument, Part, SideHoles, load, read_fingerings, read_values

FOLDER = files("borewright") / "examples" / "class-chalumeau"


@pytest.fixture(scope="module")
def chalumeau():
    instrument = load(FOLDER / "chalumeau.toml")
    plain = instrument.model_copy(update={"side_holes": SideHoles.CLOSED_FORMS})
    return plain, read_fingerings(FOLDER / "fingerings.csv")


def strengths_at(request, values):
    request = request._replace(numbers=request.numbers._replace(values=values))
    solved = kernels.resonances(*request)
    return strengths(request, solved, np.asarray(kernels.jacobian(*request[:5], solved)))


def test_a_strength_is_the_height_of_the_impedance_at_the_resonance(chalumeau):
    instrument, table = chalumeau
    request = request_of_table(instrument, table)
    solved = kernels.resonances(*request)
    found = strengths_at(request, np.array(read_values(instrument)))
    bore = instrument.mouthpiece.bore_diameter_mm / 1e3
    for row in (0, 5):
        hz = np.array([float(np.asarray(solved.frequency)[row])])
        height = abs(input_impedance(instrument, table.fingerings[row].open_holes, hz)[0])
        # Over rho c / S at the top; rho c of warm damp air is 404 to 410 Pa s/m (from memory).
        reference = height / 10 ** (found.value[row] / 20) * np.pi / 4 * bore**2
        assert 400 < reference < 412


def test_a_strength_is_that_of_a_lossy_tube():
    """Height at a resonance of a tube open into nothing: coth(alpha L), alpha by Kirchhoff.

    Fletcher and Rossing, "The Physics of Musical Instruments", section 8.2 (from memory):
    alpha = 3.0e-5 sqrt(f) / a for air of 20 °C, within some per cent.
    """
    part = Part(name="tube", length_mm=600.0, bore=[(0, 15.0), (600, 15.0)],
                outside=[(0, 30.0), (600, 30.0)])  # fmt: skip
    tube = Instrument(parts=[part], bottom_end="ideal", side_holes="closed forms")
    air = Air(speed_of_sound=343.2, density=1.204)
    request = request_for(tube, [[], []], [1, 2], 600.0, air)
    solved = kernels.resonances(*request)
    found = strengths(request, solved, np.asarray(kernels.jacobian(*request[:5], solved)))
    alpha = 3.0e-5 * np.sqrt(np.asarray(solved.frequency)) / 7.5e-3
    assert found.value == pytest.approx(-20 * np.log10(np.tanh(alpha * 0.6)), abs=0.4)


def test_slopes_of_strengths_and_cutoffs_are_difference_quotients(chalumeau):
    instrument, table = chalumeau
    request = request_of_table(instrument, table)
    values = np.array(read_values(instrument))
    pairs = [None, None, None, (3, 4), None, (3, 4), (2, 3), None, (1, 2), (1, 2), (0, 1)]
    step = 1e-3
    strong, cut = strengths_at(request, values), lattice_cutoffs(request, pairs, 345.0)
    assert np.isnan(cut.value[0])
    assert np.isfinite(cut.value[3])
    for column in range(0, len(values), 4):
        ends = []
        for sign in (1, -1):
            moved = values.copy()
            moved[column] += sign * step
            shifted = request._replace(numbers=request.numbers._replace(values=moved))
            ends.append((strengths_at(request, moved), lattice_cutoffs(shifted, pairs, 345.0)))
        quotient = (ends[0][0].value - ends[1][0].value) / (2 * step)
        assert strong.slope[:, column] == pytest.approx(quotient, abs=2e-4, rel=1e-3)
        quotient = np.nan_to_num(ends[0][1].value - ends[1][1].value) / (2 * step)
        assert cut.slope[:, column] == pytest.approx(quotient, abs=1e-3, rel=1e-4)


def test_a_cutoff_is_that_of_the_character_table(chalumeau):
    instrument, table = chalumeau
    names = instrument.hole_names()
    request = request_of_table(instrument, table)
    for row in (["R1", "R2"], ["L2", "L3"]):
        pair = (names.index(row[0]), names.index(row[1]))
        count = len(table.fingerings)
        found = lattice_cutoffs(request, [pair] * count, 345.0)
        assert found.value == pytest.approx(np.full(count, formula_hz(instrument, row, 345.0)))
