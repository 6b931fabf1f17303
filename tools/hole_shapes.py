"""Shapes that a holes' surrogate is built from and checked against, family by family.

See ``tools/hole_samples.py``, which solves them. Sizes are drawn as shares of bore or body.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.acoustics.solved.shape_checks import check_shape
from borewright.errors import BorewrightError

#: Body radius (mm) of the outside's families; everything counts as a share of something.
BODY_MM = 14.8
BORE_MM = 7.4

#: How many shapes of a family, and its seed.
COUNTS = {
    "inner": (3072, 11),
    "cone": (256, 12),
    "lined": (1024, 13),
    "finger": (768, 14),
    "drilled": (48, 15),
    "raised": (512, 16),
    "raised_pad": (2560, 17),
    "sunk": (768, 18),
    "sunk_pad": (4096, 19),
    "fresh": (312, 20261128),
    "held": (420, 20261130),
    "unseen": (420, 20261201),
}


def _between(low: float, high: float, share: float) -> float:
    return low + (high - low) * share


def _log_between(low: float, high: float, share: float) -> float:
    return float(low * (high / low) ** share)


def _edge(share: float, room: float = 0.06) -> float:
    """A share whose ends are met often: fits are worst at edges."""
    return min(max((share - room) / (1 - 2 * room), 0.0), 1.0)


def inner_shape(u: np.ndarray) -> HoleShape | None:
    """Plain (one in four) or undercut hole in a cylinder."""
    d = _between(0.06, 0.92, u[0])
    b = d * BORE_MM
    t = b * _log_between(0.7, 9.0, u[1])
    wide, deep = _edge(u[2], 0.12), _edge(u[3])
    mouth = 1.0 + 0.6 * wide
    if d * mouth > 0.93:
        return None
    plain = HoleShape(BORE_MM, b, t)
    if wide == 0:
        return plain
    depth = b * _log_between(0.15, 2.2, deep)
    if depth > t - 0.5 * b:
        return None
    return replace(plain, undercut_radius_mm=b * mouth, undercut_depth_mm=depth)


def cone_shape(u: np.ndarray) -> HoleShape | None:
    """Plain hole in a conical bore."""
    b = _between(0.15, 0.8, u[0]) * BORE_MM
    t = b * _log_between(0.8, 4.0, u[1])
    return HoleShape(BORE_MM, b, t, bore_slope=_between(0.04, 0.2, u[2]))


def lined_shape(u: np.ndarray) -> HoleShape | None:
    """A vent's tube that stands into the bore."""
    b = _between(0.08, 0.4, u[0]) * BORE_MM
    into = _between(0.05, 0.8, u[1]) * BORE_MM
    wall = _between(0.06, 0.28, u[2]) * BORE_MM
    t = b * _log_between(1.5, 12.0, u[3])
    if (b + wall) / BORE_MM > 0.62:
        return None
    return HoleShape(BORE_MM, b, t, into_bore_mm=into, lining_radius_mm=b + wall)


def finger_shape(u: np.ndarray) -> HoleShape | None:
    """Closed by a finger, drilled into a round body or with a flat rim."""
    b = _between(0.15, 0.85, u[0]) * BORE_MM
    t = b * _log_between(0.7, 5.0, u[1])
    flesh = b * _log_between(0.05, 0.4, u[2])
    round_body = u[3] < 0.7
    curve = _between(0.02, 0.5, u[3] / 0.7)
    shape = HoleShape(BORE_MM, b, t, cover=HoleCover.FINGER, flesh_mm=flesh)
    if not round_body:
        return replace(shape, chimney_mm=0.1 * b, chimney_wall_mm=b, body_radius_mm=100 * b)
    # Eccentric bodies are solved too: the curvature is free of bore and height.
    body = b / curve
    if body <= BORE_MM + 0.2 or abs(shape.crown_mm - body) + BORE_MM >= 0.98 * body:
        return None
    return replace(shape, body_radius_mm=body)


def drilled_shape(u: np.ndarray) -> HoleShape | None:
    """Straight through a round body."""
    return _on_body(_between(0.03, 0.5, u[0]))


def raised_shape(u: np.ndarray) -> HoleShape | None:
    """Chimney without a pad."""
    shape = _on_body(_between(0.04, 0.46, u[0]))
    b = shape.radius_mm
    wall = _between(0.02, 0.16, u[2]) * BODY_MM
    if not 0.1 <= wall / b <= 1.5:
        return None
    return _raised(shape, _edge(u[1]) * 2.2 * b, wall)


def raised_pad_shape(u: np.ndarray) -> HoleShape | None:
    """Flat rim or chimney under a pad."""
    shape = _on_body(_between(0.05, 0.46, u[0]))
    b = shape.radius_mm
    wall = _between(0.02, 0.12, u[2]) * BODY_MM
    if not 0.1 <= wall / b <= 1.2:
        return None
    shape = _raised(shape, _edge(u[1]) * 0.22 * BODY_MM, wall)
    padded = _padded(shape, u[3:6])
    if padded is None or shape.chimney_mm > 2.2 * b or padded.pad_radius_mm < b + wall:
        return None
    return padded


def sunk_shape(u: np.ndarray) -> HoleShape | None:
    """A finger's hole in a sunk seat."""
    shape = _on_body(_between(0.06, 0.42, u[0]))
    b = shape.radius_mm
    deep = _log_between(0.005, 0.19, u[1]) * BODY_MM
    wall = _between(0.02, 0.12, u[2]) * BODY_MM
    counterbore = b + wall + _between(0.01, 0.14, u[3]) * BODY_MM
    if deep > 1.3 * b or wall / b > 1.3 or counterbore > 0.75 * BODY_MM:
        return None
    return _sunk(shape, deep, wall, counterbore, 0.0)


def sunk_pad_shape(u: np.ndarray) -> HoleShape | None:
    """A pad in its counterbore."""
    shape = _on_body(_between(0.08, 0.44, u[0]))
    b = shape.radius_mm
    deep = _log_between(0.005, 0.19, u[1]) * BODY_MM
    land = _between(0.02, 0.09, u[2]) * BODY_MM
    padded = _padded(shape, u[3:6])
    if padded is None or deep > 1.3 * b:
        return None
    # Pads that stay down in their counterbore, or do not cover their land, are left out.
    if padded.lift_mm < max(0.2 * b, deep) or padded.pad_radius_mm < b + land or land < 0.07 * b:
        return None
    gap = _between(0.02, 0.065, u[6]) * BODY_MM
    relief = _edge(u[7], 0.1) * 0.055 * BODY_MM
    counterbore = padded.pad_radius_mm + gap
    if counterbore < b + land + 0.01 * BODY_MM or counterbore > 0.75 * BODY_MM:
        return None
    return _sunk(padded, deep, land, counterbore, relief)


def fresh_shape(u: np.ndarray) -> HoleShape | None:
    """A whole hole as an instrument's maker would have it, in mm."""
    a, body = _between(6.0, 8.5, u[0]), _between(11.5, 17.0, u[1])
    b = a * _between(0.2, 0.72, u[2])
    kind = int(u[3] * 5)
    wall, chimney, land, relief, counterbore = _between(0.8, 1.6, u[4]), 0.0, 0.0, 0.0, 0.0
    pad = b + _between(1.2, 3.2, u[5])
    lift = 2 * b * _between(0.15, 0.6, u[6])
    if kind == 1:
        chimney, land = _between(0.0, 2.5, u[7]), wall
    if kind in (2, 3):
        chimney, land = -_between(0.1, 2.2, u[7]), _between(0.4, 1.0, u[4])
        relief, counterbore = _between(0.0, 0.7, u[8]), pad + _between(0.35, 0.8, u[9])
    if kind == 4:
        chimney, land = _between(0.0, 2.5, u[7]), wall
        b, pad = a * _between(0.14, 0.27, u[2]), _between(3.5, 5.5, u[5])
        lift = _between(1.0, 2.4, u[6])
    shape = HoleShape(
        a,
        b,
        body - a + chimney,
        body_radius_mm=body,
        chimney_mm=chimney,
        chimney_wall_mm=land,
        counterbore_radius_mm=counterbore,
        seat_relief_mm=relief,
        cover=HoleCover.FINGER if kind < 2 else HoleCover.PAD,
        pad_radius_mm=pad if kind > 1 else 0.0,
        lift_mm=lift if kind > 1 else 0.0,
    )
    if kind == 4 and u[10] < 0.7:
        return replace(shape, into_bore_mm=_between(0.8, 5.0, u[11]), lining_radius_mm=b + wall)
    if kind != 4 and u[10] < 0.4:
        depth = _between(1.0, 3.0, u[11])
        mouth = b + _between(0.2, 1.4, u[12])
        if depth < shape.height_mm - 0.6 * b and mouth < 0.88 * a:
            return replace(shape, undercut_radius_mm=mouth, undercut_depth_mm=depth)
    if u[10] > 0.85:
        return replace(shape, bore_slope=_between(-0.06, 0.1, u[11]))
    return shape


def _on_body(share: float) -> HoleShape:
    """A drilled hole in the body; the bore below it is never seen."""
    b = share * BODY_MM
    return HoleShape(0.5 * BODY_MM, b, 0.5 * BODY_MM, body_radius_mm=BODY_MM)


def _raised(shape: HoleShape, chimney: float, wall: float) -> HoleShape:
    height = shape.height_mm + chimney
    return replace(shape, height_mm=height, chimney_mm=chimney, chimney_wall_mm=wall)


def _sunk(
    shape: HoleShape, deep: float, land: float, counterbore: float, relief: float
) -> HoleShape:
    return replace(
        shape,
        height_mm=shape.height_mm - deep,
        chimney_mm=-deep,
        chimney_wall_mm=land,
        counterbore_radius_mm=counterbore,
        seat_relief_mm=relief,
    )


def _padded(shape: HoleShape, u: np.ndarray) -> HoleShape | None:
    b = shape.radius_mm
    pad = _between(0.13, 0.66, u[0]) * BODY_MM
    if not 1.12 <= pad / b <= 3.4:
        return None
    return replace(
        shape,
        cover=HoleCover.PAD,
        pad_radius_mm=pad,
        lift_mm=b * _log_between(0.16, 1.7, u[1]),
        pad_thickness_mm=_between(0.1, 0.2, u[2]) * BODY_MM,
    )


#: Whole holes again. "held" showed two terms that were missing, and the share of one of them was
#: read off from it; "unseen" was drawn and solved after that, and served for nothing else.
held_shape = unseen_shape = fresh_shape

SHAPES = {name: globals()[f"{name}_shape"] for name in COUNTS}


def shapes_of(family: str) -> list[tuple[int, HoleShape]]:
    """Number and shape of everything that a family draws."""
    from scipy.stats import qmc

    count, seed = COUNTS[family]
    cube = qmc.Sobol(13, seed=seed).random_base2(math.ceil(math.log2(8 * count)))
    found = []
    for number, u in enumerate(cube):
        shape = SHAPES[family](u)
        if shape is None:
            continue
        try:
            for state in ("open", "closed"):
                check_shape(shape, state)
        except BorewrightError:
            continue
        found.append((number, shape))
        if len(found) == count:
            break
    return found
