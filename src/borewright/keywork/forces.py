"""What a finger feels at each touch: spring, lever, what the key drives, and friction."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.keywork.frame import outward_at
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.springs import (
    NEWTON_PER_GRAM,
    WORKING_STRESS_MPA,
    Cantilever,
    WantedSpring,
    spring_for,
)
from borewright.model.keys import Element, Link, Ring, Spring, SpringShape, Touch

#: Friction of an oiled rod in its tube (from memory).
HINGE_FRICTION = 0.15


@dataclass(frozen=True)
class TouchForce:
    """One key's spring and what the finger feels (N, mm, grams).

    ``rest_g`` is this key's own spring at rest, ``end_g`` at the end of the swing with all that
    it drives, ``friction_g`` the rod's share of either, ``rise`` the spring's force pressed over
    that at rest, ``stress_share`` its greatest stress over what it stands press after press.
    """

    key: str
    spring: str
    tip_force_n: float
    spring_arm_mm: float
    touch_arm_mm: float
    rest_g: float
    end_g: float
    friction_g: float
    rise: float
    stress_share: float


def spring_arm_mm(mechanism: Mechanism, spring: Spring) -> float:
    """Lever (mm) of a spring's free end about its hinge.

    A needle pushes square to its cradle's radius; a flat one straight out from the body.
    """
    key = mechanism.turning[spring.key]
    tip = mechanism.points[spring.name][1]
    off = np.cross(tip - key.origin, key.axis)
    if spring.shape is SpringShape.NEEDLE:
        return float(np.linalg.norm(off))
    return float(abs(np.cross(tip - key.origin, outward_at(tip)) @ key.axis))


def touch_arm_mm(mechanism: Mechanism, element: Element) -> float:
    """Lever (mm) of a touch's or ring's middle about its hinge, for a push towards the axis."""
    key = mechanism.turning[element.key]
    points = mechanism.points[element.name]
    middle = points.mean(axis=0) if isinstance(element, Touch) else points[0]
    return float(abs(np.cross(middle - key.origin, outward_at(middle)) @ key.axis))


def pressed_at(mechanism: Mechanism, key: str) -> Element | None:
    """Where a finger works a key: its touch, or its first ring; None where it has neither."""
    own = mechanism.keys.of_key(key)
    places: list[Element] = [e for e in own if isinstance(e, Touch)]
    places += [e for e in own if isinstance(e, Ring)]
    return places[0] if places else None


def touch_forces(mechanism: Mechanism) -> list[TouchForce]:
    """The force at every touch that has a spring."""
    found = []
    for spring in mechanism.keys.of(Spring):
        place = pressed_at(mechanism, spring.key)
        if place is None:
            continue
        key = mechanism.turning[spring.key]
        leaf = Cantilever.of(spring)
        arm, reach = spring_arm_mm(mechanism, spring), touch_arm_mm(mechanism, place)
        more = abs(np.radians(key.open_deg)) * arm
        rest_n = leaf.force_n(spring.deflection_mm)
        end_n = leaf.force_n(spring.deflection_mm + more)
        driven = sum(_driven_n(mechanism, link, reach) for link in _links_of(mechanism, spring.key))
        hold_n = end_n * arm / reach + driven
        friction = HINGE_FRICTION * (end_n + hold_n) * key.hinge.rod_mm / 2 / reach
        allowed = WORKING_STRESS_MPA[spring.material, spring.shape]
        found.append(
            TouchForce(
                key=spring.key,
                spring=spring.name,
                tip_force_n=rest_n,
                spring_arm_mm=arm,
                touch_arm_mm=reach,
                rest_g=rest_n * arm / reach / NEWTON_PER_GRAM,
                end_g=hold_n / NEWTON_PER_GRAM,
                friction_g=friction / NEWTON_PER_GRAM,
                rise=(spring.deflection_mm + more) / max(spring.deflection_mm, 1e-6),
                stress_share=leaf.stress_mpa(spring.deflection_mm + more) / allowed,
            )
        )
    return found


def _links_of(mechanism: Mechanism, key: str) -> list[Link]:
    return [link for link in mechanism.keys.of(Link) if link.key == key]


def _driven_n(mechanism: Mechanism, link: Link, touch_arm: float) -> float:
    """Force (N) at the driver's touch from the key that it drives, at the end of its way.

    By virtual work: torque of the driven spring times how far it turns per turn of the driver.
    """
    drive = mechanism.drives[link.name]
    driver, driven = drive.driver, drive.driven
    nearly = driver.rest_deg + 0.95 * (driver.pressed_deg - driver.rest_deg)
    turned = drive.driven_deg(driver.pressed_deg) - drive.driven_deg(nearly)
    ratio = abs(turned / (driver.pressed_deg - nearly))
    torque = 0.0
    for spring in mechanism.keys.of(Spring):
        if spring.key == link.to:
            arm = spring_arm_mm(mechanism, spring)
            gone = abs(np.radians(drive.driven_deg(driver.pressed_deg) - driven.rest_deg)) * arm
            torque += Cantilever.of(spring).force_n(spring.deflection_mm + gone) * arm
    further = sum(_driven_n(mechanism, each, 1.0) for each in _links_of(mechanism, link.to))
    return ratio * (torque + further) / touch_arm


def wanted_spring(mechanism: Mechanism, spring: Spring, grams: float) -> WantedSpring | None:
    """How a spring must be bent for its touch to weigh so much; None for a key without touch."""
    place = pressed_at(mechanism, spring.key)
    if place is None:
        return None
    return spring_for(
        spring,
        grams,
        spring_arm_mm(mechanism, spring),
        touch_arm_mm(mechanism, place),
        mechanism.turning[spring.key].open_deg,
    )
