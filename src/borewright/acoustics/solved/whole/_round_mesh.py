"""A resonator without holes: a mesh of the half plane beside its axis."""

from __future__ import annotations

import itertools
import math
from typing import Any

from borewright.acoustics.solved.whole._waves import AirMesh
from borewright.acoustics.solved.whole.body import Body
from borewright.acoustics.solved.whole.detail import WholeDetail

#: Layers at sharp edges; in a plane they cost next to nothing.
_LAYERS = 4
_LAYER_SHARE = 0.15
_CURVE_ORDER = 6


def round_mesh(body: Body, detail: WholeDetail, wavelength_mm: float) -> AirMesh:
    """Mesh of bore and outer air (x along the axis, y the distance from it)."""
    import ngsolve
    from netgen import occ

    radius, centre = body.far_radius_mm(detail.outer_end), body.middle_mm
    first, last = centre - radius, centre + radius
    points = [occ.Pnt(x, y, 0) for x, y in [*body.air_side(), (first, 0.0)]]
    lines: list[Any] = [occ.Segment(one, other) for one, other in itertools.pairwise(points)]
    arc = occ.ArcOfCircle(points[-1], occ.Pnt(centre, radius, 0), occ.Pnt(last, 0, 0))
    face = occ.Face(occ.Wire([*lines, arc, occ.Segment(occ.Pnt(last, 0, 0), points[0])]))
    longest = wavelength_mm / detail.per_wave
    fine = 2 * detail.wall_size * body.narrowest_mm
    for edge in face.edges:
        start, end = edge.parameter_interval
        middle = edge.Value((start + end) / 2)
        if abs(math.hypot(middle.x - centre, middle.y) - radius) < 1e-6 * radius:
            edge.name = "far"
        elif abs(middle.x) < 1e-9 and middle.y < body.top_radius_mm:
            edge.name = "top"
        edge.maxh = min(fine, longest) if middle.y < body.widest_mm + 1e-6 else longest
    sharp = body.sharp_corners()
    for vertex in face.vertices:
        if any(math.hypot(vertex.p.x - x, vertex.p.y - y) < 1e-6 for x, y in sharp):
            vertex.hpref = 1
            vertex.maxh = detail.edge_size * body.narrowest_mm
    raw = occ.OCCGeometry(face, dim=2).GenerateMesh(maxh=longest, grading=detail.growth)
    mesh = ngsolve.Mesh(raw)
    if sharp:
        mesh.RefineHP(_LAYERS, _LAYER_SHARE)
    mesh.Curve(_CURVE_ORDER)
    return AirMesh(mesh, radius, is_round=True)
