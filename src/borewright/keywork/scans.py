"""A key from a scanned mesh: its hinge's axis by a cylinder, its cup's plane by a plane.

The datum is the tube: all figures that a survey asks of a key follow from axis and plane, whatever
way the scan lies. Fits by SciPy's least squares.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from borewright.errors import KeyworkError
from borewright.keywork.photographs import circle_of
from borewright.words import say

#: Over this residual (mm, root mean square) a tube is bent or the scan is bad.
BENT_MM = 0.05
#: Fewest points of a tube or a rim that are fitted.
FEWEST = 30
#: Corners within this of a flat's median (mm) belong to it, not to what is soldered near it.
_FLAT_MM = 0.15


@dataclass(frozen=True)
class ScannedKey:
    """One key (mm, degrees): from the tube's first end, in the pad's own plane.

    ``m_mm`` and ``h_mm`` are arm and hinge height over the pad's plane, ``station_mm`` the cup's
    middle along the tube from its first end, ``tilt_deg`` between the cup's plane and the hinge.
    Residuals are root mean squares. ``rim_mm`` is the diameter of the picked rim; ``origin`` the
    tube's first end in the scan, ``frame`` (3, 3) its directions along, aside and over.
    """

    tube_mm: float
    length_mm: float
    station_mm: float
    m_mm: float
    h_mm: float
    tilt_deg: float
    tube_residual_mm: float
    cup_residual_mm: float
    rim_mm: float
    origin: np.ndarray
    frame: np.ndarray

    def place_mm(self, point: np.ndarray) -> np.ndarray:
        """A point (3,) of the scan along the tube, aside of it towards the pad, and over it."""
        return np.asarray(self.frame @ (np.asarray(point, dtype=float) - self.origin))

    @property
    def bent(self) -> bool:
        """Whether the tube does not fit a straight one."""
        return self.tube_residual_mm > BENT_MM


def scanned_points(
    path: Path | str, known_mm: float | None = None, shown: float = 0.0
) -> np.ndarray:
    """Corners (n, 3) of an STL or PLY file, in mm.

    A scan has no unit: where ``known_mm`` is given, ``shown`` is what the same length measures in
    the file, and all is scaled to it. Raises KeyworkError where there is nothing to read.
    """
    points, _ = scanned_mesh(path)
    return points * (known_mm / shown if known_mm and shown else 1.0)


def scanned_mesh(path: Path | str) -> tuple[np.ndarray, np.ndarray]:
    """Corners (n, 3), in the file's unit, and triangles (m, 3) of an STL or PLY file.

    Raises KeyworkError where there is nothing to read.
    """
    import trimesh

    try:
        mesh = trimesh.load_mesh(str(path))
        points = np.asarray(mesh.vertices, dtype=float)
        faces = np.asarray(mesh.faces, dtype=int)
    except Exception as error:  # the readers' failures share no base class
        raise KeyworkError(
            say("the scan cannot be read ({why})", why=str(error)),
            place=str(path),
            remedy=say("Save it as STL or PLY."),
        ) from error
    if len(points) < FEWEST or not np.isfinite(points).all():
        raise KeyworkError(
            say("the scan holds {count} points, which is no key", count=len(points)),
            place=str(path),
            remedy=say("Save it as STL or PLY."),
        )
    return points, faces


def thinned(points: np.ndarray, faces: np.ndarray, most: int) -> tuple[np.ndarray, np.ndarray]:
    """A mesh of ``most`` triangles at most, to be looked at: near corners become one."""
    cell = float(np.ptp(points, axis=0).max()) / 1000
    while len(faces) > most:
        _, kept, index = np.unique(
            np.round(points / cell).astype(int), axis=0, return_index=True, return_inverse=True
        )
        faces, points = index.ravel()[faces], points[kept]
        apart = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2])
        faces = faces[apart & (faces[:, 0] != faces[:, 2])]
        cell *= 1.5
    return points, faces


def scanned_key(
    points: np.ndarray,
    tube_ends: tuple[np.ndarray, np.ndarray],
    cup_rim: np.ndarray,
    cup_top: np.ndarray,
    *,
    tube_reach_mm: float = 2.6,
    rim_reach_mm: float = 0.6,
    end_reach_mm: float = 1.0,
) -> ScannedKey:
    """A key's figures from its scan and a few points picked on it.

    Parameters
    ----------
    points
        Corners of the scan, shape (n, 3), mm.
    tube_ends
        Rough middles of the tube's two ends.
    cup_rim
        Three or more points picked round the edge of the pad's face, shape (k, 3).
    cup_top
        A point picked on the cup's back: it tells which side is out.
    tube_reach_mm, rim_reach_mm
        Corners this near to the tube's line, and to the plane of the picked points, count.
    end_reach_mm
        How far beyond the picked ends the tube may reach.

    Raises
    ------
    KeyworkError
        Where too few corners lie there.
    """
    line, radius, tube_residual, along = _cylinder(points, tube_ends, tube_reach_mm, end_reach_mm)
    origin, axis = line
    normal, middle, cup_residual, rim = _plane(
        points, np.asarray(cup_rim, dtype=float), rim_reach_mm
    )
    if normal @ (np.asarray(cup_top, dtype=float) - middle) < 0:
        normal = -normal
    # The pad's own plane, square to the hinge: m along it, h over it towards the cup's top.
    arm = middle - origin - axis * float((middle - origin) @ axis)
    square = normal - (normal @ axis) * axis
    square /= np.linalg.norm(square)
    height = -float(square @ arm)
    reach = float(np.sqrt(max(arm @ arm - height**2, 0.0)))
    aside = arm + height * square
    aside /= max(float(np.linalg.norm(aside)), 1e-9)
    return ScannedKey(
        tube_mm=2 * radius,
        length_mm=float(along.max() - along.min()),
        station_mm=float((middle - origin) @ axis - along.min()),
        m_mm=reach,
        h_mm=height,
        tilt_deg=float(np.degrees(np.arcsin(np.clip(normal @ axis, -1.0, 1.0)))),
        tube_residual_mm=tube_residual,
        cup_residual_mm=cup_residual,
        rim_mm=2 * rim,
        origin=origin + along.min() * axis,
        frame=np.stack([axis, aside, square]),
    )


def _cylinder(
    points: np.ndarray, ends: tuple[np.ndarray, np.ndarray], reach: float, beyond: float
) -> tuple[tuple[np.ndarray, np.ndarray], float, float, np.ndarray]:
    from scipy.optimize import least_squares

    first, second = (np.asarray(end, dtype=float) for end in ends)
    length = float(np.linalg.norm(second - first))
    axis = (second - first) / length
    off = points - first
    along = off @ axis
    aside = np.linalg.norm(off - along[:, None] * axis, axis=1)
    near = points[(along > -beyond) & (along < length + beyond) & (aside < reach)]
    if len(near) < FEWEST:
        raise _too_few(len(near), say("tube"))
    helper = np.array([1.0, 0.0, 0.0]) if abs(axis[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
    one = np.cross(axis, helper)
    one /= np.linalg.norm(one)
    other = np.cross(axis, one)

    def line(given: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        way = axis + given[2] * one + given[3] * other
        return first + given[0] * one + given[1] * other, way / np.linalg.norm(way)

    def distances(given: np.ndarray) -> np.ndarray:
        start, way = line(given)
        beside = np.cross(near - start, way)
        return np.asarray(np.linalg.norm(beside, axis=1) - given[4])

    # Arms are soldered on and ends are open: what is no tube must not pull the axis over.
    start = np.array([0.0, 0.0, 0.0, 0.0, float(np.median(aside[aside < reach]))])
    # Ends are clicked on the skin as often as on the axis: from far to near.
    for scale in (1.0, 0.2, 0.05):
        start = least_squares(distances, start, loss="cauchy", f_scale=scale).x
    fitted = start
    left = np.abs(distances(fitted))
    on = left < max(0.15, 3 * float(np.median(left)))
    origin, way = line(fitted)
    places = (near[on] - origin) @ way
    residual = float(np.sqrt(np.mean(left[on] ** 2)))
    return (origin, way), float(fitted[4]), residual, places


def _plane(
    points: np.ndarray, picked: np.ndarray, reach: float
) -> tuple[np.ndarray, np.ndarray, float, float]:
    """Normal, middle, residual and radius of the flat whose edge some picked points lie on."""
    normal = _normal(picked)
    side = np.cross(normal, [0.6, 0.64, 0.48])
    side /= np.linalg.norm(side)
    frame = np.stack([side, np.cross(normal, side)])
    start = picked.mean(axis=0)
    x, y, radius = circle_of((picked - start) @ frame.T)
    middle = start + x * frame[0] + y * frame[1]
    for _ in range(3):
        off = points - middle
        near = points[
            (np.abs(off @ normal) < reach) & (np.linalg.norm(off, axis=1) < radius + reach)
        ]
        heights = (near - middle) @ normal
        flat = near[np.abs(heights - np.median(heights)) < _FLAT_MM] if len(near) else near
        if len(flat) < FEWEST:
            raise _too_few(len(flat), say("cup"))
        normal = _normal(flat)
        middle = middle + float((flat.mean(axis=0) - middle) @ normal) * normal
    residual = float(np.sqrt(np.mean(((flat - middle) @ normal) ** 2)))
    return normal, middle, residual, radius


def _normal(points: np.ndarray) -> np.ndarray:
    return np.asarray(np.linalg.svd(points - points.mean(axis=0))[2][-1])


def _too_few(count: int, what: object) -> KeyworkError:
    return KeyworkError(
        say("only {count} points of the scan lie on the {what}", count=count, what=what),
        remedy=say("Pick points nearer to it, or check the scan's unit by a length you know."),
    )
