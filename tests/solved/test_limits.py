"""What theory says of long, narrow, scaled and mirrored holes, and of open ends."""

from __future__ import annotations

from dataclasses import replace

import pytest

from borewright.acoustics.solved import HoleShape, MeshDetail, solve_hole

PLAIN = HoleShape(7.5, 4.0, 12.0)


def test_a_longer_hole_grows_as_a_plane_wave():
    """Beyond a radius or two from its ends a tube has plane waves: 1 mm more is 1 mm more."""
    short, tall = solve_hole(PLAIN), solve_hole(replace(PLAIN, height_mm=22.0))
    assert tall.shunt_length_mm - short.shunt_length_mm == pytest.approx(10.0, abs=2e-3)
    assert tall.inner_length_mm - short.inner_length_mm == pytest.approx(10.0, abs=2e-3)
    assert tall.series_length_mm == pytest.approx(short.series_length_mm, abs=2e-4)


def test_a_deeper_ledge_trades_a_narrow_tube_for_a_wide_one():
    """Plane waves on both sides of the ledge: 1 mm deeper is 1 mm (b² / m² - 1) more."""
    shape = replace(PLAIN, height_mm=22.0, undercut_radius_mm=5.5)
    shallow, deep = (
        solve_hole(replace(shape, undercut_depth_mm=depth, undercut_straight_mm=depth))
        for depth in (8.0, 13.0)
    )
    expected = 5.0 * ((4.0 / 5.5) ** 2 - 1)
    assert deep.shunt_length_mm - shallow.shunt_length_mm == pytest.approx(expected, abs=2e-3)
    # The first mode across the mouth sees exp(-2 · 1.84 · 8 / 5.5) = 0.5 % of the nearer ledge.
    assert deep.series_length_mm == pytest.approx(shallow.series_length_mm, rel=5e-3)


def test_a_ledge_is_the_end_of_ever_steeper_cones():
    """An undercut straight but for its last hundredth of a millimetre has a ledge."""
    ledge = replace(PLAIN, undercut_radius_mm=5.0, undercut_depth_mm=3.0, undercut_straight_mm=3.0)
    steep = solve_hole(replace(ledge, undercut_straight_mm=2.99))
    assert steep.shunt_length_mm == pytest.approx(solve_hole(ledge).shunt_length_mm, abs=5e-3)


def test_a_longer_closed_hole_grows_by_a_third():
    """Low-frequency inertance of a stopped tube: rho t/(3 S) + inner correction.

    The bore's pressure is curved over the mouth, which takes b²/4 over the tube's length.
    """
    short = solve_hole(replace(PLAIN, height_mm=30.0), "closed")
    tall = solve_hole(replace(PLAIN, height_mm=60.0), "closed")
    curved = 4.0**2 / 4 * (1 / 30.3 - 1 / 60.3)
    grown = tall.shunt_length_mm - short.shunt_length_mm
    # The mouth's flow is not uniform, as b²/4 takes it: a third of that term is left.
    assert grown == pytest.approx(10.0 + curved, abs=0.05)


def test_series_length_of_small_holes():
    """Limit 0.301 b d² of converged solutions, for d = b/a -> 0 (acoustics notes, section 4)."""
    mesh = MeshDetail(order=5, wall_size=0.6)
    for d in (0.1, 0.15):
        radius = 8.0 * d
        solved = solve_hole(HoleShape(8.0, radius, 6.0), mesh=mesh)
        ratio = -solved.series_length_mm / (radius * d**2)
        assert ratio == pytest.approx(0.301, abs=0.003)


def test_series_length_forgets_the_far_end():
    """The first mode across the hole decays as exp(-1.84 z/b): t = 3 b sees 1e-5 of it."""
    opened = solve_hole(PLAIN)
    closed = solve_hole(PLAIN, "closed")
    longer = solve_hole(replace(PLAIN, height_mm=18.0), "closed")
    assert closed.series_length_mm == pytest.approx(opened.series_length_mm, abs=2e-4)
    assert longer.series_length_mm == pytest.approx(closed.series_length_mm, abs=2e-4)


def test_end_correction_in_a_flange():
    """0.8217 b: Nomura, Yamamura and Inawashiro, J. Phys. Soc. Jpn 15 (1960) 510."""
    solved = solve_hole(PLAIN)
    assert solved.outside_length_mm / 4.0 == pytest.approx(0.8217, abs=5e-4)


def test_tall_chimney_is_a_pipe_with_a_wall():
    """Dalmont, Nederveen and Joly (2001): 0.6856 b for a wall of b/4, to a per cent."""
    shape = HoleShape(7.5, 4.0, 24.0, body_radius_mm=15.5, chimney_mm=16.0, chimney_wall_mm=1.0)
    ratio = 4.0 / 5.0
    theory = 0.8217 + ratio * (0.6133 - 0.8217) + 0.057 * ratio * (1 - ratio**5)
    assert solve_hole(shape).outside_length_mm / 4.0 == pytest.approx(theory, abs=0.01)


def test_flush_hole_in_a_round_body():
    """Dalmont, Nederveen and Joly (2001): b (0.8217 - 0.47 (b/R)^0.8), to a few per cent."""
    shape = HoleShape(7.5, 4.0, 8.0, body_radius_mm=15.5)
    theory = 0.8217 - 0.47 * (4.0 / 15.5) ** 0.8
    assert solve_hole(shape).outside_length_mm / 4.0 == pytest.approx(theory, rel=0.04)


def test_lengths_scale():
    small, large = solve_hole(PLAIN), solve_hole(HoleShape(75.0, 40.0, 120.0))
    assert large.shunt_length_mm == pytest.approx(10 * small.shunt_length_mm, rel=1e-4)
    assert large.series_length_mm == pytest.approx(10 * small.series_length_mm, rel=1e-3)
    assert large.volume_mm3 == pytest.approx(1000 * small.volume_mm3, rel=1e-5)


@pytest.mark.parametrize("state", ["open", "closed"])
def test_a_cone_seen_from_its_other_end(state):
    narrowing = solve_hole(replace(PLAIN, bore_slope=-0.1), state)
    widening = solve_hole(replace(PLAIN, bore_slope=0.1), state)
    for name in ("series_length_mm", "shunt_length_mm", "volume_mm3"):
        here, there = getattr(narrowing, name), getattr(widening, name)
        assert here == pytest.approx(there, rel=1e-3), name


@pytest.mark.parametrize("state", ["open", "closed"])
def test_a_slight_cone_is_almost_a_cylinder(state):
    """Half a hole in a cone against a quarter in a cylinder: other meshes, other algebra."""
    cylinder, cone = solve_hole(PLAIN, state), solve_hole(replace(PLAIN, bore_slope=0.012), state)
    assert cone.series_length_mm == pytest.approx(cylinder.series_length_mm, abs=4e-4)
    assert cone.shunt_length_mm == pytest.approx(cylinder.shunt_length_mm, abs=6e-3)
    assert cone.volume_mm3 == pytest.approx(cylinder.volume_mm3, rel=1e-5)
