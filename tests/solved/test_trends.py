"""What every maker knows: undercuts, pads and chimneys move lengths in the known direction."""

from __future__ import annotations

from dataclasses import replace

import pytest

from borewright.acoustics.solved import HoleCover, HoleShape, MeshDetail, solve_hole

PLAIN = HoleShape(7.5, 4.0, 8.0)
QUICK = MeshDetail(order=3)


def shunt(shape: HoleShape) -> float:
    return solve_hole(shape, mesh=QUICK, check=False).shunt_length_mm


def test_an_undercut_shortens_the_shunt():
    """Common practice: an undercut raises its note; a wider one more, a deeper one more."""
    none = shunt(PLAIN)
    some = shunt(replace(PLAIN, undercut_radius_mm=4.7, undercut_depth_mm=3.0))
    wider = shunt(replace(PLAIN, undercut_radius_mm=5.4, undercut_depth_mm=3.0))
    deeper = shunt(replace(PLAIN, undercut_radius_mm=4.7, undercut_depth_mm=6.0))
    assert none - 0.3 > some
    assert some - 0.3 > wider
    assert some - 0.2 > deeper


def test_a_straighter_undercut_shortens_more_than_a_cone():
    """At the same mouth and depth more wood is gone.

    A ledge turns the flow round an edge, so that the last of it need not gain any more.
    """
    cut = replace(PLAIN, undercut_radius_mm=5.0, undercut_depth_mm=6.0)
    cone, half, ledge = (
        shunt(replace(cut, undercut_straight_mm=straight)) for straight in (0.0, 3.0, 6.0)
    )
    assert half + 0.1 < cone
    assert ledge + 0.1 < cone


def test_an_undercut_of_nothing_changes_nothing():
    hair = shunt(replace(PLAIN, undercut_radius_mm=4.001, undercut_depth_mm=0.5))
    assert hair == pytest.approx(shunt(PLAIN), abs=5e-3)


def test_a_rising_pad_lets_the_hole_go():
    padded = replace(PLAIN, cover=HoleCover.PAD, pad_radius_mm=6.0)
    lengths = [shunt(replace(padded, lift_mm=lift)) for lift in (0.3, 0.8, 1.5, 3.0, 6.0, 12.0)]
    assert lengths == sorted(lengths, reverse=True)
    # Two pad radii up a disc takes off less than 0.05 mm, ten radii up nothing that shows.
    assert lengths[-1] == pytest.approx(shunt(PLAIN), abs=0.05)
    assert shunt(replace(padded, lift_mm=60.0)) == pytest.approx(shunt(PLAIN), abs=0.01)


def test_a_larger_pad_is_worse():
    padded = replace(PLAIN, cover=HoleCover.PAD, pad_radius_mm=5.0, lift_mm=1.5)
    assert shunt(padded) + 0.2 < shunt(replace(padded, pad_radius_mm=7.0))


def test_a_counterbore_confines_and_a_chimney_frees():
    """Rims above the body radiate more freely than rims in a pit."""
    body = replace(PLAIN, body_radius_mm=15.5, chimney_wall_mm=1.2)
    level = shunt(body)
    raised = shunt(replace(body, body_radius_mm=14.0, chimney_mm=1.5))
    sunk = shunt(replace(body, body_radius_mm=17.0, chimney_mm=-1.5, counterbore_radius_mm=6.0))
    assert raised + 0.1 < level < sunk - 0.1


def test_a_lining_lengthens_the_tube_and_blocks_the_bore():
    plain = solve_hole(HoleShape(7.5, 1.5, 8.0), mesh=QUICK, check=False)
    lined = solve_hole(
        HoleShape(7.5, 1.5, 8.0, into_bore_mm=3.0, lining_radius_mm=2.5), mesh=QUICK, check=False
    )
    # 3 mm more tube, and an inner end with a thin wall instead of a flange.
    assert 2.6 < lined.shunt_length_mm - plain.shunt_length_mm < 3.0
    assert plain.series_length_mm < 0 < lined.series_length_mm
