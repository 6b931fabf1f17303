"""The closed hole's volume is the one of geometry, integrated here by other means."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.integrate import dblquad, quad

from borewright.acoustics.solved import HoleCover, HoleShape, solve_hole
from borewright.acoustics.solved.hole_volume import hole_volume

PLAIN = HoleShape(7.5, 4.0, 8.0)


def over_disc(bore: float, radius: float, ceiling: float) -> float:
    """Volume (mm³) between a cylinder's wall and a plane, over a disc: strips along the bore."""

    def strip(y: float) -> float:
        return 2 * math.sqrt(radius**2 - y**2) * (ceiling - math.sqrt(bore**2 - y**2))

    return quad(strip, -radius, radius)[0]


@pytest.mark.parametrize("radius", [1.0, 4.0, 7.0])
def test_plain_hole(radius):
    solved = solve_hole(replace(PLAIN, radius_mm=radius), "closed")
    assert solved.volume_mm3 == pytest.approx(over_disc(7.5, radius, 15.5), rel=1e-3)
    assert abs(solved.volume_mm3 - over_disc(7.5, radius, 15.5)) < solved.volume_error_mm3
    assert solved.displaced_mm3 == 0.0


def test_open_and_closed_hole_hold_the_same_air():
    opened, closed = solve_hole(PLAIN), solve_hole(PLAIN, "closed")
    assert opened.volume_mm3 == pytest.approx(closed.volume_mm3, rel=1e-5)


def test_a_finger_takes_a_cap():
    """Cap of height h on a circle of radius b: pi h (3 b² + h²)/6."""
    finger = replace(PLAIN, cover=HoleCover.FINGER, flesh_mm=0.7)
    cap = math.pi * 0.7 * (3 * 4.0**2 + 0.7**2) / 6
    free, closed = solve_hole(PLAIN, "closed"), solve_hole(finger, "closed")
    assert free.volume_mm3 - closed.volume_mm3 == pytest.approx(cap, rel=1e-3)


def test_a_drilled_hole_ends_at_the_body():
    """Without flesh the finger stops at the mean height of the round body over the hole."""
    shape = replace(PLAIN, body_radius_mm=15.5, cover=HoleCover.FINGER, flesh_mm=0.0)

    def strip(y: float) -> float:
        return 2 * math.sqrt(16 - y**2) * (math.sqrt(15.5**2 - y**2) - math.sqrt(7.5**2 - y**2))

    solved = solve_hole(shape, "closed")
    assert solved.volume_mm3 == pytest.approx(quad(strip, -4, 4)[0], rel=1e-3)


def test_undercut():
    """Mouth cylinder up to the wall on the centre line, cone above: over rings of the mouth."""
    shape = replace(PLAIN, undercut_radius_mm=5.5, undercut_depth_mm=3.0)

    def column(angle: float, r: float) -> float:
        top = 15.5 if r < 4.0 else 7.5 + 3.0 * (5.5 - r) / 1.5
        return r * (top - math.sqrt(7.5**2 - (r * math.sin(angle)) ** 2))

    inner = dblquad(column, 0, 4.0, 0, 2 * math.pi)[0]
    outer = dblquad(column, 4.0, 5.5, 0, 2 * math.pi)[0]
    solved = solve_hole(shape, "closed")
    assert solved.volume_mm3 == pytest.approx(inner + outer, rel=1e-3)


def test_cylindrical_undercut():
    """Two cylinders, the wider one from the bore's wall to the ledge."""
    shape = replace(PLAIN, undercut_radius_mm=5.5, undercut_depth_mm=3.0, undercut_straight_mm=3.0)
    volume = over_disc(7.5, 5.5, 10.5) + math.pi * 4.0**2 * 5.0
    assert hole_volume(shape, "closed").tube == pytest.approx(volume, rel=1e-4)
    assert solve_hole(shape, "closed").volume_mm3 == pytest.approx(volume, rel=1e-3)


def test_lining():
    """A tube of its own volume, which with its wall takes bore air away."""
    shape = HoleShape(7.5, 1.5, 8.0, into_bore_mm=3.0, lining_radius_mm=2.5)
    solved = solve_hole(shape, "closed")
    assert solved.volume_mm3 == pytest.approx(math.pi * 1.5**2 * 11.0, rel=1e-3)
    taken = -over_disc(7.5, 2.5, 4.5)
    assert solved.displaced_mm3 == pytest.approx(taken, rel=1e-3)


def test_quadrature_and_mesh_agree_in_a_cone():
    shape = replace(PLAIN, bore_slope=0.15, undercut_radius_mm=5.0, undercut_depth_mm=2.0)
    solved = solve_hole(shape, "closed")
    assert solved.volume_mm3 == pytest.approx(hole_volume(shape, "closed").tube, rel=1e-4)
