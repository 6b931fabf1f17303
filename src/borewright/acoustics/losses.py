"""Viscous and thermal losses of a tube (Zwikker and Kosten 1949; Kirchhoff 1868).

The loss function is F(x) = 2 J1(z) / (z J0(z)) with z = x sqrt(-j). Complex Bessel functions
are not in JAX, so F is evaluated

- below x = 12 by Gauss's continued fraction for J1/J0, cut at depth 18 and written as a
  quotient of polynomials in z²,
- above by the Hankel asymptotic series of J1/J0 (DLMF 10.17), whose neglected part is of
  order exp(-sqrt(2) x), 4e-8 at the seam.

Both are built from exact fractions at import; a test holds them to 1e-6 of scipy.special.jv
from x = 1 to 500.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.air import AirState
from borewright.acoustics.complex_numbers import reciprocal

SEAM = 12.0
_DEPTH = 18
_TERMS = 9
_WIDE_TERMS = 7


def _continued_fraction_polynomials() -> tuple[np.ndarray, np.ndarray]:
    """Coefficients in s = z² of F = 2 / (2 - s/(4 - s/(6 - ...))) as numerator, denominator."""
    numerator, denominator = [Fraction(2 * _DEPTH)], [Fraction(1)]
    for step in range(_DEPTH - 1, 0, -1):
        # b - s / (num / den) = (b num - s den) / num
        shifted = [Fraction(0), *denominator]
        width = max(len(numerator), len(shifted))
        padded = numerator + [Fraction(0)] * (width - len(numerator))
        shifted += [Fraction(0)] * (width - len(shifted))
        fresh = [2 * step * n - d for n, d in zip(padded, shifted, strict=True)]
        numerator, denominator = fresh, numerator
    scale = numerator[0]
    top = np.array([float(2 * d / scale) for d in denominator])
    bottom = np.array([float(n / scale) for n in numerator])
    return top, bottom


def _asymptotic_coefficients() -> np.ndarray:
    """Coefficients r_k of J1/J0 = -j sum r_k (j/z)^k for Im z < 0 (DLMF 10.17.5, divided)."""

    def hankel(order: int) -> list[Fraction]:
        values = [Fraction(1)]
        for k in range(1, _TERMS):
            values.append(values[-1] * (4 * order**2 - (2 * k - 1) ** 2) / (8 * k))
        return values

    upper, lower = hankel(1), hankel(0)
    ratio: list[Fraction] = []
    for k in range(_TERMS):
        ratio.append(upper[k] - sum(ratio[i] * lower[k - i] for i in range(k)))
    return np.array([float(value) for value in ratio])


_TOP, _BOTTOM = _continued_fraction_polynomials()
_RATIO = _asymptotic_coefficients()


def _horner(coefficients: np.ndarray, x: Array) -> Array:
    total = jnp.full_like(x, coefficients[-1])
    for coefficient in coefficients[-2::-1]:
        total = total * x + coefficient
    return total


def wide_loss_function(x: Array) -> Array:
    """F(x) for x >= 12 (real, any shape), from the asymptotic series; error below 1e-7."""
    # j/z with z = x exp(-j pi/4)
    inverse = np.exp(0.75j * np.pi) / x
    value: Array = -2.0 * inverse * _horner(_RATIO, inverse)
    return value


def loss_function(x: Array) -> Array:
    """F(x) = 2 J1(z) / (z J0(z)), z = x sqrt(-j), for real x > 0 (any shape); error below 1e-6."""
    small = jnp.minimum(x, SEAM)
    square = -1j * small**2
    narrow = _horner(_TOP, square) * reciprocal(_horner(_BOTTOM, square))
    return jnp.where(x < SEAM, narrow, wide_loss_function(jnp.maximum(x, SEAM)))


class Line(NamedTuple):
    """Propagation constant (1/m) and characteristic admittance (m³/(Pa s)) of a tube."""

    propagation: Array
    admittance: Array


class LossSeries(NamedTuple):
    """Coefficients [K, ...] of sqrt(heat/shear) and sqrt(heat shear) in powers of 1/x.

    x = r sqrt(w rho / mu); the k-th coefficient is real and goes with exp(3 j k pi/4) / x^k.
    """

    factor: Array
    conductance: Array


# Structure constants of the product of two power series, cut after K terms: [K, K, K].
_CONVOLUTION = np.array(
    [
        [[float(i + j == k) for j in range(_WIDE_TERMS)] for i in range(_WIDE_TERMS)]
        for k in range(_WIDE_TERMS)
    ]
)
_ONE = np.eye(_WIDE_TERMS)[0]
_TURNS = np.exp(0.75j * np.pi * np.arange(_WIDE_TERMS))


def loss_series(gamma: Array, root_prandtl: Array) -> LossSeries:
    """Power series of the loss factors of a wide tube, for scalar properties of the air.

    The asymptotic series of F is divided and rooted once an instrument, so that a tube at a
    frequency then costs a few real multiplications. Newton's iteration doubles the correct
    terms at every step: three steps serve eight.
    """
    loss = np.concatenate([[0.0], -2.0 * _RATIO[: _WIDE_TERMS - 1]])
    shear = jnp.asarray(_ONE - loss)
    heat = _ONE + (gamma - 1.0) * loss * root_prandtl ** -np.arange(_WIDE_TERMS)

    def product(one: Array, other: Array) -> Array:
        return jnp.einsum("kij,i,j->k", _CONVOLUTION, one, other)

    inverse, root = jnp.asarray(_ONE), jnp.asarray(_ONE)
    for _ in range(3):
        inverse = product(inverse, 2 * _ONE - product(shear, inverse))
    square = product(heat, inverse)
    for _ in range(3):  # towards 1 / sqrt(square)
        root = product(root, 3 * _ONE - product(square, product(root, root))) / 2
    factor = product(square, root)
    return LossSeries(factor, product(factor, shear))


def _evaluate(coefficients: Array, inverse: Array) -> Array:
    real, imaginary = jnp.zeros_like(inverse), jnp.zeros_like(inverse)
    for k in range(_WIDE_TERMS - 1, -1, -1):
        # Plain floats leave single precision as it is.
        real = real * inverse + coefficients[k] * float(_TURNS[k].real)
        imaginary = imaginary * inverse + coefficients[k] * float(_TURNS[k].imag)
    return real + 1j * imaginary


def line(
    radius: Array,
    omega: Array,
    air: AirState,
    *,
    lossless: bool,
    series: LossSeries | None = None,
    loss_factor: Array | float = 1.0,
) -> Line:
    """Propagation and characteristic admittance of a round tube.

    Parameters
    ----------
    radius
        m; broadcasts with ``omega`` and ``air``.
    omega
        Angular frequency, rad/s.
    air
        State of the air.
    lossless
        Leave losses out altogether.
    series
        Use these instead of Bessel functions: a promise that x = r sqrt(w rho / mu) is at
        least 7, where they are right to 4e-5 (to 2e-6 from 10 on, any clarinet bore above
        50 Hz).
    loss_factor
        Multiplies the departure of the propagation constant from its lossless value: wall
        roughness, to be fitted from measurement (1 for a smooth wall).
    """
    section = jnp.pi * radius**2 / (air.density * air.speed_of_sound)
    ideal = omega / air.speed_of_sound
    if lossless:
        return Line(1j * ideal * jnp.ones_like(section), section + 0j * ideal)
    viscous = radius * jnp.sqrt(omega * air.density / air.viscosity)
    if series is not None:
        factor = _evaluate(series.factor, 1.0 / viscous)
        conductance = _evaluate(series.conductance, 1.0 / viscous)
    else:
        shear = 1.0 - loss_function(viscous)
        heat = 1.0 + (air.gamma - 1.0) * loss_function(viscous * air.root_prandtl)
        # sqrt(Zs Yt) and sqrt(Yt / Zs), Zs = j w rho / (S shear), Yt = j w S heat / (rho c²).
        factor = jnp.sqrt(heat * reciprocal(shear))
        conductance = factor * shear
    return Line(1j * ideal * (1.0 + loss_factor * (factor - 1.0)), section * conductance)
