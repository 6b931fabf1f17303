"""Holes that meet inside the bore: the sum over modes, a twin by finite elements, properties.

The sum is that of a source on the wall of a rigid cylinder (Morse and Ingard, Theoretical
Acoustics, 1968, section 9.2; derived anew), summed here by brute force with SciPy's zeros.
"""

from __future__ import annotations

import math

import jax
import jax.numpy as jnp
import numpy as np
import pytest
from scipy.special import jnp_zeros

from borewright.acoustics import Air, resonances
from borewright.acoustics.inside import mutual_curvature, mutual_shape
from borewright.model import Instrument, Part, ToneHole

STILL = Air(346.0, 1.18, losses=False)
MODES = [jnp_zeros(m, 80) for m in range(120)]


def summed(along: float, bearing: float, power: int) -> float:
    """The modes one by one; ``power`` 1 for the curvature, 0 for the potential."""
    total = 0.0
    for m, alpha in enumerate(MODES):
        weight = alpha / (alpha**2 - m**2) ** (1 - power)
        once = 1.0 if m == 0 else 2.0
        total += once * math.cos(m * bearing) * float(np.sum(weight * np.exp(-alpha * along)))
    return total


#: Nearer than 0.45 radii, holes would run into each other.
PLACES = [
    (along, bearing)
    for along in (0.1, 0.35, 0.8, 1.3, 2.2, 3.5)
    for bearing in (0.0, 0.6, 1.5, 2.6, math.pi)
    if along**2 + 2 - 2 * math.cos(bearing) > 0.45**2
]


@pytest.mark.parametrize(("along", "bearing"), PLACES)
def test_the_fit_is_the_sum_over_modes(along, bearing):
    cosine = jnp.array(math.cos(bearing))
    potential = float(mutual_shape(jnp.array(along), cosine))
    # 0.004 of the potential is a hundredth of what the worst pair of holes moves a note by.
    assert potential == pytest.approx(summed(along, bearing, 0), abs=0.005)
    curvature = float(mutual_curvature(jnp.array(along), cosine))
    assert curvature == pytest.approx(summed(along, bearing, 1), rel=0.03, abs=0.02)


def test_opposite_points_as_by_finite_elements():
    """A hole in half a bore is one with its twin: 2 pi a M is -0.8247 for b/a 0.2 there."""
    found = float(mutual_shape(jnp.array(0.0), jnp.array(-1.0)))
    assert found == pytest.approx(-0.8247, abs=0.005)


def test_derivatives_are_finite_where_holes_face_each_other():
    slope = jax.grad(lambda x: mutual_shape(jnp.abs(x), jnp.array(-1.0)))(0.0)
    assert np.isfinite(slope)


def pair(bearing: float, first: float, second: float) -> Instrument:
    holes = [
        ToneHole(name="a", station_mm=first, diameter_mm=8),
        ToneHole(name="b", station_mm=second, diameter_mm=8, bearing_deg=bearing),
    ]
    part = Part(
        name="tube",
        length_mm=300,
        bore=[(0, 15), (300, 15)],
        outside=[(0, 28), (300, 28)],
        holes=holes,
    )
    return Instrument(name="invented pair", invented=True, parts=[part], side_holes="closed forms")


def test_far_away_nothing_is_heard():
    """Twelve radii apart the bearing inside is no matter; switched off outside."""
    quiet = {"outside_interaction": False}
    same = resonances(pair(0, 150, 240).model_copy(update=quiet), ["a", "b"], 3, STILL)
    opposite = resonances(pair(180, 150, 240).model_copy(update=quiet), ["a", "b"], 3, STILL)
    assert np.abs(1200 * np.log2(same / opposite)).max() < 1e-3


def test_one_open_hole_does_not_meet_a_closed_one():
    """A closed hole takes hardly any flow: it moves its open twin's note by little."""
    quiet = {"outside_interaction": False}
    near = resonances(pair(0, 190, 200).model_copy(update=quiet), ["a"], 2, STILL)
    across = resonances(pair(180, 190, 200).model_copy(update=quiet), ["a"], 2, STILL)
    assert np.abs(1200 * np.log2(near / across)).max() < 0.5
