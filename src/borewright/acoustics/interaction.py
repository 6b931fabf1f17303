"""Openings hear each other outside: mutual radiation between open holes and the bottom end.

A small source of flow U at distance D adds the pressure j w rho exp(-jkD) / (4 pi D) U
(free-field monopole) at another opening; it couples all open holes and lowers resonances
slightly. Source: Lefebvre, Scavone and Kergomard, "External tonehole interactions in
woodwind instruments", arXiv 1207.5490, without their directivity factor: what the body
shadows or doubles at these distances stays within the error stated for this level.

The chain stays a chain: flows are taken from a first pass without interaction, the pressures
they add are counted as part of each opening's own impedance, and the pass is repeated. The
coupling is weak, so one repetition leaves less than 0.05 cent (tested).
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
from jax import Array

from borewright.acoustics.complex_numbers import reciprocal


class Openings(NamedTuple):
    """Where the openings are and what they do; H holes and the bottom end (SI).

    ``flow`` and ``pressure`` have a common, arbitrary factor.
    """

    place: Array  # [H + 1, 3, 1] m
    flow: Array  # [H + 1, F] out of the bore, 0 for closed holes
    pressure: Array  # [H + 1, F] inside, at the opening's branch


def added_ratio(
    openings: Openings, wavenumber: Array, density: Array, omega: Array, reference: Array
) -> Array:
    """Pressure that the others add at each opening, over the pressure inside, [H + 1, F].

    ``reference`` is the impedance that flows are multiplied by.
    """
    apart = openings.place[:, None] - openings.place[None, :]
    squared = jnp.sum(apart**2, axis=2)  # [H + 1, H + 1, 1]
    itself = jnp.eye(squared.shape[0], dtype=bool)[:, :, None]
    distance = jnp.sqrt(jnp.where(itself, 1.0, squared))
    phase = wavenumber * distance
    size = jnp.where(itself, 0.0, omega * density / (4 * jnp.pi * distance)) / reference
    mutual = size * (jnp.sin(phase) + 1j * jnp.cos(phase))  # j exp(-j phase)
    heard = jnp.sum(mutual * openings.flow[None], axis=1)
    return heard * reciprocal(openings.pressure)
