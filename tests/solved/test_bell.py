"""The solved bell: half plane, chain of cones and engine must tell one story."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.acoustics import Air, resonances
from borewright.acoustics.solved.bell import below_holes, solve_bell
from borewright.acoustics.solved.whole import whole_resonances
from borewright.acoustics.structure import closed_end
from borewright.model import BottomEnd, Instrument, Part, ToneHole

STILL = Air(346.0, 1.18, losses=False)


@pytest.fixture(autouse=True)
def _own_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))


def tube(bore, wall=2.0, holes=(), **more):
    length = bore[-1][0]
    part = Part(
        name="tube",
        length_mm=length,
        bore=bore,
        outside=[(x, d + 2 * wall) for x, d in bore],
        holes=[ToneHole(name=n, station_mm=x, diameter_mm=d) for n, x, d in holes],
    )
    return Instrument(name="invented flare", invented=True, parts=[part], **more)


def exponential(start, end, first=180.0, last=300.0, pieces=8):
    """A cylinder that opens exponentially: no shape of docs/levels.md."""
    x = np.linspace(first, last, pieces + 1)
    d = start * (end / start) ** np.linspace(0, 1, pieces + 1)
    return [(0.0, start), *zip(x.tolist(), d.tolist(), strict=True)]


@pytest.mark.parametrize("end", [22.0, 50.0])
def test_a_flare_that_was_not_tuned_on_is_met(end):
    """Half plane of the whole tube against cylinder, cones and solved bell."""
    instrument = tube(exponential(14.6, end))
    wanted = np.array(whole_resonances(instrument, [], 4, air=STILL).frequencies_hz)
    solved = resonances(instrument, [], 4, air=STILL, side_holes="solved in 3-D")
    plain = resonances(instrument, [], 4, air=STILL, side_holes="closed forms")
    # 0.2 cent: what the series in ka and the reduction leave.
    assert 1200 * np.abs(np.log2(solved / wanted)).max() < 0.2
    assert np.abs(np.log2(plain / wanted)).max() > 3 * np.abs(np.log2(solved / wanted)).max()


def test_a_thin_pipe_keeps_levine_and_schwingers_length():
    """Phys. Rev. 73 (1948) 383: 0.6133 radii; a wall of a hundredth adds less than 0.01."""
    terms = solve_bell(tube([(0, 15), (300, 15)], wall=0.15))
    ka = 0.1
    longer = sum(c * ka ** (2 * i) for i, c in enumerate(terms.length))
    assert abs(longer) < 0.01


def test_no_end_that_is_not_open_is_solved():
    for end in (BottomEnd.CLOSED, BottomEnd.FLANGED, BottomEnd.IDEAL):
        terms = solve_bell(tube([(0, 15), (300, 15)], bottom_end=end))
        assert all(np.array_equal(a, b) for a, b in zip(terms, closed_end(), strict=True))


def test_the_bell_begins_below_the_lowest_hole():
    bore = exponential(14.6, 50.0)
    bell = below_holes(tube(bore, holes=[("upper", 100, 8), ("lower", 200, 8)]))
    assert bell.parts[0].length_mm == pytest.approx(300 - 204)
    assert bell.parts[0].bore[0][1] == pytest.approx(
        np.interp(204, *zip(*bore, strict=True)), rel=1e-9
    )
    assert not bell.hole_names()


def test_a_bell_is_solved_once(monkeypatch):
    instrument = tube(exponential(14.6, 30.0))
    first = solve_bell(instrument)

    def asked_again():
        raise AssertionError("it is solved a second time")

    monkeypatch.setattr("borewright.acoustics.solved.bell.require_ngsolve", asked_again)
    again = solve_bell(instrument)
    assert all(np.array_equal(a, b) for a, b in zip(first, again, strict=True))


def test_energy_leaves_by_the_mouth_only():
    """|R| stays below 1 at every ka, whatever the series do."""
    instrument = tube(exponential(14.6, 50.0))
    terms = solve_bell(instrument)
    from borewright.acoustics.elements.open_end import reflection

    for ka in np.linspace(0.05, float(terms.highest), 40):
        modulus, _ = reflection(ka, np.ones(1), np.array([27.0 / 25.0]))
        loss = sum(c * ka ** (2 * i + 2) for i, c in enumerate(terms.loss))
        assert float(modulus[0]) * math.exp(-loss) < 1.0
