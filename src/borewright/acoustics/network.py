"""The whole air column: slices, holes, top and bottom joined to one input admittance."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array, lax

from borewright.acoustics.complex_numbers import reciprocal
from borewright.acoustics.elements.open_end import reflection as end_reflection
from borewright.acoustics.elements.top import cavity, reed
from borewright.acoustics.holes import HoleNetwork, hole_networks
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import Prepared
from borewright.acoustics.structure import Numbers, Structure
from borewright.acoustics.twoport import TwoPort, climb, cone
from borewright.model import BottomEnd

_MM = 1e-3


class Column(NamedTuple):
    """An instrument ready for evaluation: static choices and prepared arrays."""

    structure: Structure
    options: Options
    numbers: Numbers
    prepared: Prepared
    where: Array  # [N] index of the hole at the top of each slice


def reference_impedance(column: Column) -> Array:
    """Characteristic impedance (Pa s/m³, lossless) of the bore at its top, shape [1]."""
    air, radius = column.prepared.top_air, column.prepared.slices.radius_top[0]
    return air.density * air.speed_of_sound / (jnp.pi * radius**2)


def slice_ports(column: Column, omega: Array) -> TwoPort:
    """Two-ports [N, ...] of all slices; ``omega`` broadcasts against [N, 1]."""
    slices = column.prepared.slices
    return cone(
        slices,
        omega,
        column.prepared.slice_air,
        reference_impedance(column),
        lossless=column.options.lossless,
        series=column.prepared.losses,
        loss_factor=jnp.asarray(column.numbers.loss_factor),
    )


def holes_at(column: Column, omega: Array, is_open: Array) -> HoleNetwork:
    """Normalised series impedance and shunt admittance [H, ...] of all holes."""
    networks = hole_networks(
        column.prepared.holes,
        is_open,
        omega,
        column.prepared.hole_air,
        jnp.asarray(column.numbers.chimney_wall) * _MM,
        lossless=column.options.lossless,
        loss_factor=jnp.asarray(column.numbers.loss_factor),
        any_pad=column.structure.any_pad,
        series=column.prepared.losses if column.structure.wide_holes else None,
        any_undercut=column.structure.any_undercut,
    )
    reference = reference_impedance(column)
    return HoleNetwork(networks.series / reference, networks.shunt * reference)


def end_state(column: Column, omega: Array) -> tuple[Array, Array]:
    """Pressure and (normalised) flow at the bottom end, up to a common factor."""
    structure, prepared = column.structure, column.prepared
    ones = jnp.ones_like(omega) + 0j
    if structure.bottom_end is BottomEnd.CLOSED:
        return ones, 0 * ones
    if structure.bottom_end is BottomEnd.IDEAL:
        return 0 * ones, ones
    air, radius = prepared.end_air, prepared.ends.bore_radius
    outer = prepared.ends.outer_radius
    if structure.bottom_end is BottomEnd.FLANGED:
        outer = jnp.full_like(outer, np.inf)
    wavenumber = omega / air.speed_of_sound
    modulus, length = end_reflection(wavenumber, radius, outer)
    back = -modulus * jnp.exp(-2j * wavenumber * length)
    section = jnp.pi * radius**2 / (air.density * air.speed_of_sound)
    return 1 + back, (1 - back) * section * reference_impedance(column)


def top_admittance(column: Column, omega: Array) -> Array:
    """Normalised admittance of chamber and reed; zero for a bare tube."""
    air = column.prepared.top_air
    compressibility = 1 / (air.density * air.speed_of_sound**2)
    volume, resonance, damping = jnp.asarray(column.numbers.reed)
    chamber = jnp.asarray(column.numbers.chamber_mm3) * _MM**3
    lump = cavity(omega, chamber, compressibility) + reed(
        omega, volume * _MM**3, resonance, damping, compressibility
    )
    return lump * reference_impedance(column)


def input_admittance(column: Column, frequency: Array, is_open: Array) -> Array:
    """Normalised input admittance, chamber and reed included.

    Parameters
    ----------
    column
        The instrument; its prepared arrays have a last axis of 1 or F.
    frequency
        Hz, [F].
    is_open
        Booleans [H, F].

    Returns
    -------
    Array
        Complex, [F], over the reference admittance at the top of the bore.
    """
    omega = 2 * jnp.pi * frequency
    ports = slice_ports(column, omega)
    series = shunt = jnp.zeros_like(ports.a)
    if column.structure.holes:
        # Slices without a hole above them take the last row: nothing in series, no shunt.
        series, shunt = (
            jnp.concatenate([entry, jnp.zeros((1, *entry.shape[1:]), entry.dtype)])[column.where]
            for entry in holes_at(column, omega, is_open)
        )
    # Compiled apart, elements and chain take half the time to compile that they take as one.
    barrier: Callable[..., tuple[TwoPort, Array, Array]] = lax.optimization_barrier
    ports, series, shunt = barrier((ports, series, shunt))
    pressure, flow = climb(ports, series, shunt, end_state(column, omega))
    return flow * reciprocal(pressure) + top_admittance(column, omega)


def reflection(admittance: Array) -> Array:
    """Reflection coefficient of a normalised admittance."""
    return (1 - admittance) * reciprocal(1 + admittance)
