"""How each pad opens and lands, and how each touch and ring goes, taken from the keys in space."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.keywork.body import Body, Rim
from borewright.keywork.frame import outward_at
from borewright.keywork.mechanism import Mechanism
from borewright.model.keys import Cup, Link, Ring, Touch

_ROUND = 72


@dataclass(frozen=True)
class PadMotion:
    """One pad (mm, degrees).

    ``lift_mm`` at the pad's centre, ``near_mm`` and ``far_mm`` at its edges nearest to and
    furthest from the hinge; ``effective_mm`` is the mean gap round the hole's edge, which lets
    as much air pass as an even gap of that height: the lift, and what the pad's tilt adds where it
    has slid aside by ``slid_mm``. ``slide_per_lift`` is at landing, ``tilt_deg``
    the pad's plane against the seat's when shut, ``aside_mm`` and ``high_mm`` how far the pad's
    centre stands off the hole's axis and over the rim. ``m_mm`` and ``h_mm`` are arm and hinge
    height in the pad's own plane.
    """

    cup: str
    hole: str
    lift_mm: float
    near_mm: float
    far_mm: float
    effective_mm: float
    slid_mm: float
    slide_per_lift: float
    tilt_deg: float
    aside_mm: float
    high_mm: float
    m_mm: float
    h_mm: float


def pad_motion(
    mechanism: Mechanism, body: Body, cup: Cup, degrees: float | None = None
) -> PadMotion:
    """How one pad moves; ``degrees`` from shut, fully open unless given."""
    key, rim = mechanism.turning[cup.key], body.rims[cup.hole]
    turn = key.open_deg if degrees is None else degrees
    face, top = mechanism.points[cup.name]
    across = np.cross(key.axis, rim.out)
    across /= np.linalg.norm(across)
    if across @ (face - key.origin) < 0:
        across = -across
    points = np.array([face, face - across * cup.pad_mm / 2, face + across * cup.pad_mm / 2])
    moves = key.moved(points, turn) - points
    lifts = moves @ rim.out
    velocity = np.cross(key.axis, face - key.origin)
    along = velocity @ rim.out
    slide = float(np.linalg.norm(velocity - along * rim.out) / max(abs(along), 1e-9))
    up = (top - face) / np.linalg.norm(top - face)
    tilt = float(np.degrees(np.arccos(np.clip(up @ rim.out, -1.0, 1.0))))
    off = face - rim.centre
    high = float(off @ rim.out)
    return PadMotion(
        cup=cup.name,
        hole=cup.hole,
        lift_mm=float(lifts[0]),
        near_mm=float(lifts[1]),
        far_mm=float(lifts[2]),
        effective_mm=effective_lift_mm(mechanism, rim, cup, turn),
        slid_mm=float(np.linalg.norm(moves[0] - lifts[0] * rim.out)),
        slide_per_lift=slide,
        tilt_deg=tilt,
        aside_mm=float(np.linalg.norm(off - high * rim.out)),
        high_mm=high,
        m_mm=float(across @ (face - key.origin)),
        h_mm=float((key.origin - face) @ rim.out),
    )


def effective_lift_mm(mechanism: Mechanism, rim: Rim, cup: Cup, degrees: float) -> float:
    """Mean gap (mm) round the hole's edge under a pad at an angle from shut.

    Sectors of the gap stand side by side in the air's way, so their openings add; where the
    pad touches, a sector counts nothing.
    """
    key = mechanism.turning[cup.key]
    side = np.cross(rim.out, [1.0, 0.0, 0.0])
    turn = np.linspace(0.0, 2 * np.pi, _ROUND, endpoint=False)[:, None]
    radius = rim.hole.diameter_mm / 2
    edge = rim.centre + radius * (np.cos(turn) * side + np.sin(turn) * np.cross(rim.out, side))
    face, top = mechanism.points[cup.name]
    normal = (top - face) / np.linalg.norm(top - face)
    moved = key.moved(np.array([face, face + normal]), degrees)
    plane = moved[1] - moved[0]
    # Height of the pad's plane over each point of the edge, along the hole's axis.
    heights = ((moved[0] - edge) @ plane) / max(float(rim.out @ plane), 1e-6)
    return float(np.clip(heights, 0.0, None).mean())


def touch_travel_mm(mechanism: Mechanism, touch: Touch) -> float:
    """Way of a touch's middle, square to the body, for its key's whole swing."""
    key = mechanism.turning[touch.key]
    middle = mechanism.points[touch.name].mean(axis=0)
    moved = key.moved(middle, key.open_deg)
    return float(abs((moved - middle) @ outward_at(middle)))


def ring_travel_mm(mechanism: Mechanism, ring: Ring) -> float:
    """Way of a ring's middle along its axis for the whole swing."""
    key = mechanism.turning[ring.key]
    face, out = mechanism.points[ring.name]
    axis = (out - face) / np.linalg.norm(out - face)
    return float(abs((key.moved(face, key.open_deg) - face) @ axis))


def ring_over_rim_mm(mechanism: Mechanism, body: Body, ring: Ring) -> tuple[float, float]:
    """How far a ring's top stands over its rim when down, and its centre off the hole's axis."""
    rim = body.rims[ring.hole]
    off = mechanism.points[ring.name][0] - rim.centre
    high = float(off @ rim.out)
    return high, float(np.linalg.norm(off - high * rim.out))


def touch_ratio(mechanism: Mechanism, body: Body, touch: Touch) -> float | None:
    """Touch travel over pad lift of the same key; None for a lever without a pad."""
    for cup in mechanism.keys.of(Cup):
        if cup.key == touch.key:
            lift = pad_motion(mechanism, body, cup).lift_mm
            return touch_travel_mm(mechanism, touch) / lift
    return None


def lost_motion_mm(mechanism: Mechanism, touch: Touch) -> float:
    """What a touch goes before everything that it drives has begun to move.

    The gaps along the longest chain of links add up, each divided by the ratio between it and
    the touch.
    """
    travel = touch_travel_mm(mechanism, touch)
    return max(_lost(mechanism, touch.key, travel, set()), default=0.0)


def _lost(mechanism: Mechanism, key: str, touch_way: float, seen: set[str]) -> list[float]:
    lost = []
    for link in mechanism.keys.of(Link):
        if link.key != key or link.name in seen:
            continue
        drive = mechanism.drives[link.name]
        ratio = abs(drive.driver_way_mm) / touch_way if touch_way else 0.0
        own = drive.gap_mm / ratio if ratio else float("inf")
        further = _lost(mechanism, link.to, abs(drive.driven_way_mm) / ratio, seen | {link.name})
        lost.append(own + max(further, default=0.0))
    return lost
