"""The closed T network against Helmholtz's equation, solved here on the same air.

Everything at once, compression included: div grad p + k² p = 0, p = 1 at both ends. The T
network with its lengths must give the same end admittance to the order k² that it claims.
"""

from __future__ import annotations

import math

import pytest

from borewright.acoustics.solved import HoleShape, MeshDetail, solve_hole
from borewright.acoustics.solved._air import inner_air
from borewright.acoustics.solved._meshing import mesh_of
from borewright.acoustics.solved.bore_section import bore_section

FINE = MeshDetail(order=5, edge_layers=3, wall_size=0.6, edge_size=0.5, growth=0.5)
#: Wave number (1/mm), about 550 Hz.
K = 0.01


def end_flow(shape: HoleShape) -> tuple[float, float]:
    """Flow into one end over its pressure (mm), and the half section's length (mm)."""
    import ngsolve as ng

    section = bore_section(shape, FINE.bore_ends)
    mesh = mesh_of(inner_air(shape, section, finger=False), shape, FINE)
    space = ng.H1(mesh, order=FINE.order, dirichlet="lower")
    trial, test = space.TnT()
    form = (ng.grad(trial) * ng.grad(test) - K**2 * trial * test) * ng.dx
    matrix = ng.BilinearForm(form).Assemble().mat
    pressure = ng.GridFunction(space)
    pressure.Set(1.0, definedon=mesh.Boundaries("lower"))
    residual = pressure.vec.CreateVector()
    residual.data = -matrix * pressure.vec
    pressure.vec.data += matrix.Inverse(space.FreeDofs(), inverse="sparsecholesky") * residual
    residual.data = matrix * pressure.vec
    return 2 * ng.InnerProduct(residual, pressure.vec), section.lower_mm


@pytest.mark.slow
@pytest.mark.parametrize(
    "shape",
    [
        HoleShape(7.5, 4.0, 8.0),
        HoleShape(7.5, 4.0, 8.0, undercut_radius_mm=5.0, undercut_depth_mm=3.0),
        HoleShape(
            7.5, 4.0, 8.0, undercut_radius_mm=5.0, undercut_depth_mm=3.0, undercut_straight_mm=3.0
        ),
        HoleShape(7.3, 1.5, 9.6, into_bore_mm=3.0, lining_radius_mm=2.7),
    ],
    ids=["plain", "undercut", "ledge", "lined"],
)
def test_closed_hole(shape):
    solved = solve_hole(shape, "closed", mesh=FINE)
    area = math.pi * shape.bore_radius_mm**2
    flow, length = end_flow(shape)
    # Along half the bore, from its end back to the junction.
    phase = K * length
    pressure = math.cos(phase) - flow / (area * K) * math.sin(phase)
    inwards = flow * math.cos(phase) + area * K * math.sin(phase)
    # Half the series branch, then the shunt, through which the other side's flow goes too.
    shunt = (pressure / inwards - solved.series_length_mm / (2 * area)) / 2
    # Beside it the bore air that a lining displaces: a negative compliance.
    shunt = 1 / (1 / shunt - K**2 * solved.displaced_mm3)
    inertance = shunt + 1 / (K**2 * solved.volume_mm3)
    # The next order in k makes about 0.13 % at this frequency.
    found = inertance * math.pi * shape.radius_mm**2
    assert found == pytest.approx(solved.shunt_length_mm, rel=4e-3)
