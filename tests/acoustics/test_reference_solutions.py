"""Holes and whole pipes against converged 3-D finite elements (lossless, quasi-static holes).

The reference values were computed once for this project with NGSolve, meshes refined until
the digits stood: hole lengths in mm, resonances in Hz at c = 346 m/s, outside air included.
"""

from __future__ import annotations

import jax.numpy as jnp
import numpy as np
import pytest

from borewright.acoustics import resonances
from borewright.acoustics.air import AirState
from borewright.acoustics.elements.hole_junction import series_length
from borewright.acoustics.geometry import Holes
from borewright.acoustics.holes import hole_networks
from borewright.acoustics.structure import plain_scales

#: Bore radius, hole radius, tube height (mm); lengths by 3-D (mm): series, shunt inside.
SOLVED = [(7.5, 4.0, 8.0, -0.3352, 10.4228), (7.5, 2.5, 6.5, -0.0826, 8.2841)]


def shunt_length_mm(a: float, b: float, t: float, pad: float = 0.0, lift: float = 1.0) -> float:
    """Length of hole that the engine's shunt inertance amounts to, flush in an infinite baffle.

    Taken at 1 Hz, where the hole is short against the wavelength by six orders.
    """
    mm = 1e-3
    one = jnp.ones(1)
    holes = Holes(
        position=one,
        bore_radius=a * mm * one,
        radius=b * mm * one,
        height=t * mm * one,
        chimney=0 * one,
        body_radius=np.inf * one,
        pad_radius=pad * mm * one,
        lift=lift * mm * one,
        undercut_radius=b * mm * one,
        undercut_depth=0 * one,
        place=jnp.zeros((1, 3)),
        scale=jnp.asarray(plain_scales(1)),
    )
    air = AirState(*(jnp.asarray(value) for value in (346.0, 1.18, 1.8e-5, 1.4, 0.84)))
    omega = jnp.asarray(2 * np.pi)
    network = hole_networks(
        holes,
        jnp.ones(1, bool),
        omega,
        air,
        jnp.asarray(1e-3),
        lossless=True,
        loss_factor=jnp.asarray(1.0),
        series=None,
        any_pad=pad > 0,
        any_undercut=False,
    )
    inertance = (1 / complex(network.shunt[0])).imag / float(omega)
    return inertance * np.pi * (b * mm) ** 2 / 1.18 / mm


@pytest.mark.parametrize(("a", "b", "t", "series", "shunt"), SOLVED)
def test_hole_lengths(a, b, t, series, shunt):
    """The closed forms' own margins: series 10 to 18 % too large, shunt within 0.4 %."""
    for is_open in (True, False):
        ours = float(series_length(a, b, t, is_open))
        assert 1.09 < ours / series < 1.18
    outside = 0.8217 * b
    assert shunt_length_mm(a, b, t) - outside == pytest.approx(shunt, rel=0.004)


def test_a_pad_over_a_hole():
    """Disc pad of radius 6, 2 thick, 1.5 above the hole 7.5, 4, 8: 16.233; without it 13.710.

    The closed form gives the pad's own part 23 % too small, the whole length 3.4 %: a bound
    of 25 % records that, so that a better form is noticed.
    """
    bare, covered = shunt_length_mm(7.5, 4.0, 8.0), shunt_length_mm(7.5, 4.0, 8.0, 6.0, 1.5)
    assert bare == pytest.approx(13.710, rel=0.004)
    assert 0.75 < (covered - bare) / (16.233 - 13.710) < 1.0
    assert covered == pytest.approx(16.233, rel=0.04)


def test_a_pipe_without_holes(pipe, lossless, cents):
    """Length 300, radius 7.5, outside 11, closed at its driven end: within 0.5 cent.

    The largest part is the end's length at ka = 0.2 (the third), 0.13 cent.
    """
    found = resonances(pipe(outside=22), [], 3, lossless)
    assert cents(found, [283.303, 849.937, 1416.637]) == pytest.approx(0, abs=0.5)


def test_a_flared_pipe(flared, lossless, cents):
    """Spherical waves in a cone of 7 degrees: within 2 cents of the true field."""
    found = resonances(flared, [], 3, lossless)
    assert cents(found, [350.877, 911.655, 1395.445]) == pytest.approx(0, abs=2)
