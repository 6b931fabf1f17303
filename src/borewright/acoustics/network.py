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
from borewright.acoustics.interaction import Openings, added_ratio, outside_impedances
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import Prepared
from borewright.acoustics.structure import END_TERMS, EndTerms, Structure
from borewright.acoustics.twoport import TwoPort, climb, cone
from borewright.model import BottomEnd


class Column(NamedTuple):
    """An instrument ready for evaluation: static choices and prepared arrays."""

    structure: Structure
    options: Options
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
        series=None if column.options.any_width else column.prepared.losses,
        loss_factor=column.prepared.loss_factor,
        lean=column.prepared.lean,
    )


def holes_at(column: Column, omega: Array, is_open: Array) -> HoleNetwork:
    """Normalised series impedance and shunt admittance [H, ...] of all holes."""
    networks = hole_networks(
        column.prepared.holes,
        is_open,
        omega,
        column.prepared.hole_air,
        column.prepared.chimney_wall,
        lossless=column.options.lossless,
        loss_factor=column.prepared.loss_factor,
        any_pad=column.structure.any_pad,
        series=None if column.options.any_width else column.prepared.losses,
        narrow=column.structure.narrow_holes,
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
    longer, loss = _solved_end(prepared.end_terms, wavenumber * radius)
    back = -modulus * jnp.exp(-loss - 2j * wavenumber * (length + longer * radius))
    section = jnp.pi * radius**2 / (air.density * air.speed_of_sound)
    return 1 + back, (1 - back) * section * reference_impedance(column)


def _solved_end(terms: EndTerms, ka: Array) -> tuple[Array, Array]:
    """Length over radius and loss of modulus that a solved bell adds, as EndTerms says."""
    square = jnp.minimum(ka, terms.highest) ** 2
    length, loss = 0 * square, 0 * square
    for i in reversed(range(END_TERMS)):
        length = terms.length[i] + square * length
        loss = square * (terms.loss[i] + loss)
    return length, loss


def top_admittance(column: Column, omega: Array) -> Array:
    """Normalised admittance of chamber and reed; zero for a bare tube."""
    air = column.prepared.top_air
    compressibility = 1 / (air.density * air.speed_of_sound**2)
    player = column.prepared.player
    lump = cavity(omega, player.chamber, compressibility) + reed(
        omega, player.reed, compressibility
    )
    return lump * reference_impedance(column)


class Parts(NamedTuple):
    """Elements of a column, and the pressures of a first pass without interaction."""

    ports: TwoPort  # [N, F]
    networks: HoleNetwork  # [H, F]
    end: tuple[Array, Array]
    top: tuple[Array, Array]  # pressure and flow at the top of the bore
    inside: Array  # [N, F] pressure at the middle of each T


def parts_of(column: Column, omega: Array, is_open: Array) -> Parts:
    """Slices, holes, end and what arrives at the top, before openings hear each other."""
    ports, end = slice_ports(column, omega), end_state(column, omega)
    networks = holes_at(column, omega, is_open)
    # Compiled apart, elements and chain take half the time to compile that they take as one.
    barrier: Callable[..., tuple[TwoPort, HoleNetwork]] = lax.optimization_barrier
    ports, networks = barrier((ports, networks))
    top, inside = climb(ports, *placed(column, networks), end)
    return Parts(ports, networks, end, top, inside)


def input_admittance(
    column: Column, frequency: Array, is_open: Array, ratio: Array | None = None
) -> Array:
    """Normalised input admittance, chamber and reed included.

    Parameters
    ----------
    column
        The instrument; its prepared arrays have a last axis of 1 or F.
    frequency
        Hz, [F].
    is_open
        Booleans [H, F].
    ratio
        What the openings add to each other, [H + 1, F], if it is already known; see
        :func:`interaction_ratio`. It varies slowly with frequency.

    Returns
    -------
    Array
        Complex, [F], over the reference admittance at the top of the bore.
    """
    omega = 2 * jnp.pi * frequency
    if not column.structure.holes:
        ports = slice_ports(column, omega)
        nothing = jnp.zeros_like(ports.a)
        (pressure, flow), _ = climb(ports, nothing, nothing, end_state(column, omega))
    elif not column.structure.couples:
        pressure, flow = parts_of(column, omega, is_open).top
    else:
        if ratio is None:
            parts = parts_of(column, omega, is_open)
            ratio = _ratio(column, omega, parts, is_open)
            ports, networks, end = parts.ports, parts.networks, parts.end
        else:
            ports, end = slice_ports(column, omega), end_state(column, omega)
            networks = holes_at(column, omega, is_open)
        # Y of a branch in which the others add ratio times the pressure inside.
        shunt = networks.shunt * reciprocal(1 + ratio[:-1])
        heard = (end[0], end[1] * reciprocal(1 + ratio[-1]))
        branches = HoleNetwork(networks.series, shunt)
        (pressure, flow), _ = climb(ports, *placed(column, branches), heard)
    return flow * reciprocal(pressure) + top_admittance(column, omega)


def interaction_ratio(column: Column, frequency: Array, is_open: Array) -> Array:
    """What all other openings add at each opening, over the pressure inside, [H + 1, F]."""
    omega = 2 * jnp.pi * frequency
    return _ratio(column, omega, parts_of(column, omega, is_open), is_open)


def placed(column: Column, networks: HoleNetwork) -> tuple[Array, Array]:
    """Series and shunt [N, F] above each slice; slices without a hole have neither."""
    series, shunt = (
        jnp.concatenate([entry, jnp.zeros((1, *entry.shape[1:]), entry.dtype)])[column.where]
        for entry in networks
    )
    return series, shunt


def _ratio(column: Column, omega: Array, parts: Parts, is_open: Array) -> Array:
    prepared, end = column.prepared, parts.end
    air = prepared.end_air
    count = len(column.structure.holes)
    # Each hole's slice, in the order of the holes.
    at = jnp.argsort(column.where, stable=True)[:count]
    pressure = parts.inside[at]
    flow = parts.networks.shunt * pressure
    bottom = jnp.stack([0 * prepared.ends.length, 0 * prepared.ends.length, prepared.ends.length])
    radiates = 0.0 if column.structure.bottom_is_closed else 1.0
    openings = Openings(
        jnp.concatenate([prepared.holes.place, bottom[None]]),
        jnp.concatenate([flow, radiates * end[1][None]]),
        jnp.concatenate([pressure, end[0][None]]),
        # A closed hole is neither heard outside nor hears anything there.
        jnp.concatenate([is_open, jnp.ones((1, is_open.shape[1]), bool)]),
    )
    inside = 1j * omega * prepared.hole_air.density[:, None] * prepared.inside
    outside = None
    if column.structure.interaction:
        wavenumber = omega / air.speed_of_sound
        outside = outside_impedances(openings.place, wavenumber, air.density, omega)
    return added_ratio(openings, inside, outside, reference_impedance(column))


def reflection(admittance: Array) -> Array:
    """Reflection coefficient of a normalised admittance."""
    return (1 - admittance) * reciprocal(1 + admittance)
