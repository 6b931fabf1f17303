"""The frame in which keys move: x down the instrument's axis, y to the player's left, z front.

Millimetres and degrees; x is 0 at the top of the first part. (x, y, z) is right-handed.
"""

from __future__ import annotations

import math

import numpy as np

from borewright.model import Instrument
from borewright.model.keys import KeyPoint


def offsets_mm(instrument: Instrument) -> dict[str, float]:
    """Where each part's top shoulder lies, from the top of the first part."""
    return {part.name: instrument.offset_mm(part.name) for part in instrument.parts}


def placed(point: KeyPoint, offset_mm: float) -> np.ndarray:
    """A surveyed point in the frame, shape (3,)."""
    return np.array([offset_mm + point.station_mm, *point.beside_axis_mm])


def outward(bearing_deg: float) -> np.ndarray:
    """Unit vector (3,) away from the axis at a bearing."""
    turn = np.radians(bearing_deg)
    return np.array([0.0, np.sin(turn), np.cos(turn)])


def outward_at(point: np.ndarray) -> np.ndarray:
    """Unit vector (3,) away from the axis at a point that does not lie on it."""
    beside = np.array([0.0, point[1], point[2]])
    return np.asarray(beside / np.linalg.norm(beside))


def surveyed(point: np.ndarray, offset_mm: float) -> KeyPoint:
    """A point of the frame as station, bearing and height of its part."""
    return KeyPoint(
        station_mm=float(point[0] - offset_mm),
        bearing_deg=float(np.degrees(np.arctan2(point[1], point[2]))),
        height_mm=float(np.hypot(point[1], point[2])),
    )


def turned(
    points: np.ndarray, origin: np.ndarray, axis: np.ndarray, degrees: float | np.ndarray
) -> np.ndarray:
    """Points turned about a line, by the right hand.

    p' = a + v cos θ + (u × v) sin θ + u (u·v)(1 − cos θ), v = p − a (Rodrigues 1840).

    Parameters
    ----------
    points
        Shape (..., 3).
    origin, axis
        A point of the line and its unit vector, shape (3,).
    degrees
        One angle, or an array of angles that broadcasts over the leading shape of ``points``.
    """
    v = points - origin
    if np.ndim(degrees) == 0:
        return np.asarray(v @ rotation(axis, float(degrees)).T + origin)
    angle = np.radians(np.asarray(degrees, dtype=float))[..., None]
    along = (v @ axis)[..., None] * axis
    return np.asarray(
        origin + v * np.cos(angle) + np.cross(axis, v) * np.sin(angle) + along * (1 - np.cos(angle))
    )


def rotation(axis: np.ndarray, degrees: float) -> np.ndarray:
    """Matrix (3, 3) of a turn about a unit vector, by the right hand."""
    x, y, z = (float(value) for value in axis)
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.asarray(cosine * np.eye(3) + sine * cross + (1 - cosine) * np.outer(axis, axis))
