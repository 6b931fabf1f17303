"""Where an undercut raises the second register against the first, by the standing waves.

A hole is undercut from its own diameter to 2 mm more. Nothing of the engine is used for what
is expected but the hole's lengths at low frequency.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pytest
from scipy.optimize import brentq

from borewright.acoustics import resonances
from borewright.acoustics.closed_lengths import closed_lengths
from borewright.acoustics.structure import numbers_of, structure_of
from borewright.model import Instrument, ToneHole, Undercut

LENGTH_MM, BORE_MM = 400.0, 15.0
DEPTH_MM, WIDER_MM = 3.0, 2.0


@pytest.fixture(scope="module")
def undercut(pipe):
    """The tube with one hole, undercut by so much; by nothing, it has the same structure."""

    def make(station_mm: float, diameter_mm: float, wider_mm: float, **more) -> Instrument:
        mouth = Undercut(diameter_mm=diameter_mm + wider_mm, depth_mm=DEPTH_MM)
        hole = ToneHole(name="1", station_mm=station_mm, diameter_mm=diameter_mm, undercut=mouth)
        # An ideal end, so that the standing wave of the bare tube is known exactly.
        return pipe(
            length=LENGTH_MM, top=BORE_MM, outside=29, holes=[hole], bottom_end="ideal", **more
        )

    return make


@pytest.fixture(scope="module")
def rises(undercut, lossless, cents):
    """Cents by which an undercut raises the first two resonances."""

    def find(station_mm: float, diameter_mm: float, is_open: bool) -> np.ndarray:
        opened = ["1"] if is_open else []
        plain, cut = (
            resonances(undercut(station_mm, diameter_mm, wider), opened, 2, lossless)
            for wider in (0.0, WIDER_MM)
        )
        return cents(cut, plain)

    return find


class Lengths(NamedTuple):
    """Of a hole (mm, mm³): see docs/solved-holes.md."""

    series_open: float
    series_closed: float
    shunt_open: float
    volume: float


def lengths(instrument: Instrument) -> Lengths:
    forms = closed_lengths(structure_of(instrument), numbers_of(instrument))
    return Lengths(
        float(forms.series_open[0]),
        float(forms.series_closed[0]),
        float(forms.tube_open[0] + forms.ends_open[0]),
        float(forms.volume[0]),
    )


@pytest.mark.parametrize("station_mm", [60, 120, 200, 280, 330])
def test_a_closed_hole_widens_the_twelfth_in_the_upper_half_and_narrows_it_in_the_lower(
    undercut, rises, station_mm
):
    """Volume V at x lowers by V cos² kx / SL, a shorter bore by t raises by t sin² kx / L.

    Both shifts, of whatever V and t, go as -cos² kx beside a constant. With 3k for k that is
    less in the upper half of the tube and more in the lower, and the same in its middle.
    """
    area = np.pi / 4 * BORE_MM**2
    plain, cut = (lengths(undercut(station_mm, 8.0, wider)) for wider in (0.0, WIDER_MM))
    volume, shorter = cut.volume - plain.volume, plain.series_closed - cut.series_closed
    phase = np.pi / 2 * station_mm / LENGTH_MM * np.array([1, 3])
    share = shorter * np.sin(phase) ** 2 - volume / area * np.cos(phase) ** 2
    expected = 1200 / np.log(2) * share / LENGTH_MM
    found = rises(station_mm, 8.0, False)
    assert volume > 0
    assert shorter > 0
    # The closed hole itself, which the bare tube lacks, bends the standing wave a little.
    assert found == pytest.approx(expected, abs=0.03)
    against = found[1] - found[0]
    if station_mm == LENGTH_MM / 2:
        assert against == pytest.approx(0, abs=0.05)
    else:
        assert (against > 0.5) == (station_mm < LENGTH_MM / 2)
        assert (against < -0.5) == (station_mm > LENGTH_MM / 2)


def line_hz(station_mm: float, hole: Lengths, diameter_mm: float, number: int) -> float:
    """Resonance (Hz) of a closed tube with one open hole and an ideal end, lossless.

    tan kx = cot ky + 1/(k m): x above and y below the hole, m its inertance as a length of
    bore; the series length shortens both sides.
    """
    above = station_mm + hole.series_open / 2
    below = LENGTH_MM - station_mm + hole.series_open / 2
    m = hole.shunt_open * (BORE_MM / diameter_mm) ** 2

    def excess(k: float) -> float:
        # Times cos kx sin ky, so that it stays finite.
        c, s = np.cos(k * above), np.sin(k * below)
        return float(np.sin(k * above) * s - c * np.cos(k * below) - c * s / (k * m))

    grid = np.linspace(1e-5, 4 * np.pi / LENGTH_MM, 4001)
    signs = np.array([excess(k) for k in grid])
    [places] = np.nonzero(signs[:-1] * signs[1:] < 0)
    at = places[number - 1]
    return float(brentq(excess, grid[at], grid[at + 1], xtol=1e-14)) * 346e3 / (2 * np.pi)


@pytest.mark.parametrize(
    ("station_mm", "diameter_mm", "sign"),
    [
        (250, 8.0, +1),  # wide, far above the end: the second register's flow goes through it
        (280, 8.0, +1),
        (250, 4.0, -1),  # narrow: in the second register most flow passes it by
        (200, 6.0, -1),  # half way: near the second register's pressure node
        (385, 8.0, 0),  # at the end both registers see the same open end
    ],
)
def test_an_open_hole_by_the_flow_through_it(undercut, rises, cents, station_mm, diameter_mm, sign):
    plain, cut = (lengths(undercut(station_mm, diameter_mm, w)) for w in (0.0, WIDER_MM))
    expected = np.array(
        [
            cents(*(line_hz(station_mm, hole, diameter_mm, number) for hole in (cut, plain)))
            for number in (1, 2)
        ]
    )
    found = rises(station_mm, diameter_mm, True)
    assert cut.shunt_open < plain.shunt_open
    # Both rise, as common practice has it.
    assert np.all(found > 0)
    # Lengths are those at low frequency; the hole is a short tube with a wave of its own.
    assert found == pytest.approx(expected, rel=0.05, abs=0.05)
    against, foretold = found[1] - found[0], expected[1] - expected[0]
    if sign:
        assert sign * against > 3
        assert sign * foretold > 3
    else:
        assert abs(against) < 0.2
        assert abs(foretold) < 0.2


def test_holes_solved_in_3_d_agree_on_where(undercut, lossless, cents, tmp_path, monkeypatch):
    """The same signs by lengths that no closed form has a part in but as what is scaled."""
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))
    against = {}
    for station_mm, diameter_mm, opened in (
        (250, 8.0, ["1"]),
        (250, 4.0, ["1"]),
        (385, 8.0, ["1"]),
        (120, 8.0, []),
        (280, 8.0, []),
    ):
        plain, cut = (
            resonances(
                undercut(station_mm, diameter_mm, wider),
                opened,
                2,
                lossless,
                side_holes="solved in 3-D",
            )
            for wider in (0.0, WIDER_MM)
        )
        rise = cents(cut, plain)
        against[station_mm, diameter_mm, bool(opened)] = float(rise[1] - rise[0])
    assert against[250, 8.0, True] > 3
    assert against[250, 4.0, True] < -3
    assert abs(against[385, 8.0, True]) < 0.2
    assert against[120, 8.0, False] > 1
    assert against[280, 8.0, False] < -1
