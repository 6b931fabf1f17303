"""Cones along their walls: the exact drop of mean pressure in a spherical flow."""

from __future__ import annotations

import jax.numpy as jnp
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from borewright.acoustics.air import air_state
from borewright.acoustics.geometry import Slices
from borewright.acoustics.twoport import cone


def inertance(slope, start, length, lean):
    """Low-frequency inertance (kg/m4) of a truncated cone by the engine."""
    air, omega = air_state(jnp.array([20.0])), jnp.array([0.01])
    top = slope * start
    slices = Slices(
        *(jnp.array([value]) for value in (length, top, top + slope * length, slope, 0.0))
    )
    port = cone(
        slices,
        omega,
        air,
        jnp.ones(1),
        lossless=True,
        series=None,
        loss_factor=jnp.ones(1),
        lean=lean,
    )
    return float((port.b / (1j * omega * air.density)).real[0])


@given(
    slope=st.floats(0.02, 1.0),
    start=st.floats(0.01, 0.2),
    length=st.floats(0.01, 0.3),
)
def test_plane_means_of_a_spherical_flow(slope, start, length):
    """Flow from an apex: p = 1/R, whose mean over a plane disc at x is 2 (sqrt(1+s²)-1)/(s² x).

    The flow is the solid angle 2 pi (1 - 1/sqrt(1 + s²)). An independent derivation: no plane
    section's area comes into it.
    """
    root = np.sqrt(1 + slope**2)

    def mean(x):
        return 2 * (root - 1) / (slope**2 * x)

    drop = mean(start) - mean(start + length)
    flow = 2 * np.pi * (1 - 1 / root)
    assert inertance(slope, start, length, 1.0) == pytest.approx(drop / flow, rel=1e-6)
    assert inertance(slope, start, length, 0.0) == pytest.approx(drop / flow / root, rel=1e-6)
