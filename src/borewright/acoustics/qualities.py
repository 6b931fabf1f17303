"""What is heard and felt beside pitch, with exact derivatives: cut-offs and resonance strengths.

The character table finds both from whole curves; here they come in the closed forms that a fit
can follow: the formula of the periodic lattice for the first two open holes (see
``character.lattice``), and the modulus of the reflection at a resonance, where impedance is
real: |Z| over the characteristic impedance is (1 + |R|) / (1 - |R|).
"""

from __future__ import annotations

from typing import NamedTuple

import jax
import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics import kernels
from borewright.acoustics.character.lattice import lattice_term
from borewright.acoustics.compilation import compiled
from borewright.acoustics.geometry import slices_and_holes
from borewright.acoustics.network import Column, input_admittance, reflection
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import Prepared, prepare
from borewright.acoustics.request import Request
from borewright.acoustics.structure import Numbers, Structure


class Quality(NamedTuple):
    """A figure of every fingering, and its derivatives; NaN where there is none."""

    value: np.ndarray  # [F]
    slope: np.ndarray  # [F, D] per mm of every dimension, 0 where there is no value


def _cutoffs(structure: Structure, numbers: Numbers, first: Array, second: Array) -> Array:
    """Ln of the lattice's cut-off over the speed of sound, [F], for pairs of holes."""
    _, holes, _, _ = slices_and_holes(structure, numbers)
    term = lattice_term(
        holes.bore_radius,
        holes.radius,
        holes.height,
        holes.body_radius,
        holes.chimney,
        jnp.asarray(numbers.chimney_wall) * 1e-3,
        holes.pad_radius,
        holes.lift,
    )
    apart = holes.position[second] - holes.position[first]
    return 0.5 * jnp.log((term[first] + term[second]) / 2 / apart)


def _cutoff_slopes(
    structure: Structure, numbers: Numbers, first: Array, second: Array
) -> tuple[Array, Array]:
    def of(values: Array) -> tuple[Array, Array]:
        found = _cutoffs(structure, numbers._replace(values=values), first, second)
        return found, found

    slopes, found = jax.jacrev(of, has_aux=True)(jnp.asarray(numbers.values))
    return found, slopes


def _log_modulus_slopes(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    masks: Array,
    frequency: Array,
) -> tuple[Array, Array, Array]:
    """Ln |R| at given frequencies [F], its slope in ln f [F], and in the dimensions [F, D].

    The slopes in the dimensions hold the frequency; as in ``kernels.logarithmic_jacobian`` one
    reverse sweep yields all rows.
    """
    open_holes = masks.T
    values = jnp.asarray(numbers.values)

    def assemble(changed: Array) -> Prepared:
        return prepare(structure, numbers._replace(values=changed), fixed, options)[0]

    prepared, where = prepare(structure, numbers, fixed, options)
    slopes = jax.jacfwd(assemble)(values)
    count = masks.shape[0]
    copies = jax.tree.map(lambda leaf: jnp.broadcast_to(leaf, (*leaf.shape[:-1], count)), prepared)

    def total(changed: Prepared, log_f: Array) -> tuple[Array, Array]:
        column = Column(structure, options, changed, where)
        found = jnp.log(jnp.abs(reflection(input_admittance(column, jnp.exp(log_f), open_holes))))
        return jnp.sum(found), found

    (_, modulus), (gradients, along) = jax.value_and_grad(total, argnums=(0, 1), has_aux=True)(
        copies, jnp.log(frequency)
    )
    rows = jnp.zeros((count, values.shape[0]))
    for gradient, slope in zip(jax.tree.leaves(gradients), jax.tree.leaves(slopes), strict=True):
        rows = rows + jnp.reshape(gradient, (-1, count)).T @ jnp.reshape(
            slope, (-1, values.shape[0])
        )
    return modulus, along, rows


_cutoffs_of = compiled(_cutoff_slopes, static_argnums=(0,))
_moduli_of = compiled(_log_modulus_slopes)


def lattice_cutoffs(
    request: Request, pairs: list[tuple[int, int] | None], speed_of_sound: float
) -> Quality:
    """Cut-off (Hz) of the periodic lattice for the first two open holes of every fingering.

    Parameters
    ----------
    request
        Of the instrument.
    pairs
        Indices of each fingering's first two open holes, None where it has no row.
    speed_of_sound
        m/s.
    """
    some = next((pair for pair in pairs if pair is not None), None)
    count = np.shape(request.numbers.values)[0]
    if some is None:
        return Quality(np.full(len(pairs), np.nan), np.zeros((len(pairs), count)))
    filled = np.array([some if pair is None else pair for pair in pairs], dtype=int)
    logs, slopes = _cutoffs_of(request.structure, request.numbers, filled[:, 0], filled[:, 1])
    known = np.array([pair is not None for pair in pairs])
    value = speed_of_sound / (2 * np.pi) * np.exp(np.asarray(logs))
    slope = np.where(known[:, None], value[:, None] * np.asarray(slopes), 0.0)
    return Quality(np.where(known, value, np.nan), slope)


def strengths(request: Request, solved: kernels.Solved, log_slopes: np.ndarray) -> Quality:
    """Height (dB) of |Z|, over the characteristic impedance, at the resonances of a request.

    Parameters
    ----------
    request, solved
        And its resonances; where none was found there is no height.
    log_slopes
        [F, D] d ln f / d dimension (1/mm) of those resonances.
    """
    logs, along, rows = (
        np.asarray(each) for each in _moduli_of(*request[:5], np.asarray(solved.frequency))
    )
    modulus = np.exp(logs)
    known = np.asarray(solved.found) & (modulus < 1.0) & np.isfinite(logs)
    modulus = np.where(known, modulus, 0.5)
    value = 20 * np.log10((1 + modulus) / (1 - modulus))
    # d dB / d ln |R| = 20 / ln 10 * 2 |R| / (1 - |R|²).
    factor = 40 / np.log(10) * modulus / (1 - modulus**2)
    slope = factor[:, None] * (rows + along[:, None] * log_slopes)
    return Quality(np.where(known, value, np.nan), np.where(known[:, None], slope, 0.0))
