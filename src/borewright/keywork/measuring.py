"""What measuring a key asks for: parallax of photographs."""

from __future__ import annotations


def parallax_mm(offset_mm: float, nearer_mm: float, distance_mm: float) -> float:
    """How far a point seems displaced that stands ``nearer_mm`` before the scale's plane.

    ``offset_mm`` is its distance from the middle of the picture, ``distance_mm`` from lens to
    scale: offset × k / (distance − k), by similar triangles.
    """
    return offset_mm * nearer_mm / (distance_mm - nearer_mm)
