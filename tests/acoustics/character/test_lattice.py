"""Cut-off of a row of equal holes against the theory of periodic transmission lines.

An endless lossless lattice lets waves through where |cos qd| <= 1, with cos qd half the trace
of a cell's matrix: half a spacing of tube, the hole as a T, half a spacing. Without the hole's
series branch this is cos qd = cos kd + (j/2) (Zc/Zh) sin kd (Brillouin; Benade 1960). The
cell is built here from the textbook chain, in plain NumPy.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from borewright.acoustics.air import air_state
from borewright.acoustics.character import character, spectra
from borewright.acoustics.character.lattice import half_returned_hz
from borewright.model import ToneHole

BORE_MM, OUTSIDE_MM, COUNT = 14.6, 30.0, 16
NAMES = [str(number) for number in range(1, COUNT + 1)]


def row_of(pipe, still, spacing: float, diameter: float, length: float = 500.0):
    holes = [
        ToneHole(name=name, station_mm=60 + spacing * number, diameter_mm=diameter)
        for number, name in enumerate(NAMES)
    ]
    return pipe(length=length, top=BORE_MM, outside=OUTSIDE_MM, holes=holes, climate=still)


def band_edge_hz(textbook, spacing: float, diameter: float) -> float:
    """Lowest frequency at which the endless lossless lattice lets a wave through."""
    air = air_state(25.0)
    hole = textbook.Hole(0.0, diameter / 2e3, 0.0, True)
    tube = textbook.Tube(0.5, BORE_MM / 2e3, OUTSIDE_MM / 2e3, [hole], air)
    rho, c = float(air.density), float(air.speed_of_sound)
    characteristic = rho * c / (np.pi * (BORE_MM / 2e3) ** 2)

    def cosine(hz: float) -> float:
        phase = 2 * np.pi * hz / c * spacing / 2e3
        at = np.array([hz])
        series, shunt = (1j * entry.imag for entry in textbook.hole_impedances(tube, hole, at))
        line = textbook.matrix(
            np.cos(phase),
            1j * characteristic * np.sin(phase),
            1j * np.sin(phase) / characteristic,
            np.cos(phase),
            at,
        )
        half = textbook.matrix(1, series / 2, 0, 1, at)
        cell = line @ half @ textbook.matrix(1, 0, 1 / shunt, 1, at) @ half @ line
        return float(np.trace(cell[0]).real / 2)

    assert cosine(200.0) > 1
    return brentq(lambda hz: cosine(hz) - 1, 200.0, 4000.0)


@pytest.mark.parametrize(
    ("spacing", "diameter"), [(18.0, 6.0), (18.0, 8.0), (24.0, 6.0), (26.0, 9.0)]
)
def test_equal_holes(pipe, textbook, still, tabled, spacing, diameter):
    """3 %: a row of 16 has no sharp edge, and half the power passes a little above it."""
    instrument = row_of(pipe, still, spacing, diameter)
    table = tabled(("D5", "chalumeau", NAMES))
    lattice = character(instrument, table).notes[0].lattice
    expected = band_edge_hz(textbook, spacing, diameter)
    assert lattice.kind == "row"
    assert (lattice.first_hole, lattice.open_holes) == ("1", COUNT)
    assert lattice.cutoff_hz == pytest.approx(expected, rel=0.03)
    # The formula takes the holes as lumped, kd small: 6 % here.
    assert lattice.formula_hz == pytest.approx(expected, rel=0.06)


def test_what_hangs_below_the_row_does_not_matter(pipe, still, tabled):
    table = tabled(("D5", "chalumeau", NAMES[:8]))
    cutoffs = [
        character(row_of(pipe, still, 18.0, 7.0, length), table).notes[0].lattice.cutoff_hz
        for length in (490.0, 503.0)
    ]
    # The same row, cut a little differently, with another mean of the ratio of heats; and closed
    # holes below it meet its last ones inside the bore.
    assert cutoffs[0] == pytest.approx(cutoffs[1], rel=5e-5)


def test_wider_holes_closer_together_cut_off_higher(pipe, still, tabled):
    table = tabled(("D5", "chalumeau", NAMES))

    def cutoff(spacing: float, diameter: float) -> float:
        found = character(row_of(pipe, still, spacing, diameter), table).notes[0].lattice
        return found.cutoff_hz or 0.0

    assert cutoff(20, 6) > cutoff(25, 6) * 1.05
    assert cutoff(20, 7) > cutoff(20, 6) * 1.05


def test_fewer_holes_are_called_what_they_are(pipe, still, tabled):
    table = tabled(
        ("D3", "chalumeau", ()), ("E3", "chalumeau", ["16"]), ("F3", "chalumeau", ["15", "16"])
    )
    closed, one, two = (
        note.lattice for note in character(row_of(pipe, still, 18.0, 7.0), table).notes
    )
    assert (closed.kind, one.kind, two.kind) == ("bell", "bell", "short row")
    assert (closed.first_hole, closed.formula_hz, one.formula_hz) == ("16", None, None)
    assert two.formula_hz is not None


def test_below_its_cutoff_a_row_returns_nearly_all(pipe, still, tabled):
    curves = spectra(row_of(pipe, still, 18.0, 7.0), tabled(("D5", "chalumeau", NAMES)))
    cutoff = half_returned_hz(curves.frequencies, curves.row[0])
    returned = np.abs(curves.row[0]) ** 2
    assert np.all(returned <= 1 + 1e-12)
    assert np.min(returned[curves.frequencies < 0.8 * cutoff]) > 0.9
    assert np.mean(returned[(curves.frequencies > 1.2 * cutoff)]) < 0.4


def test_half_is_found_between_the_points_or_not_at_all():
    frequencies = np.array([100.0, 200.0, 300.0])
    reflection = np.sqrt([0.9, 0.6, 0.2])
    assert half_returned_hz(frequencies, reflection) == pytest.approx(225.0)
    assert half_returned_hz(frequencies, np.ones(3)) is None
