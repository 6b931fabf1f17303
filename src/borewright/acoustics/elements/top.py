"""What closes the top: mouthpiece chamber and reed, as admittances (m³/(Pa s))."""

from __future__ import annotations

import math

from jax import Array

from borewright.acoustics.complex_numbers import reciprocal


def cavity(omega: Array, volume: Array | float, compressibility: Array) -> Array:
    """Admittance of a small cavity (volume m³, compressibility 1/(rho c²) in 1/Pa)."""
    return 1j * omega * volume * compressibility


def reed(
    omega: Array,
    equivalent_volume: Array | float,
    resonance_hz: Array | float,
    damping: Array | float,
    compressibility: Array,
) -> Array:
    """Admittance of a damped reed, given as the air volume of equal compliance (m³).

    A mass on a damped spring: j w C / (1 - (w/wr)² + j damping w/wr) with C the compliance.
    Nederveen, "Acoustical Aspects of Woodwind Instruments" (1969), chapter 2 (from memory).
    """
    ratio = omega / (2.0 * math.pi * resonance_hz)
    response = reciprocal(1.0 - ratio**2 + 1j * damping * ratio)
    return cavity(omega, equivalent_volume, compressibility) * response
