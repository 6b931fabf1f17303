"""Warmth and water: how the play between posts changes while the rod between them does not.

Coefficients of thermal expansion are from memory; measure the print's own.
"""

from __future__ import annotations

from dataclasses import dataclass

#: Linear expansion per kelvin (from memory): printed PLA, nickel silver of tubes and rods.
BODY_PER_K = 68e-6
ROD_PER_K = 17e-6


def play_change_mm(
    length_mm: float,
    kelvin: float,
    *,
    body_per_k: float = BODY_PER_K,
    rod_per_k: float = ROD_PER_K,
    swelling: float = 0.0,
) -> float:
    """Change (mm) of the play between two posts ``length_mm`` apart.

    (α_body − α_rod) L ΔT, and the body's swelling by water as a share of its length. A body
    that grows more than its rods rattles when warm and binds when cold.
    """
    return (body_per_k - rod_per_k) * length_mm * kelvin + swelling * length_mm


def cooling_that_binds_k(
    play_mm: float,
    length_mm: float,
    *,
    body_per_k: float = BODY_PER_K,
    rod_per_k: float = ROD_PER_K,
) -> float:
    """Cooling (K) after which the play is gone; infinite where the body grows no more than it."""
    shrinking = (body_per_k - rod_per_k) * length_mm
    return play_mm / shrinking if shrinking > 0 else float("inf")


@dataclass(frozen=True)
class PlayRange:
    """A hinge's play (mm) at the coldest and warmest temperature of use."""

    hinge: str
    length_mm: float
    cold_mm: float
    warm_mm: float
