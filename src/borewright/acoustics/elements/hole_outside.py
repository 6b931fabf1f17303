"""What the outer end of an open tone hole sees: body, chimney and pad.

All lengths in m; a length correction is that of the hole's own tube.
"""

from __future__ import annotations

import jax.numpy as jnp
from jax import Array

from borewright.acoustics.elements.open_end import FLANGED, UNFLANGED, end_correction


def rim_length(b: Array, body_radius: Array, chimney: Array, chimney_wall: Array) -> Array:
    """Outside length correction of an uncovered hole of radius ``b``.

    A flush hole in a round body: b (0.8217 - 0.47 (b / R)^0.8); a tall chimney: a
    thick-walled pipe (both Dalmont, Nederveen and Joly, J. Sound Vib. 244 (2001) 505, from
    memory). In between the chimney counts by 1 - exp(-height / b), our own interpolation: the
    solved holes replace it where certainty is asked for.
    """
    flush = b * (FLANGED - 0.47 * (b / body_radius) ** 0.8)
    tall = b * end_correction(b, b + chimney_wall)
    share = 1.0 - jnp.exp(-jnp.maximum(chimney, 0.0) / b)
    return flush + share * (tall - flush)


def pad_length(b: Array, pad_radius: Array, lift: Array) -> Array:
    """Additional length of an open hole under a disc pad at a lift.

    Dalmont, Nederveen and Joly (2001), obstructing disc, from memory:
    b / (3.5 (h/b)^0.8 (h/b + 3 w/b)^-0.4 + 30 (h/d)^2.6), with lift h, disc radius d and w the
    width of the seat that the pad overlaps. It vanishes as the pad rises.
    """
    h = lift / b
    w = (pad_radius - b) / b
    return b / (3.5 * h**0.8 * (h + 3.0 * w) ** -0.4 + 30.0 * (lift / pad_radius) ** 2.6)


def wave_share(wavenumber: Array, body_radius: Array) -> Array:
    """What a long cylinder's field gains over free air as frequency rises (1/m), near the source.

    The reactive pressure of a point source on a rigid cylinder of radius R, beyond that of
    Laplace's equation and beyond that of free air, is j w rho U / 4 pi times this; along the
    axis it falls as exp(-0.33 z / R). Our own fit, 0.72 k² R / (1 + (kR)²/2), to the sum over
    Hankel functions, within 10 % (kR from 0.2 to 0.6; it is small below).
    """
    return 0.72 / (1.0 / (wavenumber**2 * body_radius) + 0.5 * body_radius)


def radiation_resistance(kb: Array, outside_length: Array, b: Array) -> Array:
    """Real part of the radiation impedance over characteristic impedance, kb -> 0.

    (kb)²/4 without and (kb)²/2 with an infinite flange; in between by the share that the
    length correction has of its own range.
    """
    share = jnp.clip((outside_length / b - UNFLANGED) / (FLANGED - UNFLANGED), 0.0, 1.0)
    return kb**2 * (0.25 + 0.25 * share)
