"""Geometry and air of an instrument, computed once for all frequencies and fingerings."""

from __future__ import annotations

from typing import NamedTuple

import jax
import jax.numpy as jnp
from jax import Array

from borewright.acoustics.air import AirState, air_state, temperature_profile
from borewright.acoustics.elements.top import ReedNumbers
from borewright.acoustics.geometry import Ends, Holes, Slices, slices_and_holes
from borewright.acoustics.inside import mutual_inertance
from borewright.acoustics.losses import LossSeries, loss_series
from borewright.acoustics.options import Options
from borewright.acoustics.structure import ClimateNumbers, EndTerms, Numbers, Structure

_MM = 1e-3


class Player(NamedTuple):
    """Mouthpiece chamber and reed."""

    chamber: Array  # m³
    reed: ReedNumbers


class Prepared(NamedTuple):
    """Slices, holes, ends and the air at each of them (SI).

    Every array has a last axis of 1, which broadcasts against frequencies or fingerings:
    slices [N, 1], holes [H, 1], ends [1].
    """

    slices: Slices
    holes: Holes
    ends: Ends
    slice_air: AirState
    hole_air: AirState
    top_air: AirState
    end_air: AirState
    losses: LossSeries  # [K, 1]
    loss_factor: Array  # [1]
    chimney_wall: Array  # [1] m
    player: Player
    lean: Array  # [1] of cones, see structure.SolvedTerms
    end_terms: EndTerms  # [END_TERMS, 1] and [1]
    inside: Array  # [H, H, 1] 1/m, mutual inertances in the bore


def prepare(
    structure: Structure, numbers: Numbers, fixed: Array, options: Options
) -> tuple[Prepared, Array]:
    """Assemble an instrument.

    ``fixed`` holds speed of sound and density, used if the options ask for them. The second
    result is the index [N] of the hole at the top of each slice, H where there is none.
    """
    slices, holes, ends, where = slices_and_holes(structure, numbers)
    climate: ClimateNumbers = jax.tree.map(jnp.asarray, numbers.climate)

    # One call for all places, then split: the compiled code holds the gas mixture once.
    places = jnp.concatenate([slices.middle, holes.position, -ends.above[None], ends.length[None]])
    if options.fixed_air:
        air = _fixed(places, fixed)
    else:
        temperature = temperature_profile(
            places + ends.above, climate.reed_end_c, climate.room_c, climate.decay_mm * _MM
        )
        air = air_state(
            temperature, climate.relative_humidity, climate.carbon_dioxide, climate.pressure_pa
        )
    count, total = slices.middle.shape[0], places.shape[0]

    def at(index: slice | int) -> AirState:
        return AirState(*(entry[index] for entry in air))

    prepared = Prepared(
        slices,
        holes,
        ends,
        at(slice(0, count)),
        at(slice(count, total - 2)),
        at(total - 2),
        at(total - 1),
        # The ratio of heats and the Prandtl number hardly vary along the bore: their means do.
        loss_series(
            *(
                jnp.sum(slices.length * entry[:count]) / jnp.sum(slices.length)
                for entry in (air.gamma, air.root_prandtl)
            )
        ),
        jnp.asarray(numbers.loss_factor),
        jnp.asarray(numbers.chimney_wall) * _MM,
        Player(jnp.asarray(numbers.chamber_mm3) * _MM**3, numbers.reed),
        jnp.asarray(numbers.solved.lean),
        numbers.solved.end,
        mutual_inertance(holes),
    )
    return jax.tree.map(lambda leaf: jnp.asarray(leaf)[..., None], prepared), where


def _fixed(position: Array, fixed: Array) -> AirState:
    """Constant air; what losses need beyond it is that of dry air at the same speed of sound."""
    ones = jnp.ones_like(position)
    celsius = (fixed[0] / 331.45) ** 2 * 273.15 - 273.15
    dry = air_state(celsius * ones)
    return AirState(fixed[0] * ones, fixed[1] * ones, dry.viscosity, dry.gamma, dry.root_prandtl)
