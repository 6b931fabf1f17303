"""From a solid of air to a curved tetrahedral mesh, graded towards sharp edges."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from borewright.acoustics.solved._air import Air
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.shape import HoleShape

#: Each layer at a sharp edge is this share of the one outside it (Babuska's optimum for
#: corner singularities is about 0.15).
_LAYER_SHARE = 0.15
#: Order of the curved elements' shape.
_CURVE_ORDER = 5
#: Sizes and growth are tried smaller, by these factors, where the mesher finds no way.
_ATTEMPTS = (1.0, 0.8, 0.63, 0.5, 0.4)
#: Element size at the outer boundary over its radius.
_FAR_SIZE = 0.4
#: Elements on a sliver of a face may be this many times as long as it is wide.
_SLIVER = 4.0


class MeshingError(RuntimeError):
    """The kernel or the mesher found no way with the sizes asked for."""


def meshes(air: Air, shape: HoleShape, detail: MeshDetail) -> Iterator[Any]:
    """NGSolve meshes of the air, each finer than the one before, until one is good enough."""
    last: Exception | None = None
    for factor in _ATTEMPTS:
        try:
            yield _mesh(air, shape, detail, factor)
        except Exception as error:  # the mesher's failures share no base class
            last = error
    if last is not None:
        raise MeshingError(str(last)) from last


def _mesh(air: Air, shape: HoleShape, detail: MeshDetail, factor: float) -> Any:
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


def _size(air: Air, shape: HoleShape, detail: MeshDetail, factor: float) -> None:
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
        raise MeshingError(f"the kernel's solid lacks an edge: {', '.join(sorted(missing))}")
