"""A coarse sweep that counts resonances: which one lies between which frequencies.

Along frequency the angle of the reflection coefficient falls smoothly, through 0, -2 pi,
-4 pi … at the impedance maxima, so unwrapping it numbers them. (Following this angle instead
of peaks: Ernoult, Vergez, Missoum, Guillemain and Jousserand, J. Acoust. Soc. Am. 148 (2020)
2864.) Slices and holes are computed once per frequency; a fingering only chooses among open
and closed, so that the sweep of all fingerings costs little more than that of one.
"""

from __future__ import annotations

from typing import NamedTuple

import jax
import jax.numpy as jnp
from jax import Array, lax

from borewright.acoustics.complex_numbers import reciprocal
from borewright.acoustics.holes import HoleNetwork
from borewright.acoustics.network import (
    Column,
    end_state,
    holes_at,
    reflection,
    slice_ports,
    top_admittance,
)
from borewright.acoustics.twoport import TwoPort, apply, running_products


class Bracket(NamedTuple):
    """Where the wanted resonance lies; every entry [F]."""

    low: Array  # Hz
    high: Array
    guess: Array
    found: Array  # booleans
    crossings: Array  # how often the sweep passed the wanted angle


def sections(column: Column, omega: Array) -> TwoPort:
    """Two-ports [H + 1, K] of the bore between neighbouring holes, in order of position.

    With P the running products of all slices a section is P(start)^-1 P(end), exact up to
    rounding because every slice is reciprocal.
    """
    ports = slice_ports(column, omega)
    running = running_products(ports)
    count = len(column.structure.holes)
    # Slices that have a hole at their top, in order down the bore.
    first = jnp.sort(jnp.where(column.where < count, jnp.arange(ports.a.shape[0]), 10**6))[:count]
    before = running.take(first - 1)
    ends = TwoPort(
        *(
            jnp.concatenate([upper, whole[-1:]])
            for upper, whole in zip(before, running, strict=True)
        )
    )
    starts = TwoPort(
        *(
            jnp.concatenate([jnp.full((1, entry.shape[1]), one, entry.dtype), entry])
            for entry, one in zip(before, (1.0, 0.0, 0.0, 1.0), strict=True)
        )
    )
    return starts.inverse().after(ends)


def sweep(column: Column, frequencies: Array, masks: Array) -> Array:
    """Unwrapped reflection angle (rad), [K, F], of all fingerings on a common grid.

    In single precision, which is twice as quick: the angle is right to 0.0002, and the steps
    that follow have more room beyond their interval.

    Parameters
    ----------
    column
        Prepared arrays with a last axis of 1.
    frequencies
        [K] Hz, rising evenly from near 0, less than a quarter turn apart.
    masks
        Booleans [H, F].
    """
    column = column._replace(prepared=jax.tree.map(_single, column.prepared))
    omega = _single(2 * jnp.pi * frequencies)
    pressure, flow = end_state(column, omega)
    ones = jnp.ones((1, masks.shape[1]), pressure.dtype)
    state = (pressure[:, None] * ones, flow[:, None] * ones)
    if masks.shape[0]:
        bore = sections(column, omega)
        count = masks.shape[0]
        opened, closed = (
            holes_at(column, omega, jnp.full((count, 1), is_open)) for is_open in (True, False)
        )
        order = jnp.argsort(column.prepared.holes.position[:, 0], stable=True)
        last = TwoPort(*(entry[-1][:, None] for entry in bore))
        state = apply(last, state)

        def climb(
            state: tuple[Array, Array], row: tuple[TwoPort, TwoPort, Array]
        ) -> tuple[tuple[Array, Array], None]:
            when_open, when_closed, is_open = row
            chosen = TwoPort(
                *(
                    jnp.where(is_open[None, :], one[:, None], other[:, None])
                    for one, other in zip(when_open, when_closed, strict=True)
                )
            )
            return apply(chosen, state), None

        above = bore.take(slice(0, count))
        rows = (
            above.after(_with_hole(opened, order)),
            above.after(_with_hole(closed, order)),
            masks[order],
        )
        state, _ = lax.scan(climb, state, rows, reverse=True)
    else:
        whole = lax.associative_scan(
            lambda upper, lower: upper.after(lower), slice_ports(column, omega)
        )
        state = apply(TwoPort(*(entry[-1][:, None] for entry in whole)), state)
    p, u = state
    angle = jnp.angle(reflection(u * reciprocal(p) + top_admittance(column, omega)[:, None]))
    return jnp.unwrap(angle, axis=0)


def _single(entry: Array) -> Array:
    return entry.astype(jnp.float32)


def _with_hole(networks: HoleNetwork, order: Array) -> TwoPort:
    """T networks [H, K] of the holes, in order down the bore, as two-ports."""
    series, shunt = networks.series[order], networks.shunt[order]
    middle = series * shunt
    return TwoPort(1 + middle / 2, series * (1 + middle / 4), shunt, 1 + middle / 2)


def brackets(frequencies: Array, angles: Array, goal: Array) -> Bracket:
    """First interval of the sweep in which each fingering's angle falls through its goal."""
    below = angles <= goal[None, :]
    passed = below[1:] & ~below[:-1]
    index = jnp.argmax(passed, axis=0)
    columns = jnp.arange(angles.shape[1])
    upper, lower = angles[index, columns], angles[index + 1, columns]
    low, high = frequencies[index], frequencies[index + 1]
    share = (upper - goal) / (upper - lower)
    return Bracket(
        low, high, low + share * (high - low), jnp.any(passed, axis=0), jnp.sum(passed, axis=0)
    )
