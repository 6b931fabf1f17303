"""Gauges for meshes: what a bore gauge, pin gauges and a depth rod would find on the print.

They read the triangles alone. Names and places from the model only say where to look.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from borewright.errors import SolidsError
from borewright.model import Part, ToneHole
from borewright.model.circles import fitted_circle
from borewright.solids.axes import bearing_direction
from borewright.words import say

if TYPE_CHECKING:
    from trimesh import Trimesh

_RAYS = 360
#: Facets hide up to their chord tolerance; a gauge point off by more than this (mm) is
#: something else than the wall being measured: a hole's edge, a lining.
_WALL_MM = 0.25
#: How far (mm) a point may be off the circle through all: some chord tolerances.
_ROUND_MM = 0.04


@dataclass(frozen=True)
class HoleMeasure:
    """A tone hole as found on a mesh (mm, degrees); bearings as in the model."""

    hole: str
    station_mm: float
    bearing_deg: float
    diameter_mm: float
    tube_height_mm: float


def read_mesh(path: Path | str) -> Trimesh:
    """An STL file as one body with merged vertices, in mm.

    Raises SolidsError where the file is missing or holds no triangles.
    """
    import trimesh

    try:
        with open(path, "rb") as stream:
            mesh = trimesh.load_mesh(stream, file_type="stl")
    except (OSError, ValueError) as error:
        raise SolidsError(
            say("cannot be read as a mesh ({why})", why=str(error)),
            place=str(path),
            remedy=say("Give a binary or text STL file."),
        ) from error
    if not len(mesh.faces):
        raise SolidsError(
            say("holds no triangles"), place=str(path), remedy=say("Export the part again.")
        )
    mesh.merge_vertices()
    return mesh


def bore_diameter_mm(mesh: Trimesh, station_mm: float) -> float:
    """Diameter (mm) of the bore, or socket, in a cut across the axis at a station.

    Rays from the axis find the wall; a circle through the points on it (least squares)
    gives the diameter. Rays that leave through tone holes or meet a lining tube are left
    out. Facets lie inside the true circle, so the answer is small by at most twice the
    mesh's chord tolerance. At a step, measure a little beside it.

    Raises SolidsError where there is no bore at that station.
    """
    segments = _cut(mesh, [0.0, 0.0, station_mm], [0.0, 0.0, 1.0])[:, :, :2]
    points = _nearest_on_rays(segments, np.zeros(2))
    radii = np.linalg.norm(points, axis=1)
    if len(points) < _RAYS / 4:
        raise SolidsError(
            say("no bore is found at station {station_mm:g} mm", station_mm=float(station_mm)),
            place=say("mesh"),
            remedy=say(
                "The mesh runs from {low_mm:.2f} to {high_mm:.2f} mm.",
                low_mm=float(mesh.bounds[0, 2]),
                high_mm=float(mesh.bounds[1, 2]),
            ),
        )
    wall = points[np.abs(radii - np.median(radii)) < _WALL_MM]
    centre, radius = fitted_circle(wall)
    # The first steps of a tone hole's own wall are near enough to pass; the circle tells them.
    on_it = np.abs(np.linalg.norm(wall - centre, axis=1) - radius) < _ROUND_MM
    return 2 * (fitted_circle(wall[on_it])[1] if on_it.sum() >= _RAYS / 4 else radius)


def hole_measure(mesh: Trimesh, part: Part, hole: ToneHole) -> HoleMeasure:
    """Station, bearing, diameter and tube height of a hole as found on a part's mesh.

    ``part`` and ``hole`` say where to look; the mesh may differ from them by about the
    hole's radius. Diameter and place are taken in a cut across the tube half way up, or
    half way between undercut and rim; the height from beside the hole, above and below it
    along the body, where a conical body or bore averages out (but not a kink or a step
    under the hole, nor something standing right beside it).

    Raises SolidsError where no hole is found there.
    """
    bore, body = (
        at(hole.station_mm) / 2 for at in (part.bore_diameter_at, part.outside_diameter_at)
    )
    rim, inner = body + hole.chimney_mm, bore - hole.into_bore_mm
    low = max(inner + (hole.undercut.depth_mm if hole.undercut else 0.0), min(bore, rim - 0.2))
    drilled = hole.pad is None and abs(hole.chimney_mm) < 1e-9
    level = (low + (_side_height(body, hole.diameter_mm / 2) if drilled else rim)) / 2
    bearing, station = hole.bearing_deg, hole.station_mm
    radius = math.nan
    for _ in range(3):  # the cut turns to the bearing found; twice is enough, thrice is cheap
        out, side = _frame(bearing)
        segments = _cut(mesh, level * out, out)
        flat = np.stack([segments @ side, segments[:, :, 2] - station], axis=-1)
        points = _nearest_on_rays(flat, np.zeros(2))
        near = points[np.linalg.norm(points, axis=1) < hole.diameter_mm] if len(points) else points
        if len(near) < _RAYS / 2:
            raise SolidsError(
                say(
                    "no hole is found near station {station_mm:g} mm, bearing {bearing_deg:g}°",
                    station_mm=hole.station_mm,
                    bearing_deg=hole.bearing_deg,
                ),
                place=(
                    say("mesh of part '{part}'", part=part.name),
                    say("hole '{hole}'", hole=hole.name),
                ),
                remedy=say("Check that the mesh belongs to this part and is not turned or moved."),
            )
        centre, radius = fitted_circle(near)
        bearing += math.degrees(math.atan2(centre[0], level))
        station += float(centre[1])
    return HoleMeasure(
        hole=hole.name,
        station_mm=station,
        bearing_deg=(bearing + 180) % 360 - 180,
        diameter_mm=2 * radius,
        tube_height_mm=_height(mesh, hole, bearing, station, radius, level),
    )


def _height(
    mesh: Trimesh, hole: ToneHole, bearing: float, station: float, radius: float, level: float
) -> float:
    """Rim less bore wall (mm), on lines beside the hole parallel to its axis."""
    out, _ = _frame(bearing)
    mouth = max(radius, hole.undercut.diameter_mm / 2 if hole.undercut else 0.0)
    heights = []
    for sign in (-1, 1):
        rim = _hits(mesh, np.array([0, 0, station + sign * (radius + 0.2)]), out)
        bore = _hits(mesh, np.array([0, 0, station + sign * (mouth + 0.2)]), out)
        above, below = rim[rim > level], bore[(bore < level) & (bore > 0)]
        if not len(above) or not len(below):
            raise SolidsError(
                say("the rim or the bore beside the hole is missing"),
                place=(say("mesh"), say("hole '{hole}'", hole=hole.name)),
                remedy=say(
                    "The wall around the hole is thinner than 0.2 mm; look at the mesh there."
                ),
            )
        heights.append(above.min() - below.max())
    return float(np.mean(heights))


def _frame(bearing_deg: float) -> tuple[np.ndarray, np.ndarray]:
    """Outward direction of a bearing, and the direction in which bearings grow there."""
    x, y = bearing_direction(bearing_deg)
    ahead = bearing_direction(bearing_deg + 90)
    return np.array([x, y, 0.0]), np.array([*ahead, 0.0])


def _side_height(body: float, radius: float) -> float:
    return math.sqrt(max(body**2 - radius**2, 0.0))


def _cut(mesh: Trimesh, origin: list[float] | np.ndarray, normal: list[float] | np.ndarray):  # type: ignore[no-untyped-def]
    """Segments (n, 2, 3) in which a plane cuts the mesh."""
    from trimesh.intersections import mesh_plane

    return np.asarray(mesh_plane(mesh, normal, origin)).reshape(-1, 2, 3)


def _nearest_on_rays(segments: np.ndarray, origin: np.ndarray) -> np.ndarray:
    """Nearest crossing (k, 2) of rays from a point with plane segments (n, 2, 2)."""
    angles = (np.arange(_RAYS) + 0.5) * (2 * math.pi / _RAYS)
    ray = np.stack([np.cos(angles), np.sin(angles)], axis=1)[:, None, :]
    start = (segments[:, 0] - origin)[None, :, :]
    along = (segments[:, 1] - segments[:, 0])[None, :, :]
    turn = ray[..., 0] * along[..., 1] - ray[..., 1] * along[..., 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        distance = (start[..., 0] * along[..., 1] - start[..., 1] * along[..., 0]) / turn
        where = (start[..., 0] * ray[..., 1] - start[..., 1] * ray[..., 0]) / turn
    met = (np.abs(turn) > 1e-15) & (distance > 0) & (where >= 0) & (where <= 1)
    nearest = np.where(met, distance, np.inf).min(axis=1, initial=np.inf)
    found = np.isfinite(nearest)
    return np.asarray(ray[found, 0] * nearest[found, None] + origin)


def _hits(mesh: Trimesh, origin: np.ndarray, direction: np.ndarray) -> np.ndarray:
    """Distances at which a line meets the mesh: it meets a triangle's plane inside the triangle."""
    from trimesh.intersections import planes_lines
    from trimesh.triangles import points_to_barycentric

    shape = (len(mesh.triangles), 3)
    points, met, distances = planes_lines(
        plane_origins=mesh.triangles[:, 0],
        plane_normals=mesh.face_normals,
        line_origins=np.broadcast_to(origin, shape),
        line_directions=np.broadcast_to(direction, shape),
        return_distance=True,
    )
    shares = points_to_barycentric(mesh.triangles[met], points)
    return np.asarray(distances[(shares >= -1e-9).all(axis=1)])
