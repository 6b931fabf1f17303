"""Where blowing turns into sound: the linear threshold of each resonance.

A small oscillation exp(j w t) about the steady flow lives exactly at the threshold when

    Y(w) + j w delay D(w) = embouchure (sqrt(g) D(w) - (1 - g) / (2 sqrt(g))),

Y the bore's admittance, D = 1 / (1 - (w/wr)² + j damping w/wr) the reed, g the mouth pressure
over the closing pressure; the left side is what tuning calls the input admittance. (From the
flow of a static reed, as in Dalmont, Gilbert, Kergomard and Ollivier, J. Acoust. Soc. Am. 118
(2005) 3294, with Wilson and Beavers, ibid. 56 (1974) 653, for the moving reed; both from
memory.) For a given frequency the real part is a quadratic in sqrt(g) with one positive root;
the imaginary part is then left as one equation for the frequency. With a fast reed and no
losses it gives g = 1/3 at the resonance itself.

The steady pressure that the mean flow leaves at the reed is neglected: it is below 0.1 % of the
closing pressure.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.blowing.reed import ReedModel
from borewright.acoustics.blowing.response import Response
from borewright.acoustics.compilation import compiled
from borewright.acoustics.network import Column, input_admittance
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import prepare
from borewright.acoustics.request import Request
from borewright.acoustics.structure import Numbers, Structure

#: Onset may lie so far (cents) from the resonance; the reed's damping flattens it.
_REACH_CENTS = 150.0
_STEPS = 60
#: Where nothing is looked for, this frequency keeps the arithmetic finite.
_ANYWHERE_HZ = 100.0


class Onset(NamedTuple):
    """Thresholds of R resonances of F fingerings, [F, R]; NaN where there is none."""

    resonance_hz: np.ndarray  # where the imaginary part of the input admittance vanishes
    pressure: np.ndarray  # over the closing pressure
    hz: np.ndarray


def _admittances(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    frequencies: Array,
    masks: Array,
) -> Array:
    """Normalised input admittance with the reed, [Q], each row its own frequency and holes."""
    column = Column(structure, options, *prepare(structure, numbers, fixed, options))
    return input_admittance(column, frequencies, masks.T)


_compiled_admittances = compiled(_admittances)


def thresholds(
    request: Request, answers: Response, reed: ReedModel, embouchure: float, count: int
) -> Onset:
    """Thresholds of the first ``count`` resonances of every fingering.

    Brackets come from the common grid of ``answers``; the roots are then settled on the
    network itself.
    """
    frequencies = answers.frequencies
    omega = 2 * np.pi * frequencies
    own = request.numbers.reed
    player = ReedModel(float(own.resonance_hz), float(own.damping))
    with_reed = 1 / answers.impedance + 1j * omega * answers.reed_delay * player.answer(frequencies)
    fingerings = len(with_reed)
    brackets = np.full((2, 2, fingerings, count), np.nan)  # resonance or onset, low or high
    for row in range(fingerings):
        crossings = _numbered(frequencies, with_reed[row], _turns(request, row), count)
        at = _excess(frequencies, with_reed[row], reed, embouchure)[0]
        for number, index in enumerate(crossings):
            if index < 0:
                continue
            brackets[0, :, row, number] = frequencies[index : index + 2]
            near = _nearest_rise(frequencies, at, index)
            if near >= 0:
                brackets[1, :, row, number] = frequencies[near : near + 2]
    masks = np.repeat(request.masks, count, axis=0)

    def on_network(hz: np.ndarray) -> np.ndarray:
        found = _compiled_admittances(
            request.structure, request.options, request.numbers, request.fixed,
            jnp.asarray(hz.ravel()), masks,
        )  # fmt: skip
        return np.asarray(found).reshape(hz.shape)

    resonance = _root(lambda hz: on_network(hz).imag, *brackets[0])
    hz = _root(lambda hz: _excess(hz, on_network(hz), reed, embouchure)[0], *brackets[1])
    anywhere = np.where(np.isfinite(hz), hz, _ANYWHERE_HZ)
    pressure = _excess(anywhere, on_network(anywhere), reed, embouchure)[1]
    speaks = np.isfinite(hz) & (pressure < 1)
    return Onset(resonance, np.where(speaks, pressure, np.nan), np.where(speaks, hz, np.nan))


def _excess(
    hz: np.ndarray, admittance: np.ndarray, reed: ReedModel, embouchure: float
) -> tuple[np.ndarray, np.ndarray]:
    """What is left of the imaginary part, and the pressure that the real part asks for."""
    answer = reed.answer(hz)
    need = admittance.real / embouchure
    gain = answer.real + 0.5
    # Above the reed's resonance no pressure drives: the root then runs off beyond closing.
    square = np.maximum(need**2 + 2 * gain, 0.0)
    root = np.where(gain > 0, (need + np.sqrt(square)) / np.where(gain > 0, 2 * gain, 1.0), 10.0)
    return admittance.imag - embouchure * root * answer.imag, root**2


def _turns(request: Request, row: int) -> int:
    """Half a turn more where no air can leave anywhere, as in the counting sweep."""
    return int(request.structure.bottom_is_closed and not request.masks[row].any())


def _numbered(frequencies: np.ndarray, admittance: np.ndarray, more: int, count: int) -> list[int]:
    """Grid index below each numbered resonance, -1 where the grid has none.

    Numbered by the reflection's unwrapped angle, as tuning numbers them.
    """
    angle = np.unwrap(np.angle((1 - admittance) / (1 + admittance)))
    found = []
    for number in range(count):
        below = angle <= -2 * math.pi * (number + more)
        passed = np.flatnonzero(below[1:] & ~below[:-1])
        found.append(int(passed[0]) if len(passed) else -1)
    return found


def _nearest_rise(frequencies: np.ndarray, values: np.ndarray, near: int) -> int:
    """Index of the rising zero of ``values`` nearest to a grid index, -1 where none is near."""
    rises = np.flatnonzero((values[:-1] < 0) & (values[1:] >= 0))
    if not len(rises):
        return -1
    away = np.abs(1200 * np.log2(frequencies[rises] / frequencies[near]))
    best = int(np.argmin(away))
    return int(rises[best]) if away[best] < _REACH_CENTS else -1


def _root(
    function: Callable[[np.ndarray], np.ndarray], low: np.ndarray, high: np.ndarray
) -> np.ndarray:
    """Zero of a rising function inside each bracket, by halving; NaN brackets stay NaN."""
    there = np.isfinite(low)
    low, high = (np.where(there, end, _ANYWHERE_HZ) for end in (low, high))
    for _ in range(_STEPS):
        middle = (low + high) / 2
        above = function(middle) > 0
        low, high = np.where(above, low, middle), np.where(above, middle, high)
        if np.max((high - low) / high) < 1e-9:
            break
    return np.where(there, (low + high) / 2, np.nan)
