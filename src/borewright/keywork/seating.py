"""How a pad meets its seat: gaps from small errors, and what leaks through them.

The leak through a narrow slit is plane Poiseuille flow; a wedge from 0 to G round a ring
leaks as the mean of g³, which is 5/16 of G³. It never exceeds what an orifice lets through.
"""

from __future__ import annotations

import math

#: Dynamic viscosity (Pa·s) and density (kg/m³) of air at 20 °C (handbook values).
AIR_VISCOSITY_PA_S = 1.82e-5
AIR_DENSITY_KG_M3 = 1.204
#: Contraction of a sharp-edged orifice (handbook value).
ORIFICE_COEFFICIENT = 0.6


def gap_from_height_mm(error_mm: float, hole_mm: float, lever_mm: float) -> float:
    """Gap (mm) at the far edge of a hole: g = e d / lever.

    ``lever_mm`` is the arm m where the whole hinge or the pad's thickness is wrong by ``error_mm``,
    or the hinge's span where one post's head is.
    """
    return error_mm * hole_mm / lever_mm


def slit_leak_ml_s(
    perimeter_mm: float, land_mm: float, gap_mm: float, pressure_pa: float = 1000.0
) -> float:
    """Leak (ml/s) through an even gap: Q = P g³ Δp / (12 μ w), capped by an orifice's."""
    poiseuille = _poiseuille_ml_s(perimeter_mm, land_mm, gap_mm, pressure_pa)
    return min(poiseuille, _orifice_ml_s(perimeter_mm, gap_mm, pressure_pa))


def wedge_leak_ml_s(
    perimeter_mm: float, land_mm: float, widest_mm: float, pressure_pa: float = 1000.0
) -> float:
    """Leak (ml/s) through a gap from 0 to ``widest_mm`` across a ring: 5/16 of the even slit's.

    Mean of ((1 − cos φ)/2)³ over a turn is 5/16; the mean gap, for the orifice, half.
    """
    poiseuille = 5 / 16 * _poiseuille_ml_s(perimeter_mm, land_mm, widest_mm, pressure_pa)
    return min(poiseuille, _orifice_ml_s(perimeter_mm, widest_mm / 2, pressure_pa))


def _poiseuille_ml_s(
    perimeter_mm: float, land_mm: float, gap_mm: float, pressure_pa: float
) -> float:
    metres = perimeter_mm * gap_mm**3 / land_mm * 1e-9
    return metres * pressure_pa / (12 * AIR_VISCOSITY_PA_S) * 1e6


def _orifice_ml_s(perimeter_mm: float, mean_gap_mm: float, pressure_pa: float) -> float:
    area_m2 = perimeter_mm * mean_gap_mm * 1e-6
    speed = math.sqrt(2 * pressure_pa / AIR_DENSITY_KG_M3)
    return ORIFICE_COEFFICIENT * area_m2 * speed * 1e6
