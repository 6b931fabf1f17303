"""Published solutions of the same problem by independent finite elements.

Lossless, quasi-static, converged; T network with Za = j w rho ta/(pi a²); the end plane of the
hole is a + t from the bore's axis. Values and their errors: acoustics notes, section 4.
"""

from __future__ import annotations

import pytest

from borewright.acoustics.solved import HoleCover, HoleShape, solve_hole


@pytest.mark.parametrize(
    ("bore", "radius", "height", "series", "shunt"),
    [(7.5, 4.0, 8.0, -0.3352, 10.4228), (7.5, 2.5, 6.5, -0.0826, 8.2841)],
)
def test_plain_holes(bore, radius, height, series, shunt):
    solved = solve_hole(HoleShape(bore, radius, height))
    # 0.0001 of the reference; it has zero pressure at the rim, ours radiates: another 0.0001.
    assert solved.series_length_mm == pytest.approx(series, abs=3e-4)
    # 0.0003 of the reference and as much of ours.
    assert solved.inner_length_mm == pytest.approx(shunt, abs=8e-4)


def test_series_length_of_a_closed_hole():
    solved = solve_hole(HoleShape(7.5, 4.0, 8.0), "closed")
    assert solved.series_length_mm == pytest.approx(-0.3348, abs=2e-4)


def test_flush_infinite_baffle():
    solved = solve_hole(HoleShape(7.5, 4.0, 8.0))
    assert solved.shunt_length_mm == pytest.approx(13.710, abs=2e-3)
    assert solved.shunt_error_mm < 0.01


def test_rigid_disc_pad():
    """Radius 6.0, 2 mm thick, 1.5 mm above the rim; reference to 0.001."""
    shape = HoleShape(7.5, 4.0, 8.0, cover=HoleCover.PAD, pad_radius_mm=6.0, lift_mm=1.5)
    solved = solve_hole(shape)
    assert solved.shunt_length_mm == pytest.approx(16.233, abs=6e-3)
    assert abs(solved.shunt_length_mm - 16.233) < solved.shunt_error_mm


def test_errors_are_small_and_above_what_the_references_say():
    solved = solve_hole(HoleShape(7.5, 4.0, 8.0), "closed")
    assert abs(solved.series_length_mm + 0.3348) < solved.series_error_mm < 2e-3
    assert solved.volume_error_mm3 < 1e-3 * solved.volume_mm3
    assert solved.unknowns > 1000
    assert solved.seconds > 0
