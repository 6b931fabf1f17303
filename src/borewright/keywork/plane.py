"""One key in its own plane, square to the hinge: lift, slide, tilt and how it lands.

``m`` is the distance from hinge to pad centre measured in the pad's plane, ``h`` the hinge's
height above that plane, ``s`` an offset along the arm (all mm); θ the angle turned (degrees).
Plane geometry; every formula follows from turning a point about the hinge.
"""

from __future__ import annotations

import math


def lift_mm(m: float, h: float, degrees: float, s: float = 0.0) -> float:
    """How far a point of the pad has left the seat: (m + s) sin θ + h (1 − cos θ)."""
    turn = math.radians(degrees)
    return (m + s) * math.sin(turn) + h * (1 - math.cos(turn))


def angle_for_lift_deg(lift: float, m: float, h: float = 0.0) -> float:
    """Angle (degrees) at which the pad's centre has lifted so far.

    m sin θ − h cos θ = lift − h; ValueError where no angle reaches it.
    """
    reach = math.hypot(m, h)
    if abs(lift - h) > reach:
        raise ValueError(f"no angle lifts a pad {lift:g} mm at m {m:g}, h {h:g}")
    return math.degrees(math.asin((lift - h) / reach) + math.atan2(h, m))


def landing(hinge_height_mm: float, turn_deg: float, seat_height_mm: float) -> tuple[float, float]:
    """``(m, h)`` of a rod along the body, ``turn_deg`` round from the pad.

    h = R cos Δ − s, m = R sin Δ, heights from the bore's axis.
    """
    turn = math.radians(turn_deg)
    return (
        hinge_height_mm * math.sin(turn),
        hinge_height_mm * math.cos(turn) - seat_height_mm,
    )


def square_landing(hinge_height_mm: float, seat_height_mm: float) -> tuple[float, float]:
    """Arm m (mm) and angle Δ (degrees) at which the last movement is straight down: h = 0."""
    if hinge_height_mm <= seat_height_mm:
        raise ValueError("the hinge lies no higher than the seat")
    return (
        math.sqrt(hinge_height_mm**2 - seat_height_mm**2),
        math.degrees(math.acos(seat_height_mm / hinge_height_mm)),
    )


def across_slide_per_lift(turn_deg: float) -> float:
    """Slide per lift at landing of a pad ``turn_deg`` round from the middle of a hinge across."""
    return math.tan(math.radians(turn_deg))


def touch_travel_mm(arm_mm: float, degrees: float) -> float:
    """Way of a touch ``arm_mm`` from its hinge, square to the arm: arm sin θ."""
    return arm_mm * math.sin(math.radians(degrees))
