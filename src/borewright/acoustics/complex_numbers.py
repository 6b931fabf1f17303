"""Quotients and hyperbolic functions of complex arrays, written out in real arithmetic.

The general library versions guard against infinities in long branches that dominate the
compiled code; the quantities here are finite by construction.
"""

from __future__ import annotations

import jax.numpy as jnp
from jax import Array


def reciprocal(value: Array) -> Array:
    """1 / value."""
    return jnp.conj(value) / (value.real**2 + value.imag**2)


def cosh_sinh(value: Array) -> tuple[Array, Array]:
    """Hyperbolic cosine and sine of a complex array."""
    growth = jnp.exp(value.real)
    decay = 1.0 / growth
    even, odd = (growth + decay) / 2, (growth - decay) / 2
    cosine, sine = jnp.cos(value.imag), jnp.sin(value.imag)
    return even * cosine + 1j * (odd * sine), odd * cosine + 1j * (even * sine)


def tanh(value: Array) -> Array:
    """Hyperbolic tangent of a complex array."""
    cosh, sinh = cosh_sinh(value)
    return sinh * reciprocal(cosh)
