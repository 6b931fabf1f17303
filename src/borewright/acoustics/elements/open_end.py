"""Radiation of the bottom end of a tube.

Unflanged end: Levine and Schwinger, Phys. Rev. 73 (1948) 383. Flanged end: Nomura, Yamamura
and Inawashiro, J. Phys. Soc. Jpn 15 (1960) 510. The moduli and the flanged length below are
the rational fits of Norris and Sheng, J. Sound Vib. 135 (1989) 85 (from memory); the unflanged
length is that of Dalmont, Nederveen and Joly, J. Sound Vib. 244 (2001) 505 (from memory),
which follows the integrals more closely. The test room integrates Levine and Schwinger's
formulas numerically and holds the unflanged end to 1 % of |R| and 0.005 a up to ka = 1.5.
Finite walls: Dalmont, Nederveen and Joly (2001), eq. for a thick-walled pipe (from memory).
"""

from __future__ import annotations

import jax.numpy as jnp
from jax import Array

UNFLANGED = 0.6133
FLANGED = 0.8217


def end_correction(inner_radius: Array, outer_radius: Array) -> Array:
    """Length correction over inner radius, ka -> 0, of a pipe with a wall (Dalmont and others)."""
    ratio = inner_radius / outer_radius
    return FLANGED + ratio * (UNFLANGED - FLANGED) + 0.057 * ratio * (1.0 - ratio**5)


def _unflanged(ka: Array) -> tuple[Array, Array]:
    modulus = (1 + 0.2 * ka - 0.084 * ka**2) / (1 + 0.2 * ka + 0.416 * ka**2)
    length = (1 + 0.044 * ka**2) / (1 + 0.19 * ka**2) - 0.02 * jnp.sin(2 * ka) ** 2
    return modulus, UNFLANGED * length


def _flanged(ka: Array) -> tuple[Array, Array]:
    modulus = (1 + 0.323 * ka - 0.077 * ka**2) / (1 + 0.323 * ka + 0.923 * ka**2)
    return modulus, FLANGED / (1 + (0.77 * ka) ** 2 / (1 + 0.77 * ka))


def reflection(wavenumber: Array, inner_radius: Array, outer_radius: Array) -> tuple[Array, Array]:
    """Modulus and length correction (m) of the reflection at an end with a wall.

    The reflection is R = -modulus exp(-2 j k length). Between no wall and an infinite flange
    the modulus is mixed in the proportion of the length correction, which has both limits
    right; valid to about ka = 1.5.
    """
    ka = wavenumber * inner_radius
    modulus_0, length_0 = _unflanged(ka)
    modulus_inf, length_inf = _flanged(ka)
    share = (end_correction(inner_radius, outer_radius) - UNFLANGED) / (FLANGED - UNFLANGED)
    modulus = modulus_0 + share * (modulus_inf - modulus_0)
    length = length_0 + share * (length_inf - length_0)
    return jnp.maximum(modulus, 1e-3), length * inner_radius
