"""From a solid of air to a curved tetrahedral mesh, graded towards sharp edges."""

from __future__ import annotations

from typing import Any

from borewright.acoustics.solved._air import AirSolid
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.shape import HoleShape
from borewright.errors import AcousticsError
from borewright.words import joined, say

#: Each layer at a sharp edge is this share of the one outside it (Babuska's optimum for
#: corner singularities is about 0.15).
_LAYER_SHARE = 0.15
#: Order of the curved elements' shape.
_CURVE_ORDER = 5
#: Element size at the outer boundary over its radius.
_FAR_SIZE = 0.4
#: Elements on a sliver of a face may be this many times as long as it is wide.
_SLIVER = 4.0


def mesh_of(air: AirSolid, shape: HoleShape, detail: MeshDetail, factor: float = 1.0) -> Any:
    """An NGSolve mesh of the air, its sizes and growth times ``factor``.

    Raises whatever kernel and mesher raise, which shares no base class, and ValueError where
    the solid lacks a sharp edge.
    """
    import ngsolve
    from netgen import occ

    _size(air, shape, detail, factor)
    size = max(_FAR_SIZE * air.far_radius_mm, shape.bore_radius_mm)
    # One thread: the mesher's threads spin, and holes are shared out over processes anyway.
    raw = occ.OCCGeometry(air.solid).GenerateMesh(
        maxh=size * factor, grading=detail.growth * factor, parallel_meshing=False
    )
    mesh = ngsolve.Mesh(raw)
    if detail.edge_layers:
        mesh.RefineHP(detail.edge_layers, _LAYER_SHARE)
    mesh.Curve(_CURVE_ORDER)
    return mesh


def _size(air: AirSolid, shape: HoleShape, detail: MeshDetail, factor: float) -> None:
    """Element sizes on bore wall and sharp edges; a missing sharp edge is a broken solid."""
    missing = {edge.words for edge in air.edges if edge.must_exist}
    for face in air.solid.faces:
        if face.name == "far":
            face.maxh = _FAR_SIZE * air.far_radius_mm * factor
        if face.name in ("far", "finger"):
            continue  # spheres, whose poles are edges without a curve
        if face.name in ("bore", "upper", "lower"):
            face.maxh = detail.wall_size * shape.bore_radius_mm * factor
        lines = list(face.edges)
        width = 2 * face.mass / sum(line.mass for line in lines)
        face.maxh = min(face.maxh, _SLIVER * width)
        for line in lines:
            start, end = line.parameter_interval
            points = [line.Value(start + (end - start) * t) for t in (0.0, 0.13, 0.5, 0.87, 1.0)]
            for edge in air.edges:
                if all(edge.on(point) for point in points):
                    line.maxh = min(line.maxh, detail.edge_size * edge.scale_mm * factor)
                    line.hpref = 1
                    missing.discard(edge.words)
    if missing:
        raise AcousticsError(
            say("the kernel's solid lacks an edge: {edges}", edges=joined(sorted(missing), ", ")),
            remedy=say(
                "Move what stands close apart by a tenth of a millimetre, or use closed forms."
            ),
        )
