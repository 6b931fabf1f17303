"""Pieces and bodies as triangles, for pictures and the page: made in milliseconds, no kernel."""

from __future__ import annotations

import numpy as np

from borewright.keywork.body import Body, Rim
from borewright.keywork.pieces import Outline, Piece

#: Corners round a piece (a thin one has half as many), and round a body.
_SIDES, _BODY_SIDES, _THIN_MM = 20, 48, 2.0
#: An outline of more corners than this has round ends.
_ROUND = 8
#: A hole's dark face stands so far (mm) over its rim, so that it shows.
_SHOWN_MM = 0.15


def facets(piece: Piece) -> np.ndarray:
    """Triangles (n, 3, 3) of a piece, outwards, in the frame of the keys."""
    along = piece.end - piece.start
    length = float(np.linalg.norm(along))
    if piece.outline is not None:
        thin = max(radius for radius, _ in piece.outline) < _THIN_MM
        sides = 2 * _SIDES // 5 if thin else _SIDES
        return revolved(piece.start, along / length, _coarse(piece.outline), sides)
    return _box(piece, along / length, length)


def _coarse(outline: Outline) -> Outline:
    """A bar's round ends by half as many flats: enough to be looked at, half to be drawn."""
    if len(outline) <= _ROUND:
        return outline
    half = len(outline) // 2
    return [*outline[:half:2], *outline[: half - 1 : -2][::-1]]


def revolved(origin: np.ndarray, axis: np.ndarray, outline: Outline, sides: int) -> np.ndarray:
    """Triangles of a closed outline (radius, height), turned about an axis through ``origin``.

    The outline runs as seen with the axis up and the radius to the right, against the clock.
    """
    helper = np.array([1.0, 0.0, 0.0]) if abs(axis[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
    side = np.cross(axis, helper)
    side /= np.linalg.norm(side)
    other = np.cross(axis, side)
    turn = np.linspace(0.0, 2 * np.pi, sides, endpoint=False)
    round_ = np.cos(turn)[:, None] * side + np.sin(turn)[:, None] * other
    radius, height = np.array(outline, dtype=float).T
    # (corners of the outline, sides, 3)
    points = origin + height[:, None, None] * axis + radius[:, None, None] * round_
    nxt, turned = np.roll(points, -1, axis=0), np.roll(points, -1, axis=1)
    both = np.roll(turned, -1, axis=0)
    quads = [np.stack([points, turned, both], axis=2), np.stack([points, both, nxt], axis=2)]
    triangles = np.concatenate([quad.reshape(-1, 3, 3) for quad in quads])
    return triangles[_areas(triangles) > 1e-9]


def body_facets(body: Body, part: str) -> np.ndarray:
    """Triangles of a part's outside and bore; its holes do not show."""
    made = body.instrument.part(part)
    start = body.offset_mm[part]
    inner = [station for station, _ in made.outside if 0 < station < made.length_mm]
    ends = (0.0, *inner, made.length_mm)
    outside = [(made.outside_diameter_at(s, -1 if s == ends[-1] else 1) / 2, s) for s in ends]
    stations = sorted({0.0, made.length_mm, *(s for s, _ in made.bore if 0 < s < made.length_mm)})
    bore = [(float(body.inside_mm(part, start + s)), s) for s in reversed(stations)]
    outline = [*outside, *bore]
    return revolved(np.array([start, 0.0, 0.0]), np.array([1.0, 0.0, 0.0]), outline, _BODY_SIDES)


def chimney_facets(rim: Rim, wall_mm: float) -> np.ndarray:
    """Triangles of a hole's chimney, from within the body to its rim."""
    radius = rim.hole.diameter_mm / 2
    deep = max(rim.hole.chimney_mm, 0.0) + 3.0
    outline = [(radius, -deep), (radius + wall_mm, -deep), (radius + wall_mm, 0.0), (radius, 0.0)]
    return revolved(rim.centre, rim.out, outline, _SIDES)


def hole_facets(rim: Rim) -> np.ndarray:
    """Triangles of a hole's face, where nothing else shows that there is one."""
    radius = rim.hole.diameter_mm / 2
    shown = _SHOWN_MM - min(rim.hole.chimney_mm, 0.0)
    outline = [(0.0, -0.5), (radius, -0.5), (radius, shown), (0.0, shown)]
    return revolved(rim.centre, rim.out, outline, _SIDES)


def _box(piece: Piece, along: np.ndarray, length: float) -> np.ndarray:
    up = piece.out - (piece.out @ along) * along
    up /= np.linalg.norm(up)
    side = np.cross(up, along)
    corners = np.array(
        [
            piece.start
            + along * length * i
            + side * piece.width_mm * (j - 0.5)
            + up * piece.thick_mm * (k - 0.5)
            for i in (0, 1)
            for j in (0, 1)
            for k in (0, 1)
        ]
    )
    middle = corners.mean(axis=0)
    quads = [(0, 1, 3, 2), (4, 5, 7, 6), (0, 1, 5, 4), (2, 3, 7, 6), (0, 2, 6, 4), (1, 3, 7, 5)]
    triangles = np.array([corners[list(q)] for a, b, c, d in quads for q in ((a, b, c), (a, c, d))])
    normal = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    inward = np.einsum("ij,ij->i", normal, triangles.mean(axis=1) - middle) < 0
    triangles[inward] = triangles[inward][:, ::-1]
    return triangles


def _areas(triangles: np.ndarray) -> np.ndarray:
    edges = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    return np.asarray(np.linalg.norm(edges, axis=1) / 2)
