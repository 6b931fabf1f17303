"""Which holes the surrogate covers: shapes like those that it was fitted to."""

from __future__ import annotations

from typing import NamedTuple

from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.acoustics.surrogate.lengths import INSIDES, OUTSIDES

#: Undercut or wide holes in bores steeper than this have not been looked at.
_STEEPEST_UNDERCUT = 0.06


class HoleParts(NamedTuple):
    """Numbers of a hole's parts in INSIDES and OUTSIDES, and whether a finger closes it."""

    inside: int
    outside: int
    finger: bool


def parts_of(shape: HoleShape) -> HoleParts | None:
    """The parts of a hole, or None where the surrogate does not cover its shape."""
    inside, outside = _inside(shape), _outside(shape)
    if inside is None or outside is None:
        return None
    finger = shape.cover == HoleCover.FINGER
    if finger and not 0.0 <= shape.flesh_mm <= 0.45 * shape.radius_mm:
        return None
    return HoleParts(INSIDES.index(inside), OUTSIDES.index(outside), finger)


def _inside(shape: HoleShape) -> str | None:
    a, b = shape.bore_radius_mm, shape.radius_mm
    d, tube = b / a, shape.height_mm + shape.into_bore_mm
    if shape.into_bore_mm > 0:
        wall = (shape.lining_radius_mm - b) / a
        covered = (
            0.08 <= d <= 0.4
            and 0.05 <= shape.into_bore_mm / a <= 0.8
            and 0.06 <= wall <= 0.28
            and 1.5 <= shape.height_mm / b <= 12.0
            and shape.lining_radius_mm <= 0.62 * a
            and shape.mouth_radius_mm == b
            and not shape.is_conical
        )
        return "lined" if covered else None
    wide, depth = shape.mouth_radius_mm / b, shape.undercut_depth_mm
    covered = 0.06 <= d <= 0.92 and 0.7 <= tube / b <= 9.0
    if wide > 1:
        covered = (
            covered
            and wide <= 1.6
            and d * wide <= 0.93
            and 0.15 <= depth / b <= 2.2
            and depth <= tube - 0.5 * b
            and shape.undercut_straight_mm == 0
        )
    if shape.is_conical:
        steepest = _STEEPEST_UNDERCUT if wide > 1 else 0.2
        covered = covered and abs(shape.bore_slope) <= steepest and 0.15 <= d <= 0.8
    return "inner" if covered else None


def _outside(shape: HoleShape) -> str | None:
    b, body, wall = shape.radius_mm, shape.body_radius_mm, shape.chimney_wall_mm
    if body is None or abs(shape.crown_mm - body) > 1e-6:
        return None
    share, height, deep = b / body, shape.chimney_mm, -shape.chimney_mm
    padded = shape.cover == HoleCover.PAD
    if shape.is_drilled:
        return "drilled" if not padded and 0.03 <= share <= 0.5 else None
    if height >= 0 and not padded:
        covered = 0.04 <= share <= 0.46 and height <= 2.2 * b
        return "raised" if covered and 0.1 <= wall / b <= 1.5 else None
    floor = shape.counterbore_radius_mm - b - wall
    if not padded:
        covered = (
            0.06 <= share <= 0.42
            and deep <= min(0.19 * body, 1.3 * b)
            and 0.02 * body <= wall <= min(0.12 * body, 1.3 * b)
            and 0.01 <= floor / body <= 0.14
            and shape.counterbore_radius_mm <= 0.75 * body
            and shape.seat_relief_mm == 0
        )
        return "sunk" if covered else None
    pad, lift = shape.pad_radius_mm, shape.lift_mm
    covered = (
        0.13 <= pad / body <= 0.66
        and 1.12 <= pad / b <= 3.4
        and 0.16 <= lift / b <= 1.7
        and 0.08 <= shape.pad_thickness_mm / body <= 0.22
        and pad >= b + wall
    )
    if height >= 0:
        covered = covered and 0.05 <= share <= 0.46 and height <= min(2.2 * b, 0.22 * body)
        covered = covered and 0.1 <= wall / b <= 1.2 and 0.02 <= wall / body <= 0.12
        return "raised_pad" if covered else None
    covered = (
        covered
        and 0.08 <= share <= 0.44
        and deep <= min(0.19 * body, 1.3 * b)
        and lift >= max(0.2 * b, deep)
        and 0.02 <= wall / body <= 0.12
        and wall >= 0.07 * b
        and 0.02 <= (shape.counterbore_radius_mm - pad) / body <= 0.065
        and shape.seat_relief_mm <= 0.055 * body
        and floor >= 0.01 * body
        and shape.counterbore_radius_mm <= 0.75 * body
    )
    return "sunk_pad" if covered else None
