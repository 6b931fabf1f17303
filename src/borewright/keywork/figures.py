"""The figures of every key, gathered once for papers, orders, set-up cards and the page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from borewright.keywork.body import Body
from borewright.keywork.forces import pressed_at, touch_forces
from borewright.keywork.hinges import end_play_mm
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pads import lost_motion_mm, pad_motion, ring_travel_mm, touch_travel_mm
from borewright.model.keys import Cup, Hinge, Ring, Touch
from borewright.model.results.key_figures import KeyFigures
from borewright.words import Message, say

#: Half of what end play may vary by: 0.02 to 0.05 (common practice).
PLAY_MM = 0.015
#: Gap that bending a key takes up, lift off what is stated, pad off its size (mm; from memory).
GAP_MM, LIFT_MM, PAD_MM = 0.05, 0.2, 0.1
#: A cup stays over its hole within this (mm), whatever its lift allows (from memory).
CUP_MM = 0.3


@dataclass(frozen=True)
class KeyTolerance:
    """One measure of a key, its nominal value and what it may be off either way (mm)."""

    key: str
    measure: Message
    nominal_mm: float
    tolerance_mm: float


def key_tolerances(
    figures: Sequence[KeyFigures], diameters_mm: Mapping[str, float]
) -> list[KeyTolerance]:
    """What decides seating and pitch, each with the tolerance that it bears.

    A hinge e too high leaves a gap e d/m at a hole d wide, so it may be off by m/d of the gap
    that bending takes up; an arm that is e longer lifts lift e/m more; a tube takes its
    tolerance from the end play.
    """
    found = []
    for one in figures:
        found.append(KeyTolerance(one.key, say("tube length"), one.length_mm, PLAY_MM))
        if one.hole is None or not one.m_mm or one.h_mm is None or not one.lift_mm:
            continue
        arm = min(LIFT_MM * one.m_mm / one.lift_mm, CUP_MM)
        height = GAP_MM * one.m_mm / diameters_mm[one.hole]
        found += [
            KeyTolerance(one.key, say("hinge to pad's middle"), one.m_mm, arm),
            KeyTolerance(
                one.key,
                say("hinge over pad's face") if one.h_mm >= 0 else say("hinge below pad's face"),
                abs(one.h_mm),
                height,
            ),
            KeyTolerance(one.key, say("pad's diameter"), one.pad_mm or 0.0, PAD_MM),
            KeyTolerance(one.key, say("lift"), one.lift_mm, LIFT_MM),
        ]
    return found


def key_figures(mechanism: Mechanism, body: Body) -> list[KeyFigures]:
    """One row a key, in the order of the survey."""
    forces = {force.key: force for force in touch_forces(mechanism)}
    found = []
    for hinge in mechanism.keys.of(Hinge):
        tubes = [tube for tube in mechanism.keys.of(Hinge) if tube.hinge == hinge.hinge]
        ends = mechanism.points[hinge.name]
        known: dict[str, Any] = _pad(mechanism, body, hinge.key) | _touch(
            mechanism, body, hinge.key
        )
        if known.get("lift_mm") and "travel_mm" in known:
            known["ratio"] = known["travel_mm"] / known["lift_mm"]
        if hinge.key in forces:
            force = forces[hinge.key]
            known |= {
                "rest_g": force.rest_g,
                "end_g": force.end_g,
                "friction_g": force.friction_g,
                "tip_n": force.tip_force_n,
            }
        found.append(
            KeyFigures(
                key=hinge.key,
                part=hinge.part,
                rest=hinge.rest,
                hinge=hinge.hinge,
                play_mm=end_play_mm(mechanism, tubes, mechanism.keys.posts_of(hinge.hinge)),
                tube_mm=hinge.tube_mm,
                length_mm=float(np.linalg.norm(ends[1] - ends[0])),
                **known,
            )
        )
    return found


def _pad(mechanism: Mechanism, body: Body, key: str) -> dict[str, Any]:
    for cup in mechanism.keys.of(Cup):
        if cup.key == key and cup.hole in body.rims:
            motion = pad_motion(mechanism, body, cup)
            return {
                "hole": cup.hole,
                "pad_mm": cup.pad_mm,
                "lift_mm": motion.lift_mm,
                "near_mm": motion.near_mm,
                "far_mm": motion.far_mm,
                "effective_mm": motion.effective_mm,
                "slid_mm": motion.slid_mm,
                "m_mm": motion.m_mm,
                "h_mm": motion.h_mm,
            }
    return {}


def _touch(mechanism: Mechanism, body: Body, key: str) -> dict[str, Any]:
    place = pressed_at(mechanism, key)
    if isinstance(place, Ring):
        return {"travel_mm": ring_travel_mm(mechanism, place)}
    if not isinstance(place, Touch):
        return {}
    turning = mechanism.turning[key]
    middle = turning.moved(mechanism.points[place.name].mean(axis=0), turning.rest_deg)
    over = float(np.hypot(middle[1], middle[2]) - body.outside_mm(middle[0]))
    return {
        "travel_mm": touch_travel_mm(mechanism, place),
        "lost_mm": lost_motion_mm(mechanism, place),
        "height_mm": over,
    }
