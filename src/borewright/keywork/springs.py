"""Needle and flat springs: cantilevers, loaded at the free end.

F = 3 E I d / L³; I = π D⁴/64 (round) or b h³/12 (flat); greatest stress σ = 3 E D d / (2 L²),
h in place of D for a flat one: the cantilever of any handbook of mechanics (Euler–Bernoulli,
small deflection). Moduli and working stresses are from memory, to be measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from borewright.model.keys import Spring, SpringMaterial, SpringShape

#: Force (N) of one gram's weight: standard gravity, ISO 80000-3.
NEWTON_PER_GRAM = 9.80665e-3

#: Young's modulus in MPa (from memory).
MODULUS_MPA = {
    SpringMaterial.BLUED_STEEL: 205e3,
    SpringMaterial.STAINLESS: 190e3,
    SpringMaterial.PHOSPHOR_BRONZE: 110e3,
    SpringMaterial.BERYLLIUM_COPPER: 130e3,
}
#: Stress (MPa) that a spring stands at its full travel, press after press (from memory).
WORKING_STRESS_MPA = {
    (SpringMaterial.BLUED_STEEL, SpringShape.NEEDLE): 1500.0,
    (SpringMaterial.BLUED_STEEL, SpringShape.FLAT): 1200.0,
    (SpringMaterial.STAINLESS, SpringShape.NEEDLE): 1200.0,
    (SpringMaterial.STAINLESS, SpringShape.FLAT): 1000.0,
    (SpringMaterial.PHOSPHOR_BRONZE, SpringShape.NEEDLE): 450.0,
    (SpringMaterial.PHOSPHOR_BRONZE, SpringShape.FLAT): 450.0,
    (SpringMaterial.BERYLLIUM_COPPER, SpringShape.NEEDLE): 700.0,
    (SpringMaterial.BERYLLIUM_COPPER, SpringShape.FLAT): 700.0,
}


def second_moment_mm4(thickness_mm: float, width_mm: float | None = None) -> float:
    """Second moment of area (mm⁴) of a round wire, or of a flat leaf where it has a width."""
    if width_mm is None:
        return math.pi * thickness_mm**4 / 64
    return width_mm * thickness_mm**3 / 12


@dataclass(frozen=True)
class Cantilever:
    """A straight spring: modulus (MPa), thickness and width (None if round), free length (mm)."""

    modulus_mpa: float
    thickness_mm: float
    free_length_mm: float
    width_mm: float | None = None

    @classmethod
    def of(cls, spring: Spring) -> Cantilever:
        """The spring of a survey."""
        return cls(
            MODULUS_MPA[spring.material],
            spring.thickness_mm,
            spring.free_length_mm,
            spring.width_mm,
        )

    @property
    def rate_n_mm(self) -> float:
        """Force at the tip per bending there (N/mm)."""
        inertia = second_moment_mm4(self.thickness_mm, self.width_mm)
        return 3 * self.modulus_mpa * inertia / self.free_length_mm**3

    def force_n(self, deflection_mm: float) -> float:
        """Force (N) at the tip, bent so far."""
        return self.rate_n_mm * deflection_mm

    def stress_mpa(self, deflection_mm: float) -> float:
        """Greatest stress (MPa), at the surface where it is held."""
        return (
            3 * self.modulus_mpa * self.thickness_mm * deflection_mm / (2 * self.free_length_mm**2)
        )

    def deflection_for_mm(self, force_n: float) -> float:
        """How far (mm) the tip is bent for a force."""
        return force_n / self.rate_n_mm


def touch_force_g(tip_force_n: float, spring_arm_mm: float, touch_arm_mm: float) -> float:
    """Weight (grams) that the finger feels: the tip's force, by the lever."""
    return tip_force_n * spring_arm_mm / touch_arm_mm / NEWTON_PER_GRAM


def tip_force_for_n(touch_force_grams: float, spring_arm_mm: float, touch_arm_mm: float) -> float:
    """Force (N) at the tip that makes a touch weigh so much."""
    return touch_force_grams * NEWTON_PER_GRAM * touch_arm_mm / spring_arm_mm


@dataclass(frozen=True)
class WantedSpring:
    """A spring set for a wanted touch.

    Bending at rest (mm), share of the working stress at the end of the swing, and the force
    pressed over the force at rest.
    """

    deflection_mm: float
    stress_share: float
    rise: float


def spring_for(
    spring: Spring, touch_grams: float, spring_arm_mm: float, touch_arm_mm: float, swing_deg: float
) -> WantedSpring:
    """How a spring must be bent to give a touch the wanted weight at rest, and what that costs.

    Further bending as the key moves is θ times the spring's arm.
    """
    leaf = Cantilever.of(spring)
    bent = leaf.deflection_for_mm(tip_force_for_n(touch_grams, spring_arm_mm, touch_arm_mm))
    more = abs(math.radians(swing_deg)) * spring_arm_mm
    allowed = WORKING_STRESS_MPA[spring.material, spring.shape]
    return WantedSpring(
        deflection_mm=bent,
        stress_share=leaf.stress_mpa(bent + more) / allowed,
        rise=1 + more / bent,
    )
