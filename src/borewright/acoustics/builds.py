"""Many slightly different builds of one instrument, batched: pitches of every fingering.

A build starts from the nominal resonances, carried along by their derivatives, and takes two
steps with the nominal slope; only the reflection itself is computed anew, in single precision.
How far the last step went tells what is left, so that a build that went astray is noticed. Those
take more steps together; the few that do not settle even then are solved by the counting sweep.
"""

from __future__ import annotations

from typing import NamedTuple

import jax
import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics import kernels
from borewright.acoustics.compilation import compiled
from borewright.acoustics.network import Column, input_admittance, reflection
from borewright.acoustics.options import Options
from borewright.acoustics.parameters import read_parameters, with_parameters
from borewright.acoustics.prepared import prepare
from borewright.acoustics.request import Request
from borewright.acoustics.status import statuses
from borewright.acoustics.structure import Numbers, Structure

#: Builds in one call of the compiled kernel, and of those side by side.
_BATCH, _WIDTH = 256, 8
#: A data-centre GPU wants more at once.
_GPU_BATCH, _GPU_WIDTH = 16_384, 2_048
#: Steps of all builds, and of those that went astray.
_STEPS, _MORE_STEPS = 2, 6
#: So few builds are sooner solved one by one than a kernel is compiled for them.
FEW = 300
#: The last step (ln f, 0.1 cent) may not be longer: each is a third of the one before, or less.
_LONGEST_STEP = 6e-5
#: Nor may both together leave the place the derivatives foretold by more (ln f, a semitone).
_FURTHEST = 0.06


class Nominal(NamedTuple):
    """The instrument as designed, from which builds depart."""

    log_f: Array  # [F]
    slope: Array  # [F] d angle / d ln f
    jacobian: Array  # [F, D + P] d ln f / d value


def _settle(
    structure: Structure,
    options: Options,
    steps: int,
    width: int,
    numbers: Numbers,
    fixed: Array,
    masks: Array,
    nominal: Nominal,
    values: Array,
    parameters: Array,
) -> tuple[Array, Array]:
    """Frequencies (Hz) [B, F], and whether to trust them, of B builds, ``width`` side by side."""
    open_holes = masks.T
    middle = jnp.concatenate([jnp.asarray(numbers.values), read_parameters(numbers)])

    def one(build: tuple[Array, Array]) -> tuple[Array, Array]:
        changed = with_parameters(numbers, build[1])._replace(values=build[0])
        prepared, where = prepare(structure, changed, fixed, options)
        single = jax.tree.map(lambda leaf: leaf.astype(jnp.float32), prepared)
        column = Column(structure, options, single, where)
        foretold = nominal.log_f + nominal.jacobian @ (jnp.concatenate(build) - middle)

        def step(log_f: Array, _: None) -> tuple[Array, Array]:
            admittance = input_admittance(column, jnp.exp(log_f).astype(jnp.float32), open_holes)
            move = -jnp.angle(reflection(admittance)).astype(float) / nominal.slope
            return log_f + move, move

        log_f, moves = jax.lax.scan(step, foretold, length=steps)
        sound = jnp.abs(moves[-1]) < _LONGEST_STEP
        sound &= jnp.abs(log_f - foretold) < _FURTHEST
        return jnp.exp(log_f), sound

    found: tuple[Array, Array] = jax.lax.map(one, (values, parameters), batch_size=width)
    return found


_kernel = compiled(_settle, (0, 1, 2, 3))


def frequencies_of_builds(
    request: Request, values: np.ndarray, parameters: np.ndarray
) -> tuple[np.ndarray, int]:
    """Resonances (Hz), [B, F], of builds with dimensions [B, D] and parameters [B, P].

    The second result is how many builds had to be solved by the counting sweep. NaN stands
    where even that finds none.
    """
    solved = kernels.resonances(*request)
    nominal = Nominal(
        jnp.log(solved.frequency), solved.slope, kernels.full_jacobian(*request[:5], solved)
    )

    def settled(rows: np.ndarray, steps: int) -> tuple[np.ndarray, np.ndarray]:
        return _settled(request, nominal, values[rows], parameters[rows], steps)

    found, trusted = settled(np.arange(len(values)), _STEPS)
    astray = np.flatnonzero(~trusted)
    if len(astray) > FEW:
        found[astray], trusted[astray] = settled(astray, _MORE_STEPS)
    lost = np.flatnonzero(~trusted)
    for row in lost:
        found[row] = solved_alone(request, values[row], parameters[row])
    return found, len(lost)


def _settled(
    request: Request, nominal: Nominal, values: np.ndarray, parameters: np.ndarray, steps: int
) -> tuple[np.ndarray, np.ndarray]:
    """Frequencies [B, F], and which builds are to be trusted [B], batch by batch."""
    builds = len(values)
    on_gpu = jax.default_backend() == "gpu"
    batch, width = (_GPU_BATCH, _GPU_WIDTH) if on_gpu else (_BATCH, _WIDTH)
    frequencies, sound = [], []
    for start in range(0, builds, batch):
        # The last batch is filled up, so that one compiled kernel serves all.
        rows = np.arange(start, start + batch) % builds
        one, other = _kernel(
            *request[:2], steps, width, *request[2:5], nominal, values[rows], parameters[rows]
        )
        frequencies.append(np.asarray(one))
        sound.append(np.asarray(other).all(axis=1))
    return np.concatenate(frequencies)[:builds], np.concatenate(sound)[:builds]


def solved_alone(request: Request, values: np.ndarray, parameters: np.ndarray) -> np.ndarray:
    """Frequencies (Hz) of one build by the counting sweep, [F]; NaN where a note is lost."""
    numbers = with_parameters(request.numbers, jnp.asarray(parameters))._replace(values=values)
    solved = kernels.resonances(*request._replace(numbers=numbers))
    lost = [not status.usable for status in statuses(solved)]
    return np.where(lost, np.nan, np.asarray(solved.frequency))
