"""What the closed forms of side holes come to at low frequency, hole by hole.

These are the lengths that :mod:`borewright.acoustics.holes` puts into its T networks, without
losses and in the limit of long waves, in the definitions of ``docs/solved-holes.md``, so that
they can be compared with solved holes and scaled to them.
"""

from __future__ import annotations

from typing import NamedTuple

import jax
import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.air import AirState
from borewright.acoustics.compilation import compiled
from borewright.acoustics.complex_numbers import reciprocal
from borewright.acoustics.elements.hole_junction import (
    inner_length,
    series_length,
)
from borewright.acoustics.elements.hole_outside import pad_length, rim_length
from borewright.acoustics.geometry import slices_and_holes
from borewright.acoustics.holes import displaced_admittance, hole_networks, tube_at_rest
from borewright.acoustics.structure import Numbers, Structure

_MM = 1e-3


class ClosedLengths(NamedTuple):
    """Closed forms of all holes (mm, mm³), [H] each; shunt lengths are those of the hole itself.

    A column of :data:`borewright.acoustics.structure.HOLE_SCALES` multiplies what it names.
    """

    series_open: Array
    series_closed: Array
    tube_open: Array  # part of the open shunt that is the hole's own tube, never scaled
    ends_open: Array  # inner length and outside
    tube_closed: (
        Array  # inertance that the closed tube has by itself, divided by the volume's scale
    )
    inner_closed: Array
    volume: Array


def _lengths(structure: Structure, numbers: Numbers) -> ClosedLengths:
    _, holes, _, _ = slices_and_holes(structure, numbers)
    a, b, mouth = holes.bore_radius, holes.radius, holes.undercut_radius
    tube = tube_at_rest(holes)
    wall = jnp.asarray(numbers.chimney_wall) * _MM
    outside = rim_length(b, holes.body_radius, holes.chimney, wall)
    covered = holes.pad_radius > 0
    safe = jnp.where(covered, holes.pad_radius, 2 * b)
    outside = outside + jnp.where(covered, pad_length(b, safe, holes.lift), 0.0)
    inner = inner_length(a, mouth) * (b / mouth) ** 2
    return ClosedLengths(
        series_open=series_length(a, mouth, holes.height, True) / _MM,
        series_closed=series_length(a, mouth, holes.height, False) / _MM,
        tube_open=tube.opened / _MM,
        ends_open=(inner + outside) / _MM,
        tube_closed=tube.closed / _MM,
        inner_closed=inner / _MM,
        volume=tube.volume / _MM**3,
    )


_kernel = compiled(_lengths, static_argnums=(0,))


def closed_lengths(structure: Structure, numbers: Numbers) -> ClosedLengths:
    """Low-frequency lengths (mm) and volumes (mm³) of the closed forms, [H] each."""
    found: ClosedLengths = _kernel(structure, numbers)
    return found


def _growth(structure: Structure, numbers: Numbers, wavenumber: Array) -> Array:
    _, holes, _, _ = slices_and_holes(structure, numbers)
    holes = jax.tree.map(lambda leaf: leaf[..., None], holes)
    # Lossless: only their quotient counts, and it does not matter which air it is.
    air = AirState(*(jnp.asarray(value) for value in (340.0, 1.2, 1.8e-5, 1.4, 0.84)))
    omega = jnp.stack([wavenumber / 1000, wavenumber]) * air.speed_of_sound
    networks = hole_networks(
        holes,
        jnp.ones((len(structure.holes), 1), bool),
        omega,
        air,
        jnp.asarray(numbers.chimney_wall) * _MM,
        lossless=True,
        loss_factor=jnp.ones(1),
        series=None,
        any_pad=structure.any_pad,
        any_undercut=structure.any_undercut,
    )
    shunt = networks.shunt + displaced_admittance(holes, omega, air)
    inertance = jnp.imag(reciprocal(shunt)) / (omega * air.density)
    length = inertance * jnp.pi * holes.radius**2 / _MM
    growth: Array = (length[:, 1] - length[:, 0]) / (wavenumber * _MM) ** 2
    return growth


_growth_kernel = compiled(_growth, static_argnums=(0,))


def shunt_growth_mm3(structure: Structure, numbers: Numbers, wavenumber: float) -> np.ndarray:
    """Growth of the open shunt's length with k² (mm³), [H], read off at a wavenumber (1/m)."""
    return np.asarray(_growth_kernel(structure, numbers, jnp.asarray(wavenumber)))
