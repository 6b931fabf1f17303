"""Shapes that nothing was tuned on: a finer mesh moves them by less than half the claim.

The finer mesh has elements of half the size everywhere, one more layer at sharp edges, and
ends further away.
"""

from __future__ import annotations

import pytest

from borewright.acoustics.solved import HoleCover, HoleShape, MeshDetail, solve_hole

FRESH = {
    "conical undercut": HoleShape(
        7.6, 3.3, 8.7, undercut_radius_mm=4.6, undercut_depth_mm=3.4, body_radius_mm=16.3
    ),
    "cylindrical undercut": HoleShape(
        7.2, 3.6, 7.7, undercut_radius_mm=4.8, undercut_depth_mm=2.7, undercut_straight_mm=2.7
    ),
    "raised chimney under a pad": HoleShape(
        7.4,
        4.2,
        9.3,
        body_radius_mm=14.9,
        chimney_mm=1.8,
        chimney_wall_mm=1.1,
        cover=HoleCover.PAD,
        pad_radius_mm=6.4,
        lift_mm=2.2,
    ),
    "sunk seat under a pad": HoleShape(
        7.1,
        2.9,
        6.2,
        body_radius_mm=14.2,
        chimney_mm=-0.9,
        chimney_wall_mm=0.7,
        counterbore_radius_mm=5.6,
        cover=HoleCover.PAD,
        pad_radius_mm=5.0,
        lift_mm=1.4,
    ),
    "drilled, for a finger": HoleShape(
        7.7, 3.8, 6.9, body_radius_mm=14.6, cover=HoleCover.FINGER, flesh_mm=0.6
    ),
    "conical bore": HoleShape(10.5, 5.4, 5.6, bore_slope=0.09, body_radius_mm=16.1),
    "cylindrical undercut in a cone": HoleShape(
        8.4,
        4.3,
        6.2,
        bore_slope=0.06,
        undercut_radius_mm=5.3,
        undercut_depth_mm=2.2,
        undercut_straight_mm=2.2,
        body_radius_mm=14.0,
        chimney_mm=0.6,
        chimney_wall_mm=1.2,
        cover=HoleCover.FINGER,
    ),
    "conical undercut in a narrowing bore": HoleShape(
        8.1, 4.1, 6.6, bore_slope=-0.07, undercut_radius_mm=5.0, undercut_depth_mm=2.9
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("state", ["open", "closed"])
@pytest.mark.parametrize("name", FRESH)
def test_half_the_element_size_moves_less_than_half_the_claim(name, state):
    solved = solve_hole(FRESH[name], state)
    finer = solve_hole(FRESH[name], state, mesh=MeshDetail().finer(), check=False)
    assert finer.unknowns > solved.unknowns
    for what in ("series_length", "shunt_length"):
        moved = abs(getattr(finer, f"{what}_mm") - getattr(solved, f"{what}_mm"))
        claim = getattr(solved, f"{what.removesuffix('_length')}_error_mm")
        assert 0 < moved < 0.5 * claim, what
    assert abs(finer.volume_mm3 - solved.volume_mm3) < 0.5 * solved.volume_error_mm3
    # And the claims are those that a maker was promised.
    assert solved.series_error_mm < 0.03
    assert solved.shunt_error_mm < 0.01 * max(solved.shunt_length_mm, 6.0)
