"""Holes that meet inside the bore: the pressure that one hole's flow adds at another's mouth.

Flow through a side hole sets up waves in the bore that cannot run along it: they die off, the
slowest as exp(-1.841 x/a). Long waves see a mutual inertance M between two holes, the potential
of a source on the wall of a long cylinder without its plane-wave part, at the other hole:

    2 pi a M = sum over m, n of e_m cos(m phi) alpha exp(-alpha x/a) / (alpha² - m²),

e_0 = 1, otherwise 2; alpha the zeros of J_m', without the plane wave (Morse and Ingard,
Theoretical Acoustics, 1968, section 9.2, modes of a round duct; the sum from memory and derived
anew). The sum converges slowly where holes are close; here it is 1/rho - 0.263 ln rho and a
smooth remainder, fitted to the sum within 0.004 where the holes' centres are at least 0.3 radii
apart (tested). Averaged over both mouths, through whose area the flow goes as (1 - r²/b²)^(-1/3)
(the edge of a tube's mouth), it grows by 0.15 (b1² + b2²) times its curvature over the wall, the
same sum with alpha (alpha² - m²) / (alpha² - m²). Held to whole resonators in docs/levels.md.
"""

from __future__ import annotations

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.geometry import Holes

#: Chebyshev coefficients over 2/(1 + z²/1.5) - 1 (rows) and the cosine of the bearing.
_REST = np.array(
    [
        (-0.76230, 0.19303, 0.02046, 0.00697, 0.00356, 0.00251),
        (-0.48388, -0.12560, 0.00782, 0.00062, -0.00198, -0.00309),
        (-0.04588, -0.07413, -0.01756, -0.00016, 0.00252, 0.00306),
        (0.28978, 0.03495, -0.00809, -0.00643, -0.00399, -0.00306),
        (-0.17874, -0.02029, 0.00073, 0.00030, 0.00071, 0.00121),
        (0.05971, 0.00434, -0.00186, -0.00131, -0.00121, -0.00111),
        (-0.00824, -0.00083, 0.00024, 0.00021, 0.00029, 0.00035),
    ]
)
#: The same for the curvature, and its terms in 1/rho³, 1/rho, z²/rho³ and z²/rho⁵ (3 %).
_CURVATURE = np.array(
    [
        (0.13525, 0.49387, 0.05074, 0.00930),
        (0.20617, -0.19651, 0.08649, 0.02441),
        (0.19059, -0.08990, -0.09323, -0.02120),
        (0.01892, 0.17994, 0.05283, 0.00801),
        (-0.01231, -0.02877, 0.00637, 0.00403),
    ]
)
_CLOSE_CURVATURE = (0.983, -2.039, 3.623, 0.124)
_LOGARITHM, _ALONG, _ALONG_LOGARITHM = -0.26305, -0.10877, -0.24724
#: Decay of the slowest wave, and the nearest (radii) that two centres are taken to be.
_DECAY = 1.841
_NEAREST, _NEAREST_CURVED = 0.3, 0.4
#: Mean square distance from a mouth's centre over b², by a quarter: see above.
_SPREAD = 0.15


def mutual_shape(along: Array, cosine: Array) -> Array:
    """2 pi a M between points on the wall of a cylinder.

    Parameters
    ----------
    along
        How far apart they are along the axis, in radii, not negative.
    cosine
        Of the difference of their bearings.
    """
    square = along**2
    rho = jnp.sqrt(jnp.maximum(square + 2.0 - 2.0 * cosine, _NEAREST**2))
    near = jnp.exp(-square)
    logarithm = jnp.log(rho)
    # The bend at 0 is that of the plane wave which is left out.
    found = 1.0 / rho + along + _LOGARITHM * logarithm
    found = found + square * (_ALONG / rho**2 + _ALONG_LOGARITHM * logarithm)
    return near * found + _remainder(_REST, square, cosine)


def mutual_curvature(along: Array, cosine: Array) -> Array:
    """Curvature over the wall (sum of both directions', in radii) of :func:`mutual_shape`."""
    square = along**2
    rho = jnp.sqrt(jnp.maximum(square + 2.0 - 2.0 * cosine, _NEAREST_CURVED**2))
    one, two, three, four = _CLOSE_CURVATURE
    found = one / rho**3 + two / rho + square * (three / rho**3 + four / rho**5)
    return jnp.exp(-square) * found + _remainder(_CURVATURE, square, cosine)


def _remainder(table: np.ndarray, square: Array, cosine: Array) -> Array:
    """Sum of a table of Chebyshev coefficients, by Clenshaw's recurrence in each variable."""

    def series(at: Array, terms: list[Array]) -> Array:
        one, two = 0.0 * at, 0.0 * at
        for term in reversed(terms[1:]):
            one, two = term + 2.0 * at * one - two, one
        return terms[0] + at * one - two

    rows = [series(cosine, [jnp.asarray(value) for value in row]) for row in table]
    along = series(2.0 / (1.0 + square / 1.5) - 1.0, rows)
    return jnp.exp(-_DECAY * (jnp.sqrt(1.0 + square) - 1.0)) * along


def mutual_inertance(holes: Holes) -> Array:
    """Mutual inertances (1/m) of all holes over density, [H, H]; 0 with themselves."""
    across = holes.place[:, :2]
    radius = jnp.sqrt(jnp.sum(across**2, axis=1))
    cosine = across @ across.T / (radius[:, None] * radius[None, :])
    bore = (holes.bore_radius[:, None] + holes.bore_radius[None, :]) / 2
    along = jnp.abs(holes.position[:, None] - holes.position[None, :]) / bore
    cosine = jnp.clip(cosine, -1.0, 1.0)
    mouth = holes.undercut_radius**2
    spread = _SPREAD * (mouth[:, None] + mouth[None, :]) / bore**2
    found = mutual_shape(along, cosine) + spread * mutual_curvature(along, cosine)
    itself = jnp.eye(len(holes.radius), dtype=bool)
    return jnp.where(itself, 0.0, found / (2 * jnp.pi * bore))
