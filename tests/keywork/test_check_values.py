"""The nineteen check values: each formula against the value worked out with it by hand.

Source of formulas: Euler–Bernoulli cantilever, plane geometry, plane Poiseuille flow (any
handbook of mechanics); the values were computed apart from this code.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.keywork import growth, photographs, plane, seating, springs, standing


def test_1_and_2_needle_and_its_touch():
    needle = springs.Cantilever(205e3, 0.8, 30)
    assert needle.force_n(3) == pytest.approx(1.374, abs=5e-4)
    assert needle.stress_mpa(3) == pytest.approx(820, abs=0.5)
    assert springs.touch_force_g(needle.force_n(3), 3, 9) == pytest.approx(46.7, abs=0.05)


def test_3_stainless_needle():
    needle = springs.Cantilever(190e3, 0.7, 28)
    assert needle.force_n(2.5) == pytest.approx(0.765, abs=5e-4)
    assert needle.stress_mpa(2.5) == pytest.approx(636, abs=0.5)


def test_4_bronze_flat():
    flat = springs.Cantilever(110e3, 0.5, 20, width_mm=3)
    assert flat.force_n(1.0) == pytest.approx(1.289, abs=5e-4)
    assert flat.stress_mpa(1.0) == pytest.approx(206, abs=0.5)


def test_5_angle_for_a_lift():
    assert plane.angle_for_lift_deg(2.3, 16.5) == pytest.approx(8.013, abs=5e-4)


def test_6_lift_at_centre_and_edges():
    lifts = [plane.lift_mm(12.19, 0.85, 17.96, s) for s in (0, -8, 8)]
    assert lifts == pytest.approx([3.80, 1.33, 6.27], abs=0.005)


def test_7_touch_travel_and_a_pad_beside_its_hinge():
    assert plane.touch_travel_mm(19.0, 7.86) == pytest.approx(2.60, abs=0.005)
    assert plane.across_slide_per_lift(37) == pytest.approx(0.754, abs=5e-4)


def test_8_square_landing():
    assert plane.square_landing(19.5, 15.42) == pytest.approx((11.94, 37.7), abs=0.05)


def test_9_slide_per_lift_of_a_long_arm():
    m, h = plane.landing(19.5, 113, 15.42)
    assert h / m == pytest.approx(-1.284, abs=5e-4)


def test_10_and_11_gaps():
    assert seating.gap_from_height_mm(0.2, 5, 16.5) == pytest.approx(0.061, abs=5e-4)
    assert seating.gap_from_height_mm(0.1, 5.5, 34) == pytest.approx(0.0162, abs=5e-5)


def test_12_and_13_warmth():
    change = growth.play_change_mm(150, 20, body_per_k=68e-6, rod_per_k=17e-6)
    assert change == pytest.approx(0.153, abs=5e-4)
    assert growth.cooling_that_binds_k(0.03, 150) == pytest.approx(3.92, abs=5e-3)


def test_14_rod_over_a_cone():
    outside = float(np.interp(221.985, [150, 244], [30.5, 34.0])) / 2
    assert standing.rod_clearance_mm(19.5, 3.4, outside) == pytest.approx(1.210, abs=5e-4)


def test_15_posts_from_a_key():
    assert standing.hinge_beside_pad(17.25, -7.03, 14.0) == pytest.approx((18.61, 68.0), abs=0.05)


def test_16_and_17_leaks():
    around = math.pi * 8.5
    assert seating.slit_leak_ml_s(around, 0.6, 0.03) == pytest.approx(5.50, abs=0.005)
    assert seating.wedge_leak_ml_s(around, 0.6, 0.05) == pytest.approx(7.96, abs=0.005)


def test_18_parallax():
    assert photographs.parallax_mm(90, 8, 1500) == pytest.approx(0.483, abs=5e-4)


def test_19_heads_of_a_hinge_across():
    assert standing.across_head(5.015, 18.6) == pytest.approx((15.09, 19.26), abs=0.005)


def test_the_wedge_factor_is_the_mean_of_the_cube():
    # Independent of the closed form: the mean over a fine circle.
    phi = np.linspace(0, 2 * np.pi, 10_000, endpoint=False)
    assert np.mean(((1 - np.cos(phi)) / 2) ** 3) == pytest.approx(5 / 16, abs=1e-9)


def test_wide_gaps_leak_as_orifices():
    # Bernoulli through 0.6 of the area: 0.6·P·g·√(2Δp/ρ), for a gap where Poiseuille is absurd.
    around = math.pi * 8.5
    flow = 0.6 * around * 0.5 * math.sqrt(2000 / 1.204)
    assert seating.slit_leak_ml_s(around, 0.6, 0.5) == pytest.approx(flow, rel=1e-9)


def test_ten_per_cent_thicker_is_46_per_cent_more_force():
    thin, thick = (springs.Cantilever(205e3, d, 30).force_n(1) for d in (0.7, 0.77))
    assert thick / thin == pytest.approx(1.4641, abs=1e-6)


def test_angle_and_lift_undo_each_other():
    for m, h in ((12.19, 0.85), (17.95, -23.0), (16.5, 4.6)):
        angle = plane.angle_for_lift_deg(2.0, m, h)
        assert plane.lift_mm(m, h, angle) == pytest.approx(2.0, abs=1e-9)
