"""A cut through a hole and its pad, square to the hinge: in it the key turns about a point."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.keywork.body import Body, Rim
from borewright.keywork.facets import facets
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pieces import Stuff, pieces_of
from borewright.model.keys import Cup

#: The cut is laid out so finely (mm), and reaches so far beyond hinge and pad.
_GRID_MM, _MARGIN_MM = 0.25, 9.0
#: A hinge further off than this (mm) is left out of the picture.
_FURTHEST_MM = 45.0


@dataclass(frozen=True)
class Cut:
    """Outline (n, 2) of a piece where the plane cuts it, shut, and whether it turns."""

    outline: np.ndarray
    stuff: Stuff
    turns: bool


@dataclass(frozen=True)
class PadSection:
    """Section through one pad, in mm of its plane: right is away from the hinge, up is outwards.

    ``body`` are polygons (n, 2) of material, an outline with its holes filled by the even-odd
    rule. ``hinge`` is where the hinge pierces the plane; turning there by ``open_deg`` against
    the clock brings the key from shut to open.
    """

    cup: str
    hole: str
    key: str
    body: list[np.ndarray]
    cuts: list[Cut]
    hinge: tuple[float, float]
    open_deg: float
    low: tuple[float, float]
    high: tuple[float, float]


def pad_section(mechanism: Mechanism, body: Body, cup: Cup) -> PadSection:
    """Cut body and key through the middle of a pad."""
    key, rim = mechanism.turning[cup.key], body.rims[cup.hole]
    middle = mechanism.points[cup.name][0]
    up = rim.out - (rim.out @ key.axis) * key.axis
    up /= np.linalg.norm(up)
    right = np.cross(up, key.axis)
    if right @ (middle - key.origin) < 0:
        right = -right
    frame = np.stack([right, up])
    hinge = frame @ (key.origin - middle)
    pieces = [(piece, facets(piece)) for piece in pieces_of(mechanism, cup.key)]
    cuts = []
    for piece, triangles in pieces:
        outline = _cut(triangles, middle, key.axis, frame)
        if len(outline) > 2:
            cuts.append(Cut(outline, piece.stuff, piece.turns))
    reach = np.array([hinge, [-cup.outside_mm / 2, -6.0], [cup.outside_mm / 2, 6.0]])
    low = np.maximum(reach.min(axis=0) - _MARGIN_MM, -_FURTHEST_MM)
    high = np.minimum(reach.max(axis=0) + _MARGIN_MM, _FURTHEST_MM)
    clockwise = float(np.cross(right, up) @ key.axis) < 0
    return PadSection(
        cup=cup.name,
        hole=cup.hole,
        key=cup.key,
        body=_material(body, middle, frame, low, high),
        cuts=cuts,
        hinge=(float(hinge[0]), float(hinge[1])),
        open_deg=-key.open_deg if clockwise else key.open_deg,
        low=(float(low[0]), float(low[1])),
        high=(float(high[0]), float(high[1])),
    )


def _cut(
    triangles: np.ndarray, origin: np.ndarray, normal: np.ndarray, frame: np.ndarray
) -> np.ndarray:
    """Convex outline (n, 2) of where a plane cuts triangles; a tube shows as a full disc."""
    from scipy.spatial import ConvexHull

    heights = (triangles - origin) @ normal
    points = []
    for a, b in ((0, 1), (1, 2), (2, 0)):
        crossing = (heights[:, a] < 0) != (heights[:, b] < 0)
        one, other = triangles[crossing, a], triangles[crossing, b]
        share = heights[crossing, a] / (heights[crossing, a] - heights[crossing, b])
        points.append(one + share[:, None] * (other - one))
    flat = (np.concatenate(points) - origin) @ frame.T
    if len(flat) < 3 or np.linalg.matrix_rank(flat - flat[0], tol=1e-6) < 2:
        return np.empty((0, 2))
    return np.asarray(flat[ConvexHull(flat).vertices])


def _material(
    body: Body, origin: np.ndarray, frame: np.ndarray, low: np.ndarray, high: np.ndarray
) -> list[np.ndarray]:
    """Outlines of the body's material in the plane, by contours of how deep a point lies in it."""
    from contourpy import contour_generator

    u, v = (np.arange(a, b + _GRID_MM, _GRID_MM) for a, b in zip(low, high, strict=True))
    points = origin + u[None, :, None] * frame[0] + v[:, None, None] * frame[1]
    lines = contour_generator(u, v, depth_mm(body, points)).lines(0.0)
    return [np.asarray(line) for line in lines if len(line) > 3]


def depth_mm(body: Body, points: np.ndarray) -> np.ndarray:
    """How deep points (..., 3) lie in the body's material; negative where there is none.

    Nearest walls only, measured straight out or along: right at the surface, which is what a
    section needs.
    """
    x, r = points[..., 0], np.hypot(points[..., 1], points[..., 2])
    deep = np.full(x.shape, -1.0)
    for part in body.instrument.parts:
        start = body.offset_mm[part.name]
        ends = np.minimum(x - start, start + part.length_mm - x)
        wall = np.minimum(body.outside_mm(x) - r, r - body.inside_mm(part.name, x))
        deep = np.maximum(deep, np.minimum(wall, ends))
    near = points.reshape(-1, 3)
    low, high = near.min(axis=0) - 15.0, near.max(axis=0) + 15.0
    rims = [rim for rim in body.rims.values() if np.all((rim.centre > low) & (rim.centre < high))]
    for rim in rims:
        deep = _with_rim(body, rim, points, deep)
    for rim in rims:
        aside, along = _beside(rim, points)
        hollow = np.minimum(rim.hole.diameter_mm / 2 - aside, along + rim.height_mm)
        deep = np.minimum(deep, -hollow)
    return np.asarray(deep)


def _with_rim(body: Body, rim: Rim, points: np.ndarray, deep: np.ndarray) -> np.ndarray:
    """Material with a chimney put on, or a sunk seat cut in."""
    aside, along = _beside(rim, points)
    wall = body.instrument.fit.chimney_wall_mm
    if rim.hole.chimney_mm > 0:
        tube = np.minimum(rim.hole.diameter_mm / 2 + wall - aside, -along)
        return np.asarray(np.maximum(deep, np.minimum(tube, along + rim.hole.chimney_mm + 3.0)))
    sunk = np.minimum(rim.hole.seat_radius_mm(wall) - aside, along)
    return np.asarray(np.minimum(deep, -sunk))


def _beside(rim: Rim, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Distance of points from a hole's axis, and over its rim."""
    off = points - rim.centre
    along = off @ rim.out
    return np.linalg.norm(off - along[..., None] * rim.out, axis=-1), along
