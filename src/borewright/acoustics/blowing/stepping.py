"""Reed and resonators in time: exact modes, an implicit jet, all notes at once.

Everything is over the closing pressure and the reference impedance. With g the mouth pressure,
p the pressure at the reed, y the reed's way from rest (-1: closed) and o = max(1 + y, 0):

    flow        u = embouchure o sign(g - p) sqrt |g - p| - delay dy/dt
    reed        y'' / w² + damping y' / w + y = p - g + contact
    resonator   a' = pole a + residue u for every mode,  p = sum 2 Re a

The flow through the slit is Bernoulli's, quasi-static; its form with a static reed,
u = embouchure (1 + p - g) sqrt(g - p), is that of Dalmont, Gilbert, Kergomard and Ollivier,
J. Acoust. Soc. Am. 118 (2005) 3294 (from memory).

Modes and reed are stepped by their exact exponentials, with flow and force taken as straight
lines between samples. The flow at the end of a step enters the pressure at its end, so that the
jet is solved together with it: a quadratic in sqrt |g - p| with exactly one admissible root.
Nothing is iterated and no step is too long to be stable for a passive resonator.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array, lax

from borewright.acoustics.blowing.modes import Modes
from borewright.acoustics.blowing.reed import ReedModel
from borewright.acoustics.compilation import compiled


class Stepper(NamedTuple):
    """Constants of one step, computed once; N notes with M modes each."""

    turn: Array  # [N, M] complex, exp(pole step)
    before: Array  # [N, M] weight of the flow at the start of the step
    after: Array  # [N, M] of that at its end
    instant: Array  # [N] pressure at the end for a unit flow at the end
    free: Array  # [2, 5] reed: from y, v, force before, force after, 1
    touching: Array  # [2, 5] the same in contact with the lay
    embouchure: Array  # [N]
    delay: Array  # [N] s


class State(NamedTuple):
    """What a step starts from."""

    modes: Array  # [N, M] complex
    place: Array  # [N] reed, in openings
    speed: Array  # [N] 1/s
    flow: Array  # [N]
    pressure: Array  # [N]
    mouth: Array  # [N]


class Motion(NamedTuple):
    """Signals [T, N] of a run, over closing pressure and reference impedance."""

    pressure: np.ndarray
    flow: np.ndarray
    opening: np.ndarray  # of the slit; below 0 the lay is pressed in


def stepper(
    modes: Modes, reed: ReedModel, embouchure: np.ndarray, delay: float, step: float
) -> Stepper:
    """Constants for steps of ``step`` seconds; ``embouchure`` is [N]."""
    z = modes.poles * step
    turn = np.exp(z)
    first = np.expm1(z) / z  # integrals of exp over a step, against 1 and against t
    second = (first - 1) / z
    instant = np.sum(2 * (modes.residues * second).real * step, axis=1)
    return Stepper(
        jnp.asarray(turn),
        jnp.asarray(modes.residues * (first - second) * step),
        jnp.asarray(modes.residues * second * step),
        jnp.asarray(instant),
        jnp.asarray(reed.step_matrix(step, touching=False)),
        jnp.asarray(reed.step_matrix(step, touching=True)),
        jnp.asarray(np.asarray(embouchure, dtype=float)),
        jnp.full(len(instant), float(delay)),
    )


def at_rest(constants: Stepper) -> State:
    """No sound, no breath, the reed open."""
    zero = jnp.zeros_like(constants.instant)
    return State(jnp.zeros_like(constants.turn), zero, zero, zero, zero, zero)


def _advance(
    constants: Stepper, state: State, mouth: Array
) -> tuple[State, tuple[Array, Array, Array]]:
    """Run through mouth pressures [T, N]."""
    c = constants

    def step(state: State, mouth: Array) -> tuple[State, tuple[Array, Array, Array]]:
        rung = c.turn * state.modes + c.before * state.flow[:, None]
        carried = 2 * jnp.sum(rung.real, axis=1)
        reed = jnp.where(state.place[None, None] < -1, c.touching[..., None], c.free[..., None])
        force = state.pressure - state.mouth
        moved = reed[:, 0] * state.place + reed[:, 1] * state.speed + reed[:, 2] * force
        moved = moved + reed[:, 4]
        # The slit follows the pressure that the old flow would give: exact to second order.
        guessed = carried + c.instant * state.flow - mouth
        opening = 1 + moved[0] + reed[0, 3] * guessed
        speed_share = reed[1, 3]
        # w + stiff w + jet sign(w) sqrt |w| = drive, with w = mouth - pressure.
        stiff = 1 + c.instant * c.delay * speed_share
        jet = c.instant * c.embouchure * jnp.maximum(opening, 0.0)
        drive = mouth - carried + c.instant * c.delay * moved[1]
        size = jnp.abs(drive)
        root = 2 * size / (jet + jnp.sqrt(jet**2 + 4 * stiff * size) + 1e-300)
        across = jnp.sign(drive) * root**2
        pressure = mouth - across
        place = moved[0] - reed[0, 3] * across
        speed = moved[1] - speed_share * across
        through = c.embouchure * jnp.maximum(opening, 0.0) * jnp.sign(drive) * root
        flow = through - c.delay * speed
        following = State(rung + c.after * flow[:, None], place, speed, flow, pressure, mouth)
        return following, (pressure, flow, 1 + place)

    return lax.scan(step, state, mouth)


advance = compiled(_advance, static_argnums=())
