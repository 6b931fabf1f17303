"""Webster's horn equation, (S p')' + k² S p = 0, by quadratic finite elements. Lossless.

An independent method: no transfer matrices, no reflection angle. A tone hole is a branch: its
tube is meshed like the bore, and only what is short against the wavelength is lumped: the
series length, the inner length, the radiation at the rim.

Weak form, with flow u = -S p' / (j w rho) downwards: stiffness - k² mass = j w rho times the
flow fed into each node. A lumped length is stiffness without mass.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

#: Points and weights of Gauss's rule on (0, 1), exact for degree 7: S times two quadratics
#: has degree 6.
_POINTS, _WEIGHTS = (
    (rule + shift) / 2
    for rule, shift in zip(np.polynomial.legendre.leggauss(4), (1.0, 0.0), strict=True)
)


class Branch(NamedTuple):
    """A tone hole (m); ``outside`` is its outside length correction, unused when closed."""

    station: float
    radius: float
    height: float
    is_open: bool
    series: float
    inner: float
    outside: float
    body: float  # radius of the body's outside
    resistance: float  # radiation resistance over rho c / S is this times (k radius)²


class Mesh:
    """Nodes joined by meshed tubes and lumped lengths, assembled once for all frequencies."""

    def __init__(self, element_m: float) -> None:
        self.element = element_m
        self.nodes = 0
        self._stiff: list[tuple[int, int, float]] = []
        self._mass: list[tuple[int, int, float]] = []

    def node(self) -> int:
        """A new node."""
        self.nodes += 1
        return self.nodes - 1

    def tube(self, top: int, length: float, r_top: float, r_bottom: float) -> int:
        """A meshed cylinder or cone below a node; its bottom node."""
        count = max(1, int(np.ceil(length / self.element - 1e-9)))
        size = length / count
        for element in range(count):
            where = (element + _POINTS) / count
            section = np.pi * (r_top + (r_bottom - r_top) * where) ** 2
            shapes = np.array(
                [
                    (1 - _POINTS) * (1 - 2 * _POINTS),
                    4 * _POINTS * (1 - _POINTS),
                    _POINTS * (2 * _POINTS - 1),
                ]
            )
            slopes = np.array([4 * _POINTS - 3, 4 - 8 * _POINTS, 4 * _POINTS - 1]) / size
            own = [top, self.node(), self.node()]
            weights = _WEIGHTS * section * size
            for i in range(3):
                for j in range(3):
                    self._stiff.append((own[i], own[j], np.sum(weights * slopes[i] * slopes[j])))
                    self._mass.append((own[i], own[j], np.sum(weights * shapes[i] * shapes[j])))
            top = own[2]
        return top

    def lump(self, top: int, length: float, radius: float) -> int:
        """A lumped (perhaps negative) length of tube below a node; its bottom node."""
        bottom = self.node()
        value = np.pi * radius**2 / length
        for i, j, sign in (
            (top, top, 1),
            (bottom, bottom, 1),
            (top, bottom, -1),
            (bottom, top, -1),
        ):
            self._stiff.append((i, j, sign * value))
        return bottom

    def matrices(self) -> tuple[coo_matrix, coo_matrix]:
        """Stiffness and mass."""
        shape = (self.nodes, self.nodes)
        pair = []
        for entries in (self._stiff, self._mass):
            rows, columns, values = zip(*entries, strict=True)
            pair.append(coo_matrix((values, (rows, columns)), shape=shape).tocsc())
        return pair[0], pair[1]


class Horn:
    """A bore of straight pieces with tone holes, driven at its top, open (p = 0) or closed below.

    Parameters
    ----------
    profile
        (station, radius) in m from the top down.
    branches
        Tone holes.
    speed
        Speed of sound, m/s.
    element_m
        Longest element.
    open_bottom
        Zero pressure at the bottom; otherwise no flow.
    """

    def __init__(
        self,
        profile: list[tuple[float, float]],
        branches: list[Branch],
        speed: float,
        element_m: float,
        open_bottom: bool = True,
    ) -> None:
        self.speed, self.radius = speed, profile[0][1]
        mesh = Mesh(element_m)
        self.radiating: list[tuple[int, Branch]] = []
        stations = [station for station, _ in profile]
        radii = [radius for _, radius in profile]
        here, at = mesh.node(), 0.0
        cuts = sorted({*stations[1:], *(branch.station for branch in branches)})
        for cut in cuts:
            r_top, r_bottom = np.interp([at, cut], stations, radii)
            here, at = mesh.tube(here, cut - at, r_top, r_bottom), cut
            for branch in branches:
                if branch.station == cut:
                    middle = mesh.lump(here, branch.series / 2, r_bottom)
                    foot = mesh.lump(middle, branch.inner, branch.radius)
                    rim = mesh.tube(foot, branch.height, branch.radius, branch.radius)
                    if branch.is_open:
                        self.radiating.append((rim, branch))
                    here = mesh.lump(middle, branch.series / 2, r_bottom)
        self.stiffness, self.mass = mesh.matrices()
        self.kept = np.array([n for n in range(mesh.nodes) if not (open_bottom and n == here)])

    def impedance(self, hz: float) -> complex:
        """Input impedance over rho c / S at the top."""
        k = 2 * np.pi * hz / self.speed
        system = (self.stiffness - k**2 * self.mass).astype(complex).tolil()
        for rim, branch in self.radiating:
            kb = k * branch.radius
            # A long body's field beyond long waves, as in elements/hole_outside.py.
            rising = 0.72 * k**2 * branch.body / (1 + (k * branch.body) ** 2 / 2)
            outside = branch.outside + branch.radius**2 / 4 * rising
            load = branch.resistance * kb**2 + 1j * k * outside
            system[rim, rim] += 1j * k * np.pi * branch.radius**2 / load
        reduced = system.tocsc()[self.kept][:, self.kept]
        feed = np.zeros(len(self.kept), dtype=complex)
        feed[0] = 1j * k * np.pi * self.radius**2
        return complex(spsolve(reduced, feed)[0])

    def resonance(self, near_hz: float) -> float:
        """The impedance maximum (no reactance) within 2 % of a frequency."""

        def excess(hz: float) -> float:
            return float((1 / self.impedance(hz)).imag)

        return float(brentq(excess, 0.98 * near_hz, 1.02 * near_hz, xtol=1e-9))
