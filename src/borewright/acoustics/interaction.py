"""Openings hear each other: outside, open holes and the bottom end; inside the bore, all holes.

What holes add to each other inside is in :mod:`borewright.acoustics.inside`. Outside it is
mutual radiation between open holes and the bottom end.

A small source of flow U at distance D adds the pressure g j w rho exp(-jkD) / (4 pi D) U at
another opening; it couples all open holes and lowers resonances slightly. Source: Lefebvre,
Scavone and Kergomard, "External tonehole interactions in woodwind instruments", arXiv
1207.5490. Their directivity factor is replaced by the field of a long rigid cylinder, its
quasi-static part (:func:`directivity`: the body doubles what is heard close by on its own side
and halves it on the other) and what rises with frequency.

The chain stays a chain: flows are taken from a first pass without interaction, the pressures
they add are counted as part of each opening's own impedance, and the pass is repeated. Pressures
in the bore hardly change by that, while flows through neighbouring holes may: so these are
worked out again from the first pass's pressures, three times over. Against many repetitions of
the whole one leaves less than 0.05 cent below cut-off (tested), also in a row of five open holes.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple, cast

import jax.numpy as jnp
from jax import Array, lax

from borewright.acoustics.complex_numbers import reciprocal
from borewright.acoustics.elements.hole_outside import wave_share


class Openings(NamedTuple):
    """Where the openings are and what they do; H holes and the bottom end (SI).

    ``flow`` and ``pressure`` have a common, arbitrary factor.
    """

    place: Array  # [H + 1, 3, 1] m
    flow: Array  # [H + 1, F] out of the bore
    pressure: Array  # [H + 1, F] inside, at the opening's branch
    speaks: Array  # [H + 1, F] whether it is open to the outside


def directivity(along: Array, facing: Array) -> Array:
    """Pressure of a point source on a long rigid cylinder over that of the same in free air.

    Both points lie on the surface, ``along`` radii apart along the axis and at bearings whose
    difference has the cosine ``facing``. Fitted to the exact solution of Laplace's equation (a
    sum over the cylinder's Hankel functions, in the tests) within 0.05 from one radius along the
    axis on, within 0.09 for points further apart than 0.75 radii: 2 at the source, 1 far away,
    about a half straight across.
    """
    same_side = jnp.exp(-0.944 * along**0.717)
    far_side = -0.49 / (1.0 + (along / 3.5) ** 2)
    bend = 1.0 + 2.3 * jnp.exp(-0.9 * along)
    # Kept off 0 and 1, where powers have no derivative.
    share = jnp.clip((1.0 + facing) / 2.0, 1e-9, 1.0)
    return 1.0 + far_side + (same_side - far_side) * share**bend


def _body_excess(place: Array, wavenumber: Array) -> Array:
    """What the body adds to 1 between all openings, [H + 1, H + 1, F]; nothing at the end.

    The bottom end is not on the body's side: what it hears and sends is taken as in free air.
    """
    holes = place[:-1]
    radius = jnp.sqrt(holes[:, 0] ** 2 + holes[:, 1] ** 2)
    between = (radius[:, None] + radius[None, :]) / 2
    itself = jnp.eye(holes.shape[0], dtype=bool)[:, :, None]
    gap = jnp.abs(holes[:, None, 2] - holes[None, :, 2])
    # Two holes at one station: a hair apart, so that the power has a derivative.
    along = jnp.where(itself, 1.0, jnp.maximum(gap / between, 1e-3))
    across = jnp.sum(holes[:, None, :2] * holes[None, :, :2], axis=2)
    facing = across / (radius[:, None] * radius[None, :])
    distance = between * jnp.sqrt(along**2 + jnp.maximum(2.0 - 2.0 * facing, 0.0) + 1e-6)
    rising = distance * wave_share(wavenumber, between) * jnp.exp(-0.33 * along)
    # Behind the body it has the other sign: the way round is longer than the chord.
    excess = directivity(along, facing) - 1.0 + facing * rising
    return jnp.pad(excess, ((0, 1), (0, 1), (0, 0)))


#: How often flows are worked out from the first pass's pressures.
_ROUNDS = 3


def added_ratio(
    openings: Openings, inside: Array, outside: Array | None, reference: Array
) -> Array:
    """Pressure that the others add at each opening, over what is left for its own, [H + 1, F].

    Parameters
    ----------
    openings
        With the flows and pressures of a first pass.
    inside
        Impedances (Pa s/m³) between holes in the bore, [H, H, F].
    outside
        Impedances between all openings outside, [H + 1, H + 1, F]; None where they do not hear
        each other.
    reference
        The impedance that flows are multiplied by.
    """
    count = len(inside)
    # Without these bounds the compiler works a round out anew for every term of the next one's
    # sums, which takes four times as long.
    apart: Callable[..., Any] = lax.optimization_barrier
    openings, inside = apart((openings, inside))
    outside = None if outside is None else apart(outside)
    open_ones = openings.speaks
    admittance = apart(openings.flow[:count] * reciprocal(openings.pressure[:count]))

    def heard_from(flow: Array) -> Array:
        flow = apart(flow)
        heard = jnp.sum(inside * flow[None, :count], axis=1) / reference
        heard = jnp.concatenate([heard, jnp.zeros_like(flow[count:])])
        if outside is not None:
            loud = apart(jnp.where(open_ones, flow, 0.0))
            others = jnp.sum(outside * loud[None], axis=1) / reference
            heard = heard + jnp.where(open_ones, others, 0.0)
        return cast("Array", apart(heard))

    flow = openings.flow
    for _ in range(_ROUNDS - 1):
        left = openings.pressure[:count] - heard_from(flow)[:count]
        flow = jnp.concatenate([admittance * left, flow[count:]])
    heard = heard_from(flow)
    # An ideal end has no pressure and hears nothing: its ratio is 0, not 0 over 0.
    own = openings.pressure - heard
    return heard * reciprocal(jnp.where(heard == 0, 1.0, own))


def outside_impedances(place: Array, wavenumber: Array, density: Array, omega: Array) -> Array:
    """Mutual impedances (Pa s/m³) between openings outside, [H + 1, H + 1, F]."""
    apart = place[:, None] - place[None, :]
    squared = jnp.sum(apart**2, axis=2)  # [H + 1, H + 1, 1]
    itself = jnp.eye(squared.shape[0], dtype=bool)[:, :, None]
    distance = jnp.sqrt(jnp.where(itself, 1.0, squared))
    phase = wavenumber * distance
    # What the body adds stores and does not radiate: j (exp(-j phase) + excess).
    excess = _body_excess(place, wavenumber)
    size = jnp.where(itself, 0.0, omega * density / (4 * jnp.pi * distance))
    return size * (jnp.sin(phase) + 1j * (jnp.cos(phase) + excess))
