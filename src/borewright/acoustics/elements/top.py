"""What closes the top: mouthpiece chamber and reed, as admittances (m³/(Pa s))."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from jax import Array

from borewright.acoustics.complex_numbers import reciprocal
from borewright.model.instrument import Reed
from borewright.words import say

_MM3 = 1e-9  # in m³


class ReedNumbers(NamedTuple):
    """The figures of a reed that the network asks for; another reed model has others."""

    equivalent_volume_mm3: Array | np.ndarray | float  # of equal compliance
    resonance_hz: Array | np.ndarray | float
    damping: Array | np.ndarray | float


#: Names and units of :class:`ReedNumbers`, in its order.
REED_WORDS = (
    (say("reed equivalent volume"), "mm³"),
    (say("reed resonance"), "Hz"),
    (say("reed damping"), ""),
)


def reed_numbers(reed: Reed | None) -> ReedNumbers:
    """Figures of an instrument's reed; without one, of a wall that does not yield."""
    if reed is None:
        return ReedNumbers(0.0, 1e4, 1.0)
    return ReedNumbers(reed.equivalent_volume_mm3, reed.resonance_hz, reed.damping)


def cavity(omega: Array, volume: Array | np.ndarray | float, compressibility: Array) -> Array:
    """Admittance of a small cavity (volume m³, compressibility 1/(rho c²) in 1/Pa)."""
    return 1j * omega * volume * compressibility


def reed(
    omega: Array,
    numbers: ReedNumbers,
    compressibility: Array,
) -> Array:
    """Admittance of a damped reed, given as the air volume of equal compliance.

    A mass on a damped spring: j w C / (1 - (w/wr)² + j damping w/wr) with C the compliance.
    Nederveen, "Acoustical Aspects of Woodwind Instruments" (1969), chapter 2 (from memory).
    """
    ratio = omega / (2.0 * math.pi * numbers.resonance_hz)
    response = reciprocal(1.0 - ratio**2 + 1j * numbers.damping * ratio)
    return cavity(omega, numbers.equivalent_volume_mm3 * _MM3, compressibility) * response
