"""Where a hinge stands on a body, from numbers measured on the key alone."""

from __future__ import annotations

import math


def hinge_beside_pad(m_mm: float, h_mm: float, seat_mm: float) -> tuple[float, float]:
    """Height R (mm) of a rod along the body and its bearing Δ (degrees) from the hole's.

    R = √((s + h)² + m²), Δ = atan2(m, s + h), with the seat's height s from the bore's axis.
    """
    return math.hypot(seat_mm + h_mm, m_mm), math.degrees(math.atan2(m_mm, seat_mm + h_mm))


def across_head(offset_mm: float, height_mm: float) -> tuple[float, float]:
    """Bearing (degrees, from the hinge's middle) and height (mm) of a post head of a hinge across.

    ``offset_mm`` is its distance from the middle along the hinge, which lies ``height_mm`` from
    the axis.
    """
    return math.degrees(math.atan2(offset_mm, height_mm)), math.hypot(offset_mm, height_mm)


def rod_clearance_mm(height_mm: float, tube_mm: float, outside_mm: float) -> float:
    """Air between a tube (diameter) at a height and the body's outside radius below it."""
    return height_mm - tube_mm / 2 - outside_mm


def heads_apart_mm(tube_mm: float, end_play_mm: float, head_mm: float) -> float:
    """Distance of the middles of two post heads that hold a tube with its end play."""
    return tube_mm + end_play_mm + head_mm
