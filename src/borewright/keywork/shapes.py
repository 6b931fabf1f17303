"""The shape of each element as a set of capsules, in the shut position.

Arms, feet and posts are bars; a tube has a rounded core and two sharp rims; rings are hoops, cups
stacks of hoops with spokes, touches strips side by side. Each lies inside the real metal by
less than 0.05 mm, rounded edges apart.
"""

from __future__ import annotations

import math

import numpy as np

from borewright.keywork.distances import Capsules
from borewright.keywork.frame import outward_at
from borewright.model.keys import Arm, Cup, Element, Hinge, Link, Post, Ring, Spring, Stop, Touch

#: Sides of a hoop, strips of a touch, and thickness (mm) of rings and of a tube's rim.
_SIDES, _STRIPS = 24, 7
RING_THICKNESS_MM = 1.5
_RIM_MM = 0.2
_CUP_WALL_MM = 0.5


def element_shape(element: Element, first: np.ndarray, second: np.ndarray) -> Capsules:
    """The capsules of an element between its two points."""
    if isinstance(element, Arm):
        return _bars([(first, second, element.diameter_mm / 2)])
    if isinstance(element, Post):
        return _bars([(first, second, element.head_mm / 2)])
    if isinstance(element, Hinge):
        return _tube(first, second, element.tube_mm / 2)
    if isinstance(element, Touch):
        return _plate(first, second, element.width_mm, element.thickness_mm)
    if isinstance(element, Ring):
        return _ring(first, second, element)
    if isinstance(element, Cup):
        return _cup(first, second, element)
    if isinstance(element, Spring) and element.width_mm:
        return _plate(first, second, element.width_mm, element.thickness_mm)
    if isinstance(element, Spring):
        return _bars([(first, second, element.thickness_mm / 2)])
    if isinstance(element, Stop | Link):
        return _bars([(first, second, 0.0)])
    raise TypeError(f"no shape for {element.kind}")


def _bars(bars: list[tuple[np.ndarray, np.ndarray, float]]) -> Capsules:
    return Capsules(
        np.array([bar[0] for bar in bars]),
        np.array([bar[1] for bar in bars]),
        np.array([bar[2] for bar in bars]),
    )


def _beside(axis: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Two unit vectors square to an axis and to each other."""
    side = np.cross(axis, [1.0, 0.0, 0.0] if abs(axis[0]) < 0.9 else [0.0, 0.6, 0.8])
    side /= np.linalg.norm(side)
    return side, np.cross(axis, side)


def _hoop(centre: np.ndarray, axis: np.ndarray, radius: float, thick: float) -> Capsules:
    side, other = _beside(axis)
    turn = np.linspace(0.0, 2 * math.pi, _SIDES + 1)[:, None]
    points = centre + radius * (np.cos(turn) * side + np.sin(turn) * other)
    return Capsules(points[:-1], points[1:], np.full(_SIDES, thick))


def _together(parts: list[Capsules]) -> Capsules:
    return Capsules(
        np.concatenate([part.starts for part in parts]),
        np.concatenate([part.ends for part in parts]),
        np.concatenate([part.radii for part in parts]),
    )


def _unit(first: np.ndarray, second: np.ndarray) -> tuple[np.ndarray, float]:
    length = float(np.linalg.norm(second - first))
    return (second - first) / length, length


def _tube(first: np.ndarray, second: np.ndarray, radius: float) -> Capsules:
    axis, length = _unit(first, second)
    inset = min(radius, length / 2)
    core = _bars([(first + axis * inset, second - axis * inset, radius)])
    rims = [
        _hoop(end, axis, radius - _RIM_MM, _RIM_MM)
        for end in (first + _RIM_MM * axis, second - _RIM_MM * axis)
    ]
    return _together([core, *rims])


def _plate(first: np.ndarray, second: np.ndarray, width: float, thick: float) -> Capsules:
    axis, _ = _unit(first, second)
    side = np.cross(axis, outward_at((first + second) / 2))
    half = thick / 2
    steps = np.linspace(-(width / 2 - half), width / 2 - half, _STRIPS)[:, None] * side
    return Capsules(
        first + axis * half + steps, second - axis * half + steps, np.full(_STRIPS, half)
    )


def _ring(first: np.ndarray, second: np.ndarray, ring: Ring) -> Capsules:
    axis, _ = _unit(first, second)
    metal = (ring.outside_mm - ring.inside_mm) / 4
    middle = first - axis * RING_THICKNESS_MM / 2
    return _hoop(middle, axis, (ring.inside_mm + ring.outside_mm) / 4, metal)


def _cup(first: np.ndarray, second: np.ndarray, cup: Cup) -> Capsules:
    axis, height = _unit(first, second)
    radius = cup.outside_mm / 2 - _CUP_WALL_MM
    parts = []
    for level in np.linspace(_CUP_WALL_MM, height - _CUP_WALL_MM, 3):
        hoop = _hoop(first + level * axis, axis, radius, _CUP_WALL_MM)
        half = _SIDES // 2
        spokes = Capsules(
            hoop.starts[:half:2], hoop.starts[half::2], np.full(half // 2, _CUP_WALL_MM)
        )
        parts += [hoop, spokes]
    return _together(parts)
