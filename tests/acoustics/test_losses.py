"""Losses of a tube against Bessel functions, and against published attenuation."""

from __future__ import annotations

import jax.numpy as jnp
import numpy as np
import pytest
from scipy.special import jv, jve

from borewright.acoustics.air import AirState, air_state
from borewright.acoustics.losses import (
    SEAM,
    line,
    loss_function,
    loss_series,
    wide_loss_function,
)


def bessel_loss(x: np.ndarray) -> np.ndarray:
    """2 J1(z) / (z J0(z)), z = x sqrt(-j): scaled functions, whose scale cancels."""
    z = x * np.sqrt(-1j)
    return 2 * jve(1, z) / (z * jve(0, z))


def test_scaled_and_plain_bessel_functions_agree():
    """The reference itself, where the plain functions do not overflow."""
    x = np.geomspace(0.1, 500, 60)
    z = x * np.sqrt(-1j)
    assert bessel_loss(x) == pytest.approx(2 * jv(1, z) / (z * jv(0, z)), rel=1e-12)


def test_loss_function_agrees_with_bessel_functions():
    """1e-6 from x = 1 to 500, and below 1, where nothing acoustic happens, as well."""
    x = np.concatenate([np.geomspace(0.01, 500, 3000), SEAM + np.array([-1e-9, 0.0, 1e-9])])
    assert np.max(np.abs(np.asarray(loss_function(x)) - bessel_loss(x))) < 1e-6


def test_wide_loss_function_agrees_from_ten_on():
    x = np.geomspace(10, 500, 1000)
    assert np.max(np.abs(np.asarray(wide_loss_function(x)) - bessel_loss(x))) < 1e-6


@pytest.mark.parametrize(("least", "allowed"), [(10.0, 2e-6), (12.0, 5e-7), (20.0, 1e-8)])
def test_loss_series_agrees_with_bessel_functions(least, allowed):
    """The cut series is 1.3e-6 off at x = 10, hardly a thousandth of a cent, and less above."""
    air = air_state(25.0)
    x = np.geomspace(least, 500, 300)
    radius, omega = 1e-3, (x / 1e-3) ** 2 * float(air.viscosity / air.density)
    series = loss_series(air.gamma, air.root_prandtl)
    found = line(radius, omega, air, lossless=False, series=series)
    exact = zwikker_kosten(radius, omega, air)
    assert np.max(np.abs(np.asarray(found.propagation) / exact[0] - 1)) < allowed
    assert np.max(np.abs(np.asarray(found.admittance) / exact[1] - 1)) < allowed


def zwikker_kosten(radius, omega, air: AirState) -> tuple[np.ndarray, np.ndarray]:
    """sqrt(Zs Yt) and sqrt(Yt / Zs), from series impedance and shunt admittance per length."""
    section = np.pi * radius**2
    density, speed = float(air.density), float(air.speed_of_sound)
    stokes = radius * np.sqrt(omega * density / float(air.viscosity))
    series = 1j * omega * density / section / (1 - bessel_loss(stokes))
    heat = (float(air.gamma) - 1) * bessel_loss(stokes * float(air.root_prandtl))
    shunt = 1j * omega * section / (density * speed**2) * (1 + heat)
    return np.sqrt(series * shunt), np.sqrt(shunt / series)


@pytest.mark.parametrize("radius", [0.2e-3, 1.5e-3, 7.3e-3, 30e-3])
def test_line_agrees_with_zwikker_and_kosten(radius):
    """Narrow to wide: propagation and admittance to 1e-6 from 50 Hz to 3 kHz."""
    air = air_state(24.0, 0.7, 0.02)
    omega = 2 * np.pi * np.geomspace(50, 3000, 50)
    found = line(radius, omega, air, lossless=False)
    exact = zwikker_kosten(radius, omega, air)
    assert np.asarray(found.propagation) == pytest.approx(exact[0], rel=1e-6)
    assert np.asarray(found.admittance) == pytest.approx(exact[1], rel=1e-6)


@pytest.mark.parametrize("celsius", [20.0, 25.0])
def test_published_attenuation(celsius):
    """0.11 per metre at 200 Hz in a pipe of 7.8 mm, to its rounding.

    Source: University of New South Wales, music acoustics, "How the clarinet measurements
    were made".
    """
    found = line(3.9e-3, 2 * np.pi * 200.0, air_state(celsius), lossless=False)
    assert 0.105 <= float(found.propagation.real) < 0.115


def test_published_characteristic_impedance():
    """8.5 MPa s/m³ for the same pipe (same source), which is 1 to 2 % low of rho c / S."""
    found = line(3.9e-3, 2 * np.pi * 200.0, air_state(25.0), lossless=False)
    assert 1 / abs(complex(found.admittance)) == pytest.approx(8.5e6, rel=0.03)


def test_wide_tube_rule():
    """alpha = 1.2e-5 sqrt(w) / a (Fletcher and Rossing, from memory): two digits at 20 °C."""
    omega = 2 * np.pi * np.array([100.0, 1000.0, 4000.0])
    found = np.asarray(line(7.5e-3, omega, air_state(20.0), lossless=False).propagation.real)
    assert found == pytest.approx(1.2e-5 * np.sqrt(omega) / 7.5e-3, rel=0.05)


def test_poiseuille_flow_in_a_capillary():
    """A narrow tube at low frequency: resistance 8 mu / (pi a^4) per metre (Hagen, Poiseuille).

    Where x = 0.1 the next term of the series is x^4 / 1000 of it.
    """
    air = air_state(20.0)
    radius = 1e-4
    omega = float(air.viscosity / air.density) * (0.1 / radius) ** 2
    found = line(radius, jnp.asarray(omega), air, lossless=False)
    resistance = complex(found.propagation / found.admittance).real
    assert resistance == pytest.approx(8 * float(air.viscosity) / (np.pi * radius**4), rel=1e-4)


def test_wall_loss_factor_scales_what_losses_add():
    """Twice the factor, twice the departure from jk; the admittance keeps to a smooth wall's."""
    air, omega = air_state(20.0), jnp.asarray(2 * np.pi * 440.0)
    smooth, rough = (
        line(7.3e-3, omega, air, lossless=False, loss_factor=factor) for factor in (1.0, 2.0)
    )
    ideal = 1j * omega / air.speed_of_sound
    assert complex(rough.propagation - ideal) == pytest.approx(
        complex(2 * (smooth.propagation - ideal)), rel=1e-12
    )
    assert complex(rough.admittance) == complex(smooth.admittance)


def test_lossless_line():
    air, omega = air_state(20.0), jnp.asarray(2 * np.pi * 440.0)
    found = line(7.3e-3, omega, air, lossless=True)
    assert complex(found.propagation) == pytest.approx(1j * float(omega / air.speed_of_sound))
    section = np.pi * 7.3e-3**2
    assert complex(found.admittance) == pytest.approx(
        section / float(air.density * air.speed_of_sound), rel=1e-12
    )
