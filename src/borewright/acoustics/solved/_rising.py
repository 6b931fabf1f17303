"""How an open hole's shunt length grows with frequency, by Helmholtz's equation.

The potential solution is that of long waves. Air near the hole is also compressed: in the
tube, beside it in the bore, under a pad and in the recess of its seat; and over a wide mouth
the bore's pressure is curved. All of that goes with k² and is read off at one frequency, with
equal pressures at both ends of the bore.
"""

from __future__ import annotations

import math
from typing import Any

from borewright.acoustics.solved.bore_section import BoreSection
from borewright.acoustics.solved.shape import HoleShape

#: Wavenumber (1/mm) that it is read at: 1650 Hz in warm air. Half or half as much again moves
#: what a closed form leaves over by a tenth.
RISE_AT = 0.03
#: Order of elements: a hundredth of the rise is enough, and the error of the mesh cancels.
RISE_ORDER = 2


def rise_mm3(
    mesh: Any,
    shape: HoleShape,
    section: BoreSection,
    far_radius_mm: float,
    displaced_mm3: float,
    zero: str = "",
) -> float:
    """Growth of the shunt length with k² (mm³), of a hole in a cylindrical bore.

    Parameters
    ----------
    mesh
        A quarter of the air, outside included, with the face names of :mod:`._air`.
    shape, section
        The hole and its piece of bore.
    far_radius_mm
        Radius of the outer boundary, where waves leave as from a point:
        dp/dr = -(j k + 1/r) p. Infinite: there is no outside.
    displaced_mm3
        Bore air that a lining takes away, which is no part of the shunt.
    zero
        Face whose pressure is zero: the rim plane, where there is no outside.
    """

    def shunt(k: float) -> float:
        return _shunt_mm(mesh, shape, section, far_radius_mm, displaced_mm3, k, zero)

    return (shunt(RISE_AT) - shunt(0.0)) / RISE_AT**2


def _shunt_mm(
    mesh: Any,
    shape: HoleShape,
    section: BoreSection,
    far_radius_mm: float,
    displaced_mm3: float,
    k: float,
    zero: str,
) -> float:
    """Shunt length (mm) and, in it, a quarter of the series length as seen from the hole.

    The latter does not depend on frequency and drops out of a difference.
    """
    area = math.pi * shape.bore_radius_mm**2
    # A quarter of the air carries half the flow of an end.
    slope = 2 * _energy(mesh, far_radius_mm, k, zero) / area
    length = section.lower_mm
    if k == 0.0:
        pressure, inward = 1.0 - slope * length, slope
    else:
        pressure = math.cos(k * length) - slope / k * math.sin(k * length)
        inward = k * math.sin(k * length) + slope * math.cos(k * length)
    # Flow over pressure at the junction, times j w rho (mm), less what is missing of the bore.
    conductance = 2 * area * inward / pressure - k**2 * displaced_mm3
    return float((math.pi * shape.radius_mm**2 / conductance).real)


def _energy(mesh: Any, far_radius_mm: float, k: float, zero: str) -> complex:
    """Flow into the quarter at its bore's end for unit pressure there (mm)."""
    import ngsolve as ng

    space = ng.H1(mesh, order=RISE_ORDER, complex=True)
    trial, test = space.TnT()
    form = (ng.grad(trial) * ng.grad(test) - k**2 * trial * test) * ng.dx
    if math.isfinite(far_radius_mm):
        form += (1j * k + 1.0 / far_radius_mm) * trial * test * ng.ds("far")
    matrix = ng.BilinearForm(form, symmetric=True, condense=True).Assemble()
    lower = mesh.Boundaries("lower")
    fixed = mesh.Boundaries(f"lower|{zero}" if zero else "lower")
    free = space.FreeDofs(coupling=True) & ~space.GetDofs(fixed)
    pressure = ng.GridFunction(space)
    pressure.Set(1.0, definedon=lower)
    residual = pressure.vec.CreateVector()
    residual.data = -1.0 * (matrix.mat * pressure.vec)
    pressure.vec.data += matrix.mat.Inverse(free, inverse="sparsecholesky") * residual
    flow = pressure.vec.CreateVector()
    flow.data = matrix.mat * pressure.vec
    return complex(ng.InnerProduct(flow, pressure.vec, conjugate=False))
