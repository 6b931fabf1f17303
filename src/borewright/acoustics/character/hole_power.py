"""What an open or closed hole radiates and loses, for a pressure of 1 at its mouth in the bore.

The hole is followed from its outer end inwards: radiation impedance (or a closed end), tube,
undercut, inner length, as in :mod:`borewright.acoustics.holes`; a test holds the admittance
found here to the engine's. Radiated power is the real part of the radiation impedance times
the squared flow at the rim, wall loss the integral along the tube.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.character.wall_loss import abs2
from borewright.acoustics.complex_numbers import cosh_sinh, reciprocal
from borewright.acoustics.elements.hole_junction import inner_length, matching_length
from borewright.acoustics.elements.hole_outside import (
    pad_length,
    radiation_resistance,
    rim_length,
    wave_share,
)
from borewright.acoustics.holes import displaced_admittance, hole_line, rising_mass
from borewright.acoustics.losses import Line
from borewright.acoustics.network import Column, reference_impedance

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(4)


class HolePower(NamedTuple):
    """Powers (normalised like p u*) for |p| = 1 in the bore, and the admittance; [H, K]."""

    radiated: Array
    wall: Array
    admittance: Array


def hole_power(column: Column, omega: Array, *, is_open: bool) -> HolePower:
    """Powers of all holes, all open or all closed, at angular frequencies ``omega`` [K]."""
    holes, air = column.prepared.holes, column.prepared.hole_air
    b, at_bore = holes.radius, holes.undercut_radius
    reference = reference_impedance(column)

    def tube(radius: Array) -> Line:
        return hole_line(
            radius,
            omega,
            air,
            lossless=column.options.lossless,
            loss_factor=column.prepared.loss_factor,
            series=None if column.options.any_width else column.prepared.losses,
            narrow=column.structure.narrow_holes,
        )

    ones = jnp.ones((b.shape[0], omega.shape[0])) + 0j
    resistance = jnp.zeros_like(ones.real)
    if is_open:
        outside = rim_length(b, holes.body_radius, holes.chimney, column.prepared.chimney_wall)
        resistance = radiation_resistance(omega / air.speed_of_sound * b, outside, b)
        if column.structure.any_pad:
            covered = holes.pad_radius > 0
            safe = jnp.where(covered, holes.pad_radius, 2 * b)
            outside = outside + jnp.where(covered, pad_length(b, safe, holes.lift), 0.0)
        outside = outside * holes.scale[:, 2]
        outside = outside + b**2 / 4 * wave_share(omega / air.speed_of_sound, holes.body_radius)
        resistance = air.density * air.speed_of_sound / (jnp.pi * b**2) * resistance
        load = resistance + 1j * omega * air.density * outside / (jnp.pi * b**2)
        state = (load * ones, ones)
    else:
        state = (ones, 0 * ones)

    outer, inner = tube(b), tube(jnp.sqrt(b * at_bore))
    height = holes.height + matching_length(holes.bore_radius, at_bore)
    depth = holes.undercut_depth
    loss = _loss(outer, height - depth, state)
    state = _climb(outer, height - depth, state)
    loss = loss + _loss(inner, depth, state)
    pressure, flow = _climb(inner, depth, state)
    if not is_open:
        # A solved hole scales what its stopped air yields, and with it what that air loses.
        flow, loss = flow * holes.scale[:, 4], loss * holes.scale[:, 4]
    length = inner_length(holes.bore_radius, at_bore)
    length = length * holes.scale[:, 2 if is_open else 3]
    mass = 1j * omega * air.density * length / (jnp.pi * at_bore**2)
    if is_open:
        mass = mass + rising_mass(holes, omega, air)
    pressure = pressure + mass * flow
    whole = abs2(pressure)
    radiated = resistance / whole * reference if is_open else jnp.zeros_like(whole)
    admittance = flow * reciprocal(pressure) - displaced_admittance(holes, omega, air)
    return HolePower(radiated, loss / whole * reference, admittance * reference)


def _climb(tube: Line, length: Array, state: tuple[Array, Array]) -> tuple[Array, Array]:
    cosh, sinh = cosh_sinh(tube.propagation * length)
    pressure, flow = state
    return (
        cosh * pressure + sinh * reciprocal(tube.admittance) * flow,
        sinh * tube.admittance * pressure + cosh * flow,
    )


def _loss(tube: Line, length: Array, state: tuple[Array, Array]) -> Array:
    """Loss along a tube whose lower end has the state; see wall_loss."""
    series = jnp.real(tube.propagation * reciprocal(tube.admittance))
    shunt = jnp.real(tube.propagation * tube.admittance)
    total = jnp.zeros(state[0].shape)
    for node, weight in zip(_NODES, _WEIGHTS, strict=True):
        pressure, flow = _climb(tube, (1.0 + node) / 2 * length, state)
        total = total + weight / 2 * length * (series * abs2(flow) + shunt * abs2(pressure))
    return total
