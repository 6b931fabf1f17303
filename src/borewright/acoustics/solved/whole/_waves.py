"""Helmholtz's equation in the air of a resonator, as matrices that any frequency shares.

With k = w/c the finite element matrix is

    A(k) = K - k² M + (j k + 1/R) B + S / (2 (j k + 1/R)),

stiffness, mass, mass on the outer sphere of radius R and stiffness along that sphere. The last
two are the absorbing condition of second order (Bayliss and Turkel, Commun. Pure Appl. Math.
33 (1980) 707, from memory; tested on outgoing waves), exact for monopoles and dipoles about
the sphere's centre at any radius. A unit flow enters at the top; its pressure there is
Z = j w rho b' A⁻¹ b.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np


@dataclass(frozen=True)
class AirMesh:
    """A mesh whose boundaries "top" and "far" are named (mm).

    ``is_round``: a half plane of (distance along the axis, distance from it), turned about
    the axis. ``share``: how many such pieces of air make up the whole.
    """

    mesh: Any
    far_radius_mm: float
    is_round: bool
    share: int = 1


def outgoing(k: Any, radius_mm: float) -> tuple[Any, Any]:
    """What pressure and its slope along a sphere are multiplied by, to make -dp/dr there.

    A wave of order l, whose slope along the sphere integrates to l (l + 1) / R² of its own
    square, has -dp/dr = (first + second l (l + 1) / R²) p, exactly for l = 0 and 1.
    """
    first = 1j * k + 1.0 / radius_mm
    return first, 0.5 / first


class Waves:
    """Assembled matrices of one mesh; lengths in mm, so k is in 1/mm."""

    def __init__(self, air: AirMesh, order: int) -> None:
        import ngsolve as ng

        self._air = air
        self._order = order
        self.space = ng.H1(air.mesh, order=order)
        self.unknowns = int(self.space.ndof)
        trial, test = self.space.TnT()
        weight = self._weight()
        far = ng.ds("far")
        # Vectors are real here; complex ones are their two halves.
        self._forms = [
            ng.BilinearForm(form, symmetric=True).Assemble().mat
            for form in (
                weight * ng.grad(trial) * ng.grad(test) * ng.dx,
                weight * trial * test * ng.dx,
                weight * trial * test * far,
                weight * ng.grad(trial).Trace() * ng.grad(test).Trace() * far,
            )
        ]
        area = ng.Integrate(weight, air.mesh, definedon=air.mesh.Boundaries("top"))
        load = ng.LinearForm(weight / area * test * ng.ds("top")).Assemble().vec
        self.load = np.array(load.FV().NumPy())
        self.top_area_mm2 = float(area)
        self.volume_mm3 = float(ng.Integrate(weight, air.mesh, order=10))

    def _weight(self) -> Any:
        import ngsolve as ng

        ring = 2 * np.pi * ng.y if self._air.is_round else ng.CoefficientFunction(1.0)
        return self._air.share * ring

    def coefficients(self, k: complex | np.ndarray) -> list[Any]:
        """What K, M, B and S are multiplied by at a wavenumber (1/mm)."""
        return [1.0 + 0 * k, -(k**2), *outgoing(k, self._air.far_radius_mm)]

    def moments(self, k: float, count: int) -> np.ndarray:
        """Pressure and its first derivatives in k (over factorials), [count, unknowns].

        One factorisation; every moment costs a substitution.
        """
        inverse = self._inverse(k)
        found: list[np.ndarray] = []
        start = 1j * k + 1.0 / self._air.far_radius_mm
        for number in range(count):
            right = self.load.astype(complex) if number == 0 else np.zeros(self.unknowns, complex)
            for back in range(1, number + 1):
                earlier = found[number - back]
                right -= 0.5 / start * (-1j / start) ** back * self._times(3, earlier)
                if back == 1:
                    right += 2 * k * self._times(1, earlier) - 1j * self._times(2, earlier)
                elif back == 2:
                    right += self._times(1, earlier)
            found.append(inverse(right))
        return np.array(found)

    def reduced(self, basis: np.ndarray) -> tuple[list[np.ndarray], np.ndarray]:
        """The four matrices and the load, seen by a real basis [n, unknowns]."""
        matrices = []
        for number in range(len(self._forms)):
            images = np.array([self._times(number, vector) for vector in basis])
            matrices.append(basis @ images.T)
        return matrices, basis @ self.load

    def _times(self, number: int, vector: np.ndarray) -> np.ndarray:
        if np.iscomplexobj(vector):
            real, imaginary = vector.real, vector.imag
            return self._times(number, real) + 1j * self._times(number, imaginary)
        matrix = self._forms[number]
        given, image = matrix.CreateRowVector(), matrix.CreateColVector()
        given.FV().NumPy()[:] = vector
        image.data = matrix * given
        return np.array(image.FV().NumPy())

    def _inverse(self, k: float) -> Any:
        import ngsolve as ng

        space = ng.H1(self._air.mesh, order=self._order, complex=True)
        trial, test = space.TnT()
        weight = self._weight()
        _, mass, outgoing, along = self.coefficients(k)
        form = weight * (ng.grad(trial) * ng.grad(test) + mass * trial * test) * ng.dx
        form += weight * outgoing * trial * test * ng.ds("far")
        form += weight * along * ng.grad(trial).Trace() * ng.grad(test).Trace() * ng.ds("far")
        matrix = ng.BilinearForm(form, symmetric=True, condense=True).Assemble()
        factors = matrix.mat.Inverse(space.FreeDofs(coupling=True), inverse="sparsecholesky")
        right, left, boundary = (matrix.mat.CreateColVector() for _ in range(3))

        def solve(vector: np.ndarray) -> np.ndarray:
            right.FV().NumPy()[:] = vector
            boundary.data = right + matrix.harmonic_extension_trans * right
            left.data = factors * boundary
            left.data += matrix.harmonic_extension * left
            left.data += matrix.inner_solve * right
            return np.array(left.FV().NumPy())

        return solve
