"""How a hole's shunt length grows with frequency."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.acoustics.solved import HoleShape, MeshDetail, solve_hole
from borewright.acoustics.solved._rising import RISE_AT

QUICK = MeshDetail(order=3)


def test_a_long_chimney_rises_like_a_tube():
    """tan(kL)/k - L over k², L the shunt length: near fields are small beside 30 mm of tube.

    The inner end is no tube, which leaves a few per cent: its share is taken off twice over
    as the bound.
    """
    shape = HoleShape(7.5, 2.0, 30.0, body_radius_mm=None)
    hole = solve_hole(shape, "open", mesh=QUICK, check=False)
    whole = hole.shunt_length_mm
    inner = whole - 30.0 - hole.outside_length_mm

    def tube(length):
        return (math.tan(RISE_AT * length) / RISE_AT - length) / RISE_AT**2

    assert tube(whole - inner) < hole.rise_mm3 < 1.02 * tube(whole)


def test_it_does_not_hang_on_the_mesh():
    shape = HoleShape(
        7.3, 4.6, 6.3, body_radius_mm=15.25, chimney_mm=-1.6, chimney_wall_mm=0.6,
        counterbore_radius_mm=8.75, seat_relief_mm=0.4, cover="pad", pad_radius_mm=8.25,
        lift_mm=3.9,
    )  # fmt: skip
    rise = [
        solve_hole(shape, "open", mesh=mesh, check=False).rise_mm3
        for mesh in (QUICK, MeshDetail(order=3, wall_size=0.6, outer_end=8.0))
    ]
    # 3 % of it is 0.03 % of the shunt length at 1.6 kHz.
    assert rise[0] == pytest.approx(rise[1], rel=0.03)


def test_a_closed_hole_has_none():
    assert solve_hole(HoleShape(7.5, 4.0, 7.0), "closed", mesh=QUICK, check=False).rise_mm3 == 0


def test_pads_and_wide_mouths_rise_more():
    plain, padded, wide = (
        solve_hole(shape, "open", mesh=QUICK, check=False).rise_mm3
        for shape in (
            HoleShape(7.5, 3.0, 7.0, body_radius_mm=14.5),
            HoleShape(7.5, 3.0, 7.0, body_radius_mm=14.5, chimney_mm=0.6, chimney_wall_mm=1.0,
                      cover="pad", pad_radius_mm=5.5, lift_mm=2.0),
            HoleShape(7.5, 5.0, 7.0, body_radius_mm=14.5),
        )
    )  # fmt: skip
    assert plain < padded
    assert plain < wide
    assert np.isfinite([plain, padded, wide]).all()


def test_a_lining_is_a_tube_too():
    """A vent whose lining stands 5 mm in the bore: what it displaces is told apart.

    Left in, the missing bore would take off ten times what the tube adds.
    """
    shape = HoleShape(7.5, 1.5, 8.0, body_radius_mm=15.0, into_bore_mm=5.0, lining_radius_mm=2.5)
    hole = solve_hole(shape, "open", mesh=QUICK, check=False)
    length = hole.shunt_length_mm
    assert 0.6 * length**3 / 3 < hole.rise_mm3 < 1.2 * length**3 / 3
