"""Exact derivatives of every note in many bore diameters at once.

The assembled bore depends linearly on diameters, so its change for each station is a
difference without error; the derivative of the reflection's angle in everything assembled
comes from one reverse sweep. Their product over the angle's slope in ln f is the shift (the
implicit function theorem, as in ``kernels.logarithmic_jacobian``), and compiles in a fraction
of the time that differentiating the assembly would take.
"""

from __future__ import annotations

from collections.abc import Sequence

import jax
import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.compilation import compiled
from borewright.acoustics.network import Column, input_admittance, reflection
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import Prepared, prepare
from borewright.acoustics.request import Request
from borewright.acoustics.structure import Structure

_MM = 1.0  # a difference this wide: the dependence is linear, any width is exact
_ROUNDS = 3


def _gradients(
    structure: Structure,
    options: Options,
    prepared: Prepared,
    where: Array,
    masks: Array,
    log_frequency: Array,
) -> tuple[Array, Array, Prepared]:
    """Angle (rad), its slope in ln f, [F] each, and its gradient in every prepared array."""
    open_holes = masks.T
    count = masks.shape[0]

    def angles(copies: Prepared, log_f: Array) -> tuple[Array, Array]:
        column = Column(structure, options, copies, where)
        found = jnp.angle(reflection(input_admittance(column, jnp.exp(log_f), open_holes)))
        return jnp.sum(found), found

    copies = jax.tree.map(lambda leaf: jnp.broadcast_to(leaf, (*leaf.shape[:-1], count)), prepared)
    (_, angle), (gradient, slope) = jax.value_and_grad(angles, argnums=(0, 1), has_aux=True)(
        copies, log_frequency
    )
    return angle, slope, gradient


_assembled = compiled(prepare, static_argnums=(0, 3))
_gradients_of = compiled(_gradients)


def logarithmic_slopes(
    request: Request, near_hz: np.ndarray, columns: Sequence[Sequence[int]]
) -> np.ndarray:
    """D ln f for 1 mm of each group of diameters, [F, S].

    Parameters
    ----------
    request
        Of the instrument whose ``values`` hold the diameters.
    near_hz
        [F] resonances, right to a few cents; they are settled here.
    columns
        Groups of indices into ``values``; a group's diameters grow together.
    """
    prepared, where = _assembled(request.structure, request.numbers, request.fixed, request.options)
    log_f = np.log(near_hz)
    for _ in range(_ROUNDS):
        angle, slope, gradient = _gradients_of(
            request.structure, request.options, prepared, where, request.masks, log_f
        )
        log_f = log_f - np.asarray(angle) / np.asarray(slope)
    before = _flat(prepared)
    changes = []
    for group in columns:
        values = np.array(request.numbers.values, dtype=float)
        values[list(group)] += _MM
        wider, _ = _assembled(
            request.structure,
            request.numbers._replace(values=values),
            request.fixed,
            request.options,
        )
        changes.append((_flat(wider) - before) / _MM)
    rows = np.concatenate(
        [np.asarray(leaf).reshape(-1, len(near_hz)) for leaf in jax.tree.leaves(gradient)]
    )
    return np.asarray(-(np.stack(changes) @ rows).T / np.asarray(slope)[:, None])


def _flat(prepared: Prepared) -> np.ndarray:
    return np.concatenate([np.asarray(leaf).reshape(-1) for leaf in jax.tree.leaves(prepared)])
