"""Lengths of the T network of a side hole (m), closed forms.

Symbols as in the sources: a bore radius, b hole radius at the bore, d = b/a, t tube height.
Variants of the series length differ in the literature by whether they scale with the hole's
or the bore's area; here Za = j w rho ta / (pi a²).
"""

from __future__ import annotations

import jax.numpy as jnp
from jax import Array


def series_length(a: Array, b: Array, t: Array, is_open: Array | bool) -> Array:
    """Change ta of the main bore's length at a hole (negative).

    Dubos, Kergomard, Khettabi, Dalmont, Keefe and Nederveen, Acta Acustica 85 (1999) 153
    (from memory). Converged 3-D solutions are 10 to 18 % smaller in magnitude.
    """
    d = b / a
    hyperbolic = jnp.tanh(1.84 * t / b)
    hyperbolic = jnp.where(is_open, hyperbolic, 1.0 / hyperbolic)
    return -b * d**2 / (1.78 * hyperbolic + 0.940 + 0.540 * d + 0.285 * d**2)


def inner_length(a: Array, b: Array) -> Array:
    """Inner length correction ti of a hole.

    Nederveen, Jansen and van Hassel, Acta Acustica 84 (1998) 957 (from memory).
    """
    d = b / a
    return b * (0.82 + d * (-0.193 + d * (-1.09 + d * (1.27 - 0.71 * d))))


def matching_length(a: Array, b: Array) -> Array:
    """Length tm of the hole that has the volume between hole and round bore (same source)."""
    d = b / a
    return b * d / 8.0 * (1.0 + 0.207 * d**3)
