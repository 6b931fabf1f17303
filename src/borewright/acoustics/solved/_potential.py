"""Laplace's and Poisson's equation in the air of a hole, by finite elements.

Pressure p with flow -grad p / (j w rho), quasi-static: div grad p = 0, walls impermeable.
Results are conductances: the integral of |grad p|² for unit pressures at the ends (mm), which
is flow over pressure times j w rho.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np


@dataclass(frozen=True)
class Conductances:
    """Of the whole section, both halves counted.

    ``ends`` is the 2x2 matrix from pressures at the upper and lower end to flows into the
    section (mm). Where asked for, the solution q of div grad q = -1 with zero at both ends
    gives ``filling``, its integral (mm⁵), and ``upper_flow``, what leaves by the upper end
    (mm³). ``volume`` is all air (mm³).
    """

    ends: np.ndarray
    filling: float
    upper_flow: float
    volume: float
    unknowns: int


def conductances(
    mesh: Any,
    order: int,
    *,
    sink: bool = False,
    far_radius_mm: float = 0.0,
    filling: bool = False,
) -> Conductances:
    """Solve a half or a quarter of the air.

    Parameters
    ----------
    mesh
        NGSolve mesh with the face names of :mod:`._air`.
    order
        Polynomial order.
    sink
        Zero pressure at the rim plane. Otherwise the outer boundary, if there is one, lets
        the flow out as a sphere in free space does: dp/dr = -p/r there.
    far_radius_mm
        Radius of the outer boundary, 0 without one.
    filling
        Solve Poisson's equation too.
    """
    if "middle" in mesh.GetBoundaries():
        return _quarter(mesh, order, sink, far_radius_mm, filling)
    return _half(mesh, order, sink, far_radius_mm, filling)


def _quarter(
    mesh: Any, order: int, sink: bool, far_radius_mm: float, filling: bool
) -> Conductances:
    system = _System(mesh, order, far_radius_mm)
    zero = ["rim"] if sink else []
    opposite = system.energy(["lower", "middle", *zero], ["lower"])
    # Without a way out nothing flows when both ends have the same pressure.
    has_exit = sink or far_radius_mm > 0
    alike = system.energy(["lower", *zero], ["lower"]) if has_exit else 0.0
    own, across = alike + opposite, alike - opposite
    return Conductances(
        # A quarter carries half the flow of an end.
        ends=np.array([[own, across], [across, own]]),
        filling=4 * system.filling(["lower", *zero]) if filling else 0.0,
        upper_flow=2 * system.volume,
        volume=4 * system.volume,
        unknowns=system.unknowns,
    )


def _half(mesh: Any, order: int, sink: bool, far_radius_mm: float, filling: bool) -> Conductances:
    system = _System(mesh, order, far_radius_mm)
    zero = ["upper", "lower", *(["rim"] if sink else [])]
    upper = system.energy(zero, ["upper"])
    lower = system.energy(zero, ["lower"])
    both = system.energy(zero, ["upper", "lower"]) if sink or far_radius_mm > 0 else 0.0
    across = (both - upper - lower) / 2
    return Conductances(
        ends=2 * np.array([[upper, across], [across, lower]]),
        filling=2 * system.filling(zero) if filling else 0.0,
        upper_flow=2 * system.mean(zero, ["upper"]) if filling else 0.0,
        volume=2 * system.volume,
        unknowns=system.unknowns,
    )


class _System:
    """One assembled matrix, factored once for every set of fixed faces."""

    def __init__(self, mesh: Any, order: int, far_radius_mm: float) -> None:
        import ngsolve as ng

        self.mesh = mesh
        self.space = ng.H1(mesh, order=order)
        trial, test = self.space.TnT()
        form = ng.grad(trial) * ng.grad(test) * ng.dx
        if far_radius_mm > 0:
            form = form + (1.0 / far_radius_mm) * trial * test * ng.ds("far")
        self.matrix = ng.BilinearForm(form, symmetric=True, condense=True).Assemble()
        self.unknowns = int(self.space.ndof)
        self._inverses: dict[tuple[str, ...], Any] = {}

    def _inverse(self, fixed: list[str]) -> Any:
        key = tuple(sorted(fixed))
        if key not in self._inverses:
            fixed_dofs = self.space.GetDofs(self.mesh.Boundaries("|".join(key)))
            free = self.space.FreeDofs(coupling=True) & ~fixed_dofs
            self._inverses[key] = self.matrix.mat.Inverse(free, inverse="sparsecholesky")
        return self._inverses[key]

    def energy(self, fixed: list[str], unit: list[str]) -> float:
        """Energy with pressure 1 on the faces ``unit``, 0 on the other ``fixed`` ones."""
        import ngsolve as ng

        pressure = self._pressure(fixed, unit)
        flow = pressure.vec.CreateVector()
        flow.data = self.matrix.mat * pressure.vec
        return float(ng.InnerProduct(flow, pressure.vec))

    def mean(self, fixed: list[str], unit: list[str]) -> float:
        """The same pressure integrated over the volume.

        By reciprocity that is the flow out of ``unit`` of a uniform source.
        """
        import ngsolve as ng

        pressure = self._pressure(fixed, unit)
        pressure.vec.data += self.matrix.harmonic_extension * pressure.vec
        return float(ng.InnerProduct(self._source, pressure.vec))

    def filling(self, fixed: list[str]) -> float:
        """Integral of q, div grad q = -1 with q = 0 on the faces ``fixed``."""
        import ngsolve as ng

        load = self._source
        q = load.CreateVector()
        boundary = load.CreateVector()
        boundary.data = load + self.matrix.harmonic_extension_trans * load
        q.data = self._inverse(fixed) * boundary
        q.data += self.matrix.harmonic_extension * q
        q.data += self.matrix.inner_solve * load
        return float(ng.InnerProduct(load, q))

    def _pressure(self, fixed: list[str], unit: list[str]) -> Any:
        import ngsolve as ng

        pressure = ng.GridFunction(self.space)
        pressure.Set(1.0, definedon=self.mesh.Boundaries("|".join(unit)))
        residual = pressure.vec.CreateVector()
        residual.data = -1.0 * (self.matrix.mat * pressure.vec)
        pressure.vec.data += self._inverse(fixed) * residual
        return pressure

    @cached_property
    def _source(self) -> Any:
        import ngsolve as ng

        _, test = self.space.TnT()
        return ng.LinearForm(test * ng.dx).Assemble().vec

    @cached_property
    def volume(self) -> float:
        import ngsolve as ng

        return float(ng.Integrate(1.0, self.mesh, order=12))
