"""A chain of transmission-line matrices in plain NumPy: the independent reference.

Written from the literature (formulas and sources in the functions), without the engine's
geometry, Bessel approximations or order of evaluation: whole stretches of cylinder instead
of slices, 2 x 2 matrices instead of running states. Arrays run over frequency.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq
from scipy.special import jve


class Hole(NamedTuple):
    """A cylindrical tone hole in a round body (m)."""

    station: float
    radius: float
    chimney: float
    is_open: bool


class Tube(NamedTuple):
    """A cylinder with holes (m) and its air."""

    length: float
    radius: float
    outside: float
    holes: list[Hole]
    air: object  # speed_of_sound, density, viscosity, gamma, root_prandtl
    chimney_wall: float = 1.2e-3


def lossy_line(radius: float, hz: np.ndarray, air: object) -> tuple[np.ndarray, np.ndarray]:
    """Propagation constant and characteristic impedance (Zwikker and Kosten 1949)."""
    w = 2 * np.pi * np.asarray(hz)
    rho, c = float(air.density), float(air.speed_of_sound)
    section = np.pi * radius**2

    def average(x: np.ndarray) -> np.ndarray:
        z = x * np.sqrt(-1j)
        return 2 * jve(1, z) / (z * jve(0, z))

    viscous = radius * np.sqrt(w * rho / float(air.viscosity))
    series = 1j * w * rho / section / (1 - average(viscous))
    heat = (float(air.gamma) - 1) * average(viscous * float(air.root_prandtl))
    shunt = 1j * w * section / (rho * c**2) * (1 + heat)
    return np.sqrt(series * shunt), np.sqrt(series / shunt)


def matrix(a: object, b: object, c: object, d: object, like: np.ndarray) -> np.ndarray:
    """2 x 2 matrices, shape [K, 2, 2]."""
    entries = [np.broadcast_to(np.asarray(entry, dtype=complex), like.shape) for entry in (a, b)]
    entries += [np.broadcast_to(np.asarray(entry, dtype=complex), like.shape) for entry in (c, d)]
    return np.stack(entries, axis=-1).reshape(*like.shape, 2, 2)


def cylinder(length: float, radius: float, hz: np.ndarray, air: object) -> np.ndarray:
    """Transfer matrix of a stretch of cylinder."""
    propagation, impedance = lossy_line(radius, hz, air)
    cosh, sinh = np.cosh(propagation * length), np.sinh(propagation * length)
    return matrix(cosh, impedance * sinh, sinh / impedance, cosh, hz)


def hole_impedances(tube: Tube, hole: Hole, hz: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Whole series impedance and shunt impedance of a hole.

    Series: Dubos and others, Acta Acustica 85 (1999) 153. Inner and matching length:
    Nederveen, Jansen and van Hassel, Acta Acustica 84 (1998) 957. Outside: Dalmont, Nederveen
    and Joly, J. Sound Vib. 244 (2001) 505, flush in a round body and thick-walled chimney,
    joined by 1 - exp(-height / b).
    """
    a, b = tube.radius, hole.radius
    d, w = b / a, 2 * np.pi * hz
    air = tube.air
    rho, c = float(air.density), float(air.speed_of_sound)
    section = np.pi * b**2
    t = tube.outside - a + hole.chimney
    bracket = 1.78 * np.tanh(1.84 * t / b) if hole.is_open else 1.78 / np.tanh(1.84 * t / b)
    ta = -b * d**2 / (bracket + 0.940 + 0.540 * d + 0.285 * d**2)
    ti = b * (0.82 - 0.193 * d - 1.09 * d**2 + 1.27 * d**3 - 0.71 * d**4)
    tm = b * d / 8 * (1 + 0.207 * d**3)
    propagation, impedance = lossy_line(b, hz, air)
    tangent = np.tanh(propagation * (t + tm))
    if hole.is_open:
        flush = 0.8217 - 0.47 * (b / tube.outside) ** 0.8
        ratio = b / (b + tube.chimney_wall)
        tall = 0.8217 + ratio * (0.6133 - 0.8217) + 0.057 * ratio * (1 - ratio**5)
        share = 1 - np.exp(-max(hole.chimney, 0.0) / b)
        outside = flush + share * (tall - flush)
        flanged = min(max((outside - 0.6133) / (0.8217 - 0.6133), 0.0), 1.0)
        kb = w / c * b
        # A long body's field beyond long waves (our own fit, as in elements/hole_outside.py).
        rising = 0.72 * (w / c) ** 2 * tube.outside / (1 + (w / c * tube.outside) ** 2 / 2)
        outside = outside + b / 4 * rising
        load = rho * c / section * (kb**2 * (1 + flanged) / 4 + 1j * kb * outside)
        tube_impedance = impedance * (load + impedance * tangent) / (impedance + load * tangent)
    else:
        tube_impedance = impedance / tangent
    inner = 1j * w * rho * ti / section
    return 1j * w * rho * ta / (np.pi * a**2), tube_impedance + inner


def open_end(tube: Tube, hz: np.ndarray) -> np.ndarray:
    """Radiation impedance of the bottom end (Norris and Sheng 1989; lengths: Dalmont 2001)."""
    a, air = tube.radius, tube.air
    rho, c = float(air.density), float(air.speed_of_sound)
    ka = 2 * np.pi * hz / c * a
    ratio = a / tube.outside
    low = 0.8217 + ratio * (0.6133 - 0.8217) + 0.057 * ratio * (1 - ratio**5)
    share = (low - 0.6133) / (0.8217 - 0.6133)
    bare = (1 + 0.2 * ka - 0.084 * ka**2) / (1 + 0.2 * ka + (0.5 - 0.084) * ka**2)
    walled = (1 + 0.323 * ka - 0.077 * ka**2) / (1 + 0.323 * ka + (1 - 0.077) * ka**2)
    modulus = (1 - share) * bare + share * walled
    unflanged = (1 + 0.044 * ka**2) / (1 + 0.19 * ka**2) - 0.02 * np.sin(2 * ka) ** 2
    length = (1 - share) * 0.6133 * unflanged
    length = length + share * 0.8217 / (1 + (0.77 * ka) ** 2 / (1 + 0.77 * ka))
    reflected = -modulus * np.exp(-2j * ka * length)
    return rho * c / (np.pi * a**2) * (1 + reflected) / (1 - reflected)


def input_impedance(tube: Tube, hz: np.ndarray) -> np.ndarray:
    """Impedance (Pa s/m³) at the top of a cylinder with holes and a radiating end."""
    hz = np.atleast_1d(np.asarray(hz, dtype=float))
    chain = matrix(1, 0, 0, 1, hz)
    above = 0.0
    for hole in sorted(tube.holes):
        series, shunt = hole_impedances(tube, hole, hz)
        half = matrix(1, series / 2, 0, 1, hz)
        chain = chain @ cylinder(hole.station - above, tube.radius, hz, tube.air)
        chain = chain @ half @ matrix(1, 0, 1 / shunt, 1, hz) @ half
        above = hole.station
    chain = chain @ cylinder(tube.length - above, tube.radius, hz, tube.air)
    load = open_end(tube, hz)
    return (chain[:, 0, 0] * load + chain[:, 0, 1]) / (chain[:, 1, 0] * load + chain[:, 1, 1])


def resonances(tube: Tube, count: int, highest_hz: float) -> np.ndarray:
    """First impedance maxima with a vanishing imaginary part (Hz), from a 1 Hz scan."""
    scan = np.arange(20.0, highest_hz, 1.0)
    imaginary = input_impedance(tube, scan).imag
    falling = np.flatnonzero((imaginary[:-1] > 0) & (imaginary[1:] <= 0))[:count]

    def excess(hz: float) -> float:
        return float(input_impedance(tube, np.array([hz]))[0].imag)

    return np.array([brentq(excess, scan[i], scan[i + 1], xtol=1e-10) for i in falling])
