"""Compiled kernels: all fingerings at once, resonances by bracketed Newton steps.

One kernel a structure; ``compilation`` tells where compiled code is kept between runs.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import jax
import jax.numpy as jnp
import numpy as np
from jax import Array, lax

from borewright.acoustics.compilation import compiled
from borewright.acoustics.network import (
    Column,
    input_admittance,
    interaction_ratio,
    reference_impedance,
    reflection,
)
from borewright.acoustics.options import Options
from borewright.acoustics.parameters import read_parameters, with_parameters
from borewright.acoustics.prepared import Prepared, prepare
from borewright.acoustics.structure import Numbers, Structure
from borewright.acoustics.sweep import Bracket, brackets, sweep

_MOST_STEPS = 40
#: Newton stops when no frequency moves by more than this fraction (1.7e-7 cent).
_CLOSE = 1e-10
#: How far (ln f, 17 cents) interaction may carry a resonance beyond the sweep's interval.
_SLACK = 0.01
#: Steps before what openings add to each other is worked out anew; after that, once more would
#: move no pitch by 0.001 cent (tested).
_FIRST_STEPS = 1


class Solved(NamedTuple):
    """Resonances of a batch of fingerings; every entry [F] unless said otherwise."""

    frequency: Array  # Hz
    found: Array  # the sweep met the resonance at all
    crossings: Array  # 1 unless the angle wandered back through its goal
    residual: Array  # rad left
    slope: Array  # d angle / d ln f (rad), negative at a healthy resonance
    modulus: Array  # |R|: near 1 is a strong peak
    steps: Array  # Newton steps taken, scalar


def column_of(structure: Structure, options: Options, numbers: Numbers, fixed: Array) -> Column:
    """The prepared column of an instrument."""
    return Column(structure, options, *prepare(structure, numbers, fixed, options))


def _angle_and_slope(
    column: Column, masks: Array, ratio: Array | None, log_f: Array
) -> tuple[Array, Array, Array]:
    """Principal angle, its derivative in ln f, and modulus of the reflection, [F] each."""

    def value(log_frequency: Array) -> Array:
        return reflection(input_admittance(column, jnp.exp(log_frequency), masks, ratio))

    found, tangent = jax.jvp(value, (log_f,), (jnp.ones_like(log_f),))
    return jnp.angle(found), jnp.imag(tangent / found), jnp.abs(found)


def _newton(column: Column, masks: Array, bracket: Bracket) -> Solved:
    """Newton steps on the angle's departure from the real axis, kept inside the bracket.

    What openings add to each other varies slowly with frequency: it is held during the steps,
    and renewed once near the end.
    """
    interacts = column.structure.couples and bool(column.structure.holes)

    def settle(log_f: Array, most_steps: Array) -> tuple[Array, ...]:
        def keep_going(state: tuple[Array, ...]) -> Array:
            return (state[0] < most_steps) & (jnp.max(jnp.abs(state[4])) > _CLOSE)

        ratio = None
        if interacts:
            ratio = interaction_ratio(column, jnp.exp(log_f), masks)

        def step(state: tuple[Array, ...]) -> tuple[Array, ...]:
            count, log_f, low, high, *_ = state
            excess, slope, modulus = _angle_and_slope(column, masks, ratio, log_f)
            low = jnp.where(excess > 0, log_f, low)
            high = jnp.where(excess <= 0, log_f, high)
            proposal = log_f - excess / slope
            # Near a weak peak the slope may have either sign: then halve the bracket. At
            # convergence the proposal may leave the bracket by a rounding error: let it.
            inside = (proposal > low - 1e-9) & (proposal < high + 1e-9) & (slope < 0)
            following = jnp.where(inside, proposal, (low + high) / 2)
            return count + 1, following, low, high, following - log_f, excess, slope, modulus

        zeros = jnp.zeros_like(log_f)
        start: tuple[Array, ...] = (
            jnp.array(0),
            log_f,
            jnp.log(bracket.low) - _SLACK,
            jnp.log(bracket.high) + _SLACK,
            zeros + 1.0,
            zeros,
            zeros,
            zeros,
        )
        return jax.lax.while_loop(keep_going, step, start)

    # One loop over the rounds, so that the compiled code holds a round once.
    limits = jnp.array([_FIRST_STEPS, _MOST_STEPS] if interacts else [_MOST_STEPS])

    def again(number: Array, state: tuple[Array, ...]) -> tuple[Array, ...]:
        settled = settle(state[1], limits[number])
        return (state[0] + settled[0], *settled[1:])

    zeros = jnp.zeros_like(bracket.guess)
    begin: tuple[Array, ...] = (jnp.array(0), jnp.log(bracket.guess), *([zeros] * 6))
    count, log_f, _, _, _, residual, slope, modulus = jax.lax.fori_loop(
        0, len(limits), again, begin
    )
    return Solved(jnp.exp(log_f), bracket.found, bracket.crossings, residual, slope, modulus, count)


def solve(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    masks: Array,
    order: Array,
    grid: Array,
) -> Solved:
    """Find resonance number ``order`` of each fingering.

    Parameters
    ----------
    structure, options
        Static.
    numbers, fixed
        Sizes (mm) and explicit air constants.
    masks
        Booleans [F, H]: which holes are open.
    order
        [F] from 1: which impedance maximum.
    grid
        [K] frequencies (Hz) of the counting sweep.
    """
    column = column_of(structure, options, numbers, fixed)
    open_holes = masks.T
    # Air that cannot leave anywhere starts half a turn later; one open hole lets it out.
    sealed = structure.bottom_is_closed & ~jnp.any(masks, axis=1)
    goal = -2 * jnp.pi * (order - 1.0 + sealed)
    angles = sweep(column, grid, open_holes)
    return _newton(column, open_holes, brackets(grid, angles, goal))


def logarithmic_jacobian(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    masks: Array,
    solved: Solved,
) -> Array:
    """D ln f / d dimension (1/mm) and / d parameter, [F, D + P], by the implicit function theorem.

    At a resonance the angle stays constant: d ln f = -(d angle / d dimension) / (d angle / d
    ln f). One reverse sweep with a copy of the prepared arrays for every fingering yields all
    rows; the derivatives of the assembly of the bore come from a forward sweep. Columns are
    the dimensions, then ``parameters.PARAMETERS``.
    """
    open_holes = masks.T
    count_values = np.shape(numbers.values)[0]
    values = jnp.concatenate([jnp.asarray(numbers.values), read_parameters(numbers)])

    def assemble(everything: Array) -> tuple[Prepared, Array]:
        changed = with_parameters(numbers, everything[count_values:])
        return prepare(
            structure, changed._replace(values=everything[:count_values]), fixed, options
        )

    # Bounds between the stages: without them the compiler works parts of one out again and
    # again within the next.
    apart: Callable[..., Any] = lax.optimization_barrier
    (prepared, where), slopes = apart(
        (assemble(values), jax.jacfwd(lambda v: assemble(v)[0])(values))
    )

    def total_angle(copies: Prepared) -> Array:
        column = Column(structure, options, copies, where)
        admittance = input_admittance(column, solved.frequency, open_holes)
        return jnp.sum(jnp.angle(reflection(admittance)))

    count = masks.shape[0]
    copies = jax.tree.map(lambda leaf: jnp.broadcast_to(leaf, (*leaf.shape[:-1], count)), prepared)
    gradients = apart(jax.grad(total_angle)(apart(copies)))
    rows = sum(
        jnp.reshape(gradient, (-1, count)).T @ jnp.reshape(slope, (-1, values.shape[0]))
        for gradient, slope in zip(jax.tree.leaves(gradients), jax.tree.leaves(slopes), strict=True)
    )
    column = Column(structure, options, prepared, where)
    _, slope, _ = _angle_and_slope(column, open_holes, None, jnp.log(solved.frequency))
    return -rows / slope[:, None]


def input_impedance(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    frequencies: Array,
    is_open: Array,
) -> Array:
    """Input impedance (Pa s/m³), [K], of one fingering [H] at [K] frequencies."""
    column = column_of(structure, options, numbers, fixed)
    return reference_impedance(column) / input_admittance(column, frequencies, is_open[:, None])


def solve_near(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    masks: Array,
    near: Array,
) -> Solved:
    """Resonances of a slightly changed instrument, close to known ones ``near`` (Hz, [F]).

    For studies: no counting sweep, a bracket of a whole tone either way.
    """
    column = column_of(structure, options, numbers, fixed)
    ones = jnp.ones(near.shape)
    bracket = Bracket(near / 1.12, near * 1.12, near, ones > 0, ones.astype(int))
    return _newton(column, masks.T, bracket)


def solve_builds(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    masks: Array,
    near: Array,
    values: Array,
    parameters: Array,
) -> Array:
    """Frequencies (Hz), [B, F], of B builds with dimensions [B, D] and parameters [B, P]."""

    def one(build: tuple[Array, Array]) -> Array:
        changed = with_parameters(numbers, build[1])._replace(values=build[0])
        return solve_near(structure, options, changed, fixed, masks, near).frequency

    found: Array = jax.lax.map(one, (values, parameters))
    return found


resonances = compiled(solve)
builds = compiled(solve_builds)
full_jacobian = compiled(logarithmic_jacobian)
impedance = compiled(input_impedance)


def jacobian(*arguments: Any) -> np.ndarray:
    """The columns of :func:`logarithmic_jacobian` that belong to dimensions, [F, D].

    Arguments as there. Taken from the whole, so that one compiled kernel serves sensitivities
    and error bars.
    """
    numbers: Numbers = arguments[2]
    whole = np.asarray(full_jacobian(*arguments))
    return whole[:, : np.shape(numbers.values)[0]]
