"""Properties every two-port must have: reciprocity, identity, no energy out of nothing."""

from __future__ import annotations

import itertools
from functools import partial

import jax
import jax.numpy as jnp
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from borewright.acoustics import Air, input_impedance, kernels, resonances
from borewright.acoustics.air import air_state
from borewright.acoustics.geometry import Slices
from borewright.acoustics.losses import loss_series
from borewright.acoustics.request import request_for
from borewright.acoustics.twoport import TwoPort, cone, running_products

RADII = st.floats(2e-3, 40e-3)
LENGTHS = st.floats(1e-4, 0.3)
FREQUENCIES = st.floats(60.0, 4000.0)


@partial(jax.jit, static_argnums=2)
def compiled_cone(slices: Slices, omega: jax.Array, lossless: bool) -> TwoPort:
    air = air_state(22.0)
    return cone(
        slices,
        omega,
        air,
        air.density * air.speed_of_sound / (jnp.pi * 7.5e-3**2),
        lossless=lossless,
        series=loss_series(air.gamma, air.root_prandtl),
        loss_factor=jnp.asarray(1.0),
    )


def port_of(length, r_top, r_bottom, hz: float, lossless: bool = False) -> TwoPort:
    """Two-port of truncated cones; lengths and radii (m) are arrays of one shape."""
    length, r_top, r_bottom = (jnp.atleast_1d(value) for value in (length, r_top, r_bottom))
    slope = (r_bottom - r_top) / jnp.where(length > 0, length, 1.0)
    slices = Slices(length, r_top, r_bottom, slope, length / 2)
    return compiled_cone(slices, jnp.asarray(2 * np.pi * hz), lossless)


def entries(port: TwoPort) -> np.ndarray:
    return np.array([complex(np.asarray(entry).reshape(-1)[-1]) for entry in port])


@settings(max_examples=40)
@given(LENGTHS, RADII, RADII, FREQUENCIES, st.booleans())
def test_reciprocity(length, r_top, r_bottom, hz, lossless):
    """Determinant 1 (a passive, reciprocal tube), to rounding of entries of any size."""
    a, b, c, d = entries(port_of(length, r_top, r_bottom, hz, lossless))
    assert abs(a * d - b * c - 1) < 1e-12 * (1 + abs(a * d) + abs(b * c))


@settings(max_examples=20)
@given(RADII, FREQUENCIES)
def test_nothing_is_the_identity(radius, hz):
    found = entries(port_of(0.0, radius, radius, hz))
    assert found == pytest.approx([1, 0, 0, 1], abs=1e-14)


@settings(max_examples=30)
@given(LENGTHS, RADII, RADII, FREQUENCIES)
def test_two_halves_of_a_lossless_cone_are_the_whole(length, r_top, r_bottom, hz):
    """Spherical waves need no slicing: 1e-9 is rounding, magnified where the cone is blunt."""
    middle = (r_top + r_bottom) / 2
    halves = port_of(
        jnp.full(2, length / 2),
        jnp.array([r_top, middle]),
        jnp.array([middle, r_bottom]),
        hz,
        lossless=True,
    )
    whole = entries(port_of(length, r_top, r_bottom, hz, lossless=True))
    chained = entries(running_products(halves))
    assert chained == pytest.approx(whole, rel=1e-9, abs=1e-9 * np.max(np.abs(whole)))


@settings(max_examples=30)
@given(LENGTHS, RADII, RADII, FREQUENCIES)
def test_a_lossless_tube_keeps_all_energy(length, r_top, r_bottom, hz):
    """a, d real and b, c imaginary: power in is power out, whatever the load."""
    a, b, c, d = entries(port_of(length, r_top, r_bottom, hz, lossless=True))
    assert max(abs(a.imag), abs(d.imag), abs(b.real), abs(c.real)) == 0


@settings(max_examples=30)
@given(
    LENGTHS,
    RADII,
    RADII,
    FREQUENCIES,
    st.complex_numbers(max_magnitude=30, allow_nan=False, allow_infinity=False),
)
def test_a_lossy_tube_gives_none(length, r_top, r_bottom, hz, load):
    """Re(p u*) above is at least that below, for any passive load admittance."""
    a, b, c, d = entries(port_of(length, r_top, r_bottom, hz))
    load = complex(abs(load.real), load.imag)
    pressure, flow = a + b * load, c + d * load
    scale = abs(pressure) * abs(flow) + abs(load)
    assert (pressure * np.conj(flow)).real >= load.real - 1e-12 * scale


BAND = np.linspace(60.0, 3000.0, 128)


@settings(max_examples=12)
@given(st.sets(st.sampled_from("VTFP")))
def test_an_instrument_is_passive(clarinet, open_holes):
    """Re Z > 0 from 60 Hz to 3 kHz for any fingering, so |R| < 1; nothing plays by itself."""
    impedance = input_impedance(clarinet, sorted(open_holes), BAND)
    assert np.all(impedance.real > 0)
    characteristic = np.median(np.abs(impedance))
    reflected = (impedance - characteristic) / (impedance + characteristic)
    assert np.all(np.abs(reflected) < 1)


def test_opening_a_hole_never_lowers_the_first_resonance(five_holes):
    """An open hole shortens the tube; its closed one only adds volume and length.

    All 80 ways of opening one hole more, in one batch.
    """
    masks = [
        [name in holes for name in "12345"]
        for number in range(6)
        for holes in itertools.combinations("12345", number)
    ]
    request = request_for(five_holes(), [[]] * len(masks), [1] * len(masks), 900.0)
    solved = kernels.resonances(*request._replace(masks=np.array(masks)))
    first = dict(zip(map(tuple, masks), np.asarray(solved.frequency), strict=True))
    ways = 0
    for mask, low in first.items():
        for hole in range(5):
            if not mask[hole]:
                ways += 1
                assert first[(*mask[:hole], True, *mask[hole + 1 :])] > low
    assert ways == 80


@pytest.mark.parametrize("open_holes", ["", "5", "345", "12345"])
def test_losses_lower_resonances_and_peaks(five_holes, open_holes):
    """Viscous drag slows the wave: some 10 to 30 cents on a clarinet's bore."""
    tube, holes = five_holes(), list(open_holes)
    with_losses, without = Air(346.0, 1.18), Air(346.0, 1.18, losses=False)
    damped = resonances(tube, holes, 2, with_losses)
    free = resonances(tube, holes, 2, without)
    assert np.all(damped < free)
    assert np.all(1200 * np.log2(free / damped) < 40)
    peak_damped = abs(input_impedance(tube, holes, damped, with_losses))
    peak_free = abs(input_impedance(tube, holes, free, without))
    assert np.all(peak_damped < peak_free)
