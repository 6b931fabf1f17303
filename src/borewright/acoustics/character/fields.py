"""One climb through the air column for every fingering and frequency, with all its powers.

Elements are computed once for all fingerings, a fingering chooses among open and closed.
Powers are p u* in peak values with the engine's normalised flow; only ratios leave this room.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
from jax import Array, lax

from borewright.acoustics.character.hole_power import HolePower, hole_power
from borewright.acoustics.character.wall_loss import WallForm, abs2, wall_forms
from borewright.acoustics.compilation import compiled
from borewright.acoustics.complex_numbers import reciprocal
from borewright.acoustics.holes import HoleNetwork
from borewright.acoustics.network import (
    Column,
    end_state,
    holes_at,
    interaction_ratio,
    reference_impedance,
    slice_ports,
    top_admittance,
)
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import prepare
from borewright.acoustics.structure import Numbers, Structure
from borewright.acoustics.twoport import TwoPort, apply

State = tuple[Array, Array]  # pressure and normalised flow


class Fields(NamedTuple):
    """What the character table is made of; [F, K] unless said otherwise.

    Powers are over the power that enters the bore's top, below chamber and reed.
    """

    admittance: Array  # normalised, chamber and reed included, as the reed sees it
    radiated_holes: Array
    radiated_end: Array
    wall: Array  # lost along bore and holes, by integration
    reflection: Array  # complex, of all below seen from above the first open hole
    row: Array  # complex, of the open-hole row alone, the bore going on endlessly below it
    reference: Array  # [1] Pa s/m³, characteristic impedance at the top


class _Elements(NamedTuple):
    """Everything that no fingering changes."""

    ports: TwoPort  # [N, K]
    walls: WallForm
    opened: HoleNetwork  # [H, K]
    closed: HoleNetwork
    power_open: HolePower
    power_closed: HolePower
    end: tuple[Array, Array]  # [K]
    local: Array  # [N, 1] characteristic impedance at the top of each slice, over the reference


def solve(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    frequencies: Array,
    masks: Array,
    first: Array,
    last: Array,
) -> Fields:
    """Fields of all fingerings at all frequencies.

    Parameters
    ----------
    structure, options
        Static.
    numbers, fixed
        Sizes (mm) and explicit air constants.
    frequencies
        [K] Hz.
    masks
        Booleans [F, H]: which holes are open.
    first
        Integers [F]: the hole from whose upper side all below is looked at; H for the bore's top.
    last
        Integers [F]: the row's last hole, below which the bore is taken as endless; H for none.
    """
    column = Column(structure, options, *prepare(structure, numbers, fixed, options))
    omega = 2 * jnp.pi * frequencies
    elements = _elements(column, omega)
    top = top_admittance(column, omega)
    count = len(structure.holes)
    order = jnp.argsort(column.where, stable=True)[: count + 1]
    planes = jnp.where(first < count, order[jnp.minimum(first, count)], 0)
    lasts = jnp.where(last < count, order[jnp.minimum(last, count)], -1)

    def one(row: tuple[Array, Array, Array]) -> tuple[Array, ...]:
        return _one(column, elements, frequencies, *row)

    admittance, holes, end, wall, below, row = lax.map(one, (masks, planes, lasts))
    reference = reference_impedance(column)
    return Fields(admittance + top, holes, end, wall, below, row, reference)


def _elements(column: Column, omega: Array) -> _Elements:
    ones = jnp.ones((len(column.structure.holes), 1), bool)
    slices, air = column.prepared.slices, column.prepared.slice_air
    local = air.density * air.speed_of_sound / (jnp.pi * slices.radius_top**2)
    return _Elements(
        slice_ports(column, omega),
        wall_forms(column, omega),
        holes_at(column, omega, ones),
        holes_at(column, omega, ~ones),
        hole_power(column, omega, is_open=True),
        hole_power(column, omega, is_open=False),
        end_state(column, omega),
        local / reference_impedance(column),
    )


def _one(
    column: Column, elements: _Elements, frequencies: Array, mask: Array, plane: Array, last: Array
) -> tuple[Array, ...]:
    """Fields of one fingering [H] at all frequencies, each [K]."""
    is_open = mask[:, None]
    series, shunt, radiated_by, lost_by = (
        jnp.where(is_open, opened, closed)
        for opened, closed in (
            (elements.opened.series, elements.closed.series),
            (elements.opened.shunt, elements.closed.shunt),
            (elements.power_open.radiated, elements.power_closed.radiated),
            (elements.power_open.wall, elements.power_closed.wall),
        )
    )
    pressure_end, flow_end = elements.end
    if column.structure.couples and column.structure.holes:
        # What the others add is counted as part of each opening's own impedance.
        spread = jnp.broadcast_to(is_open, (mask.shape[0], frequencies.shape[0]))
        ratio = interaction_ratio(column, frequencies, spread)
        heard = 1 + ratio[:-1]
        mutual = jnp.where(is_open, abs2(shunt) * jnp.real(ratio[:-1] * reciprocal(shunt)), 0.0)
        radiated_by = (radiated_by + mutual) / abs2(heard)
        lost_by = lost_by / abs2(heard)
        shunt = shunt * reciprocal(heard)
        flow_end = flow_end * reciprocal(1 + ratio[-1])
    radiated_end = jnp.real(pressure_end * jnp.conj(flow_end))

    def placed(entry: Array) -> Array:
        """[H, K] to [N, K]: slices without a hole above them have nothing."""
        nothing = jnp.zeros((1, entry.shape[1]), entry.dtype)
        return jnp.concatenate([entry, nothing])[column.where]

    def up(
        state: tuple[State, State], row: tuple[TwoPort, Array, Array, Array, Array]
    ) -> tuple[tuple[State, State], tuple[Array, ...]]:
        port, whole_series, admittance, ends_here, local = row
        real, endless = state
        above, middle = _through(apply(port, real), whole_series, admittance)
        pressure, flow = apply(port, endless)
        matched = (jnp.where(ends_here, local, pressure), jnp.where(ends_here, 1.0, flow))
        row_above, _ = _through(matched, whole_series, admittance)
        return (above, row_above), (*real, middle, *above, *row_above)

    number = jnp.arange(column.where.shape[0])
    rows = (elements.ports, placed(series), placed(shunt), number == last, elements.local)
    end = (pressure_end, flow_end)
    ((p, u), _), inside = lax.scan(up, (end, end), rows, reverse=True)
    p_below, u_below, middle, p_above, u_above, p_row, u_row = inside
    entering = jnp.real(p * jnp.conj(u))
    squared = abs2(middle)
    by_holes = placed(radiated_by) * squared
    lost = jnp.sum(placed(lost_by) * squared + elements.walls.loss(p_below, u_below), axis=0)

    local = elements.local[plane]
    down = (p_above[plane] + local * u_above[plane]) / 2
    back = (p_above[plane] - local * u_above[plane]) / 2
    row_down = (p_row[plane] + local * u_row[plane]) / 2
    row_back = (p_row[plane] - local * u_row[plane]) / 2
    return (
        u * reciprocal(p),
        jnp.sum(by_holes, axis=0) / entering,
        radiated_end / entering,
        lost / entering,
        back * reciprocal(down),
        row_back * reciprocal(row_down),
    )


def _through(state: State, whole_series: Array, admittance: Array) -> tuple[State, Array]:
    """State above a T network, and the pressure at its middle."""
    half = whole_series / 2
    middle = state[0] + half * state[1]
    flow = state[1] + admittance * middle
    return (middle + half * flow, flow), middle


fields = compiled(solve)
