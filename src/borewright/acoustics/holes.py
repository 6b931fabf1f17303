"""Side holes as T networks: half the series impedance, the shunt admittance, half again."""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
from jax import Array

from borewright.acoustics.air import AirState
from borewright.acoustics.complex_numbers import reciprocal, tanh
from borewright.acoustics.elements.hole_junction import (
    inner_length,
    matching_length,
    series_length,
)
from borewright.acoustics.elements.hole_outside import (
    pad_length,
    radiation_resistance,
    rim_length,
)
from borewright.acoustics.geometry import Holes
from borewright.acoustics.losses import LossSeries, line


class HoleNetwork(NamedTuple):
    """Acoustic impedance (Pa s/m³) of the whole series branch, and shunt admittance; [H]."""

    series: Array
    shunt: Array


def hole_networks(
    holes: Holes,
    is_open: Array,
    omega: Array,
    air: AirState,
    chimney_wall: Array,
    *,
    lossless: bool,
    loss_factor: Array,
    series: LossSeries | None,
    any_pad: bool,
    any_undercut: bool,
) -> HoleNetwork:
    """T networks of all holes at one frequency.

    Parameters
    ----------
    holes
        Geometry, [H] each.
    is_open
        [H] booleans.
    omega
        Angular frequency (rad/s), a scalar.
    air
        State of the air at each hole, [H] or scalars.
    chimney_wall
        Wall (m) of raised chimneys at their rim.
    lossless, series, loss_factor
        As for :func:`borewright.acoustics.losses.line`.
    any_pad, any_undercut
        Promises that spare work where no hole has such a thing.
    """
    bore, b = holes.bore_radius, holes.radius
    at_bore = holes.undercut_radius
    impulse = 1j * omega * air.density
    along = series_length(bore, at_bore, holes.height, is_open)
    along = along * jnp.where(is_open, holes.scale[:, 0], holes.scale[:, 1])
    branch = impulse * along / (jnp.pi * bore**2)

    tube = line(b, omega, air, lossless=lossless, series=series, loss_factor=loss_factor)
    height = holes.height + matching_length(bore, at_bore)
    outside = rim_length(b, holes.body_radius, holes.chimney, chimney_wall)
    resistance = radiation_resistance(omega / air.speed_of_sound * b, outside, b)
    if any_pad:
        covered = holes.pad_radius > 0
        safe = jnp.where(covered, holes.pad_radius, 2 * b)
        outside = outside + jnp.where(covered, pad_length(b, safe, holes.lift), 0.0)
    outside = outside * holes.scale[:, 2]
    characteristic = air.density * air.speed_of_sound / (jnp.pi * b**2)
    radiation = characteristic * resistance + impulse * outside / (jnp.pi * b**2)

    conductance = reciprocal(radiation)
    if any_undercut:
        # Outer cylinder, then the cone as a tube of the same inertance (exact for a cone).
        mean = jnp.sqrt(b * at_bore)
        cone = line(mean, omega, air, lossless=lossless, series=series, loss_factor=loss_factor)
        outer = tube.propagation * (height - holes.undercut_depth)
        inner = cone.propagation * holes.undercut_depth
        opened = _through(inner, cone.admittance, _through(outer, tube.admittance, conductance))
        closed = _through(inner, cone.admittance, _through(outer, tube.admittance, 0.0))
    else:
        opened = _through(tube.propagation * height, tube.admittance, conductance)
        closed = _through(tube.propagation * height, tube.admittance, 0.0)
    # The inner length lies in series with the tube: Y / (1 + Z Y).
    inner = inner_length(bore, at_bore) * jnp.where(is_open, holes.scale[:, 2], 1.0)
    inside = impulse * inner / (jnp.pi * at_bore**2)
    admittance = jnp.where(is_open, opened, closed * holes.scale[:, 3])
    return HoleNetwork(branch, admittance * reciprocal(1 + inside * admittance))


def _through(phase: Array, characteristic: Array, end: Array | float) -> Array:
    """Input admittance of a tube of propagation times length ``phase`` ending in ``end``."""
    tangent = tanh(phase)
    below = reciprocal(characteristic + end * tangent)
    return characteristic * (end + characteristic * tangent) * below
