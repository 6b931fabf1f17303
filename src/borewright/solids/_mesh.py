"""A solid as triangles, and triangles as binary STL."""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from borewright.errors import SolidsError
from borewright.words import Text, say

if TYPE_CHECKING:
    from build123d import Solid

#: Greatest distance (mm) of a chord from its arc. A bore read back from the mesh is then at
#: most twice this narrower than drawn: well within the 0.02 mm that a bore gauge resolves.
CHORD_MM = 0.004
#: Greatest turn (radians) from one facet to the next: it rules the small radii.
TURN_RAD = 0.2
#: Nodes that two faces share differ by rounding only; real edges are longer than this (mm).
_SAME_MM = 1e-5


class Mesh(NamedTuple):
    """Vertices (n, 3) in mm as float32, the files' own precision; triangles (m, 3), outwards."""

    vertices: np.ndarray
    triangles: np.ndarray


def meshed(solid: Solid, place: Text) -> Mesh:
    """Triangles of a solid to the chord tolerance, neighbouring faces sharing vertices."""
    from OCP.BRep import BRep_Tool
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.TopAbs import TopAbs_Orientation
    from OCP.TopLoc import TopLoc_Location

    # The tolerance is absolute (False): relative to edge lengths, a long bore would be coarse.
    BRepMesh_IncrementalMesh(solid.wrapped, CHORD_MM, False, TURN_RAD, True)
    vertices: list[tuple[float, float, float]] = []
    triangles: list[tuple[int, int, int]] = []
    for face in solid.faces():
        location = TopLoc_Location()
        facets = BRep_Tool.Triangulation_s(face.wrapped, location)
        if facets is None:
            raise SolidsError(
                say("the kernel could not lay triangles on one of the faces"),
                place=place,
                remedy=say(
                    "Move the feature nearest to an edge or a step by 0.05 mm and try again."
                ),
            )
        move = location.Transformation()
        first = len(vertices) - 1
        for index in range(1, facets.NbNodes() + 1):
            node = facets.Node(index).Transformed(move)
            vertices.append((node.X(), node.Y(), node.Z()))
        flipped = face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
        for triangle in facets.Triangles():
            a, b, c = (first + triangle.Value(corner) for corner in (1, 2, 3))
            triangles.append((a, c, b) if flipped else (a, b, c))
    return _joined(np.array(vertices), np.array(triangles))


def _joined(vertices: np.ndarray, triangles: np.ndarray) -> Mesh:
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    pairs = cKDTree(vertices).query_pairs(_SAME_MM, output_type="ndarray")
    count = len(vertices)
    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(count, count))
    _, label = connected_components(links, directed=False)
    _, kept = np.unique(label, return_index=True)
    triangles = label[triangles]
    a, b, c = triangles.T
    triangles = triangles[(a != b) & (b != c) & (c != a)]
    return Mesh(vertices[kept].astype(np.float32), triangles.astype(np.int64))


def stl_bytes(mesh: Mesh, title: str) -> bytes:
    """Binary STL (little-endian, millimetres by custom) with the title in its header."""
    corners = mesh.vertices[mesh.triangles]
    wide = corners.astype(np.float64)
    normals = np.cross(wide[:, 1] - wide[:, 0], wide[:, 2] - wide[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0)
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("unused", "<u2")])
    records = np.zeros(len(corners), dtype=record)
    records["normal"], records["corners"] = normals, corners
    # A header that begins with "solid" would be taken for the text format.
    header = f"binary STL, mm: {title}".encode("ascii", "replace")[:80].ljust(80)
    return header + struct.pack("<I", len(corners)) + records.tobytes()
