"""From a resonator's solid of air to a curved mesh, graded towards the rims of open holes."""

from __future__ import annotations

import math
from typing import Any

from borewright.acoustics.solved.shape import HoleCover
from borewright.acoustics.solved.whole._solid import WholeAir, whole_air
from borewright.acoustics.solved.whole._waves import AirMesh
from borewright.acoustics.solved.whole.body import Body, PlacedHole, radius_at
from borewright.acoustics.solved.whole.detail import WholeDetail
from borewright.errors import AcousticsError
from borewright.words import say

_LAYER_SHARE = 0.15
_CURVE_ORDER = 4
#: How near (mm) a point must be to a curve to lie on it.
_ON_MM = 1e-3
#: Elements at a closed hole's mouth, over its radius.
_CLOSED_SIZE = 1.5
#: Elements on the outside, over the body's radius; on a sliver of a face, over its width.
_OUTSIDE_SIZE = 0.8
_SLIVER = 4.0


def whole_mesh(
    body: Body, detail: WholeDetail, wavelength_mm: float, factor: float = 1.0
) -> AirMesh:
    """Mesh of all air; sizes are multiplied by ``factor``.

    Raises whatever kernel and mesher raise, which shares no base class, and ValueError where
    the solid is not what it should be.
    """
    import ngsolve
    from netgen import meshing, occ

    # The mesher writes to the standard output, which belongs to whoever asked.
    meshing.SetMessageImportance(0)
    air = whole_air(body, body.far_radius_mm(detail.outer_end))
    longest = wavelength_mm / detail.per_wave * factor
    _size_faces(air, body, detail, longest, factor)
    graded = _size_edges(air, body, detail, factor)
    raw = occ.OCCGeometry(air.solid).GenerateMesh(
        maxh=longest, grading=detail.growth * factor, curvaturesafety=1.0, parallel_meshing=False
    )
    mesh = ngsolve.Mesh(raw)
    if graded and detail.edge_layers:
        mesh.RefineHP(detail.edge_layers, _LAYER_SHARE)
    mesh.Curve(_CURVE_ORDER)
    held, wanted = float(ngsolve.Integrate(1.0, mesh, order=8)), float(air.solid.mass)
    if abs(held - wanted) > 1e-3 * wanted:
        raise AcousticsError(
            say(
                "the mesh holds {found_mm3:.1f} mm³ of air instead of {wanted_mm3:.1f}",
                found_mm3=held,
                wanted_mm3=wanted,
            ),
            remedy=say(
                "Move what stands close apart by a tenth of a millimetre, or use closed forms."
            ),
        )
    return AirMesh(mesh, air.far_radius_mm, is_round=False, share=air.share)


def _size_faces(
    air: WholeAir, body: Body, detail: WholeDetail, longest: float, factor: float
) -> None:
    top = 0.0
    for face in air.solid.faces:
        if face.name == "far":
            face.maxh = longest
            continue
        width = 2 * face.mass / sum(edge.mass for edge in face.edges)
        face.maxh = min(longest, _SLIVER * width)
        low, high = face.bounding_box
        if high.z - low.z < 3 * body.widest_mm:  # not the plane that halves the air
            face.maxh = min(face.maxh, _OUTSIDE_SIZE * body.widest_mm * factor)
        if face.name in ("bore", "top"):
            radius = radius_at(body.bore, (low.x + high.x) / 2)
            face.maxh = min(face.maxh, detail.wall_size * radius * factor)
            top += face.mass if face.name == "top" else 0.0
    wanted = math.pi * body.top_radius_mm**2 / air.share
    if abs(top - wanted) > 1e-4 * wanted:
        raise ValueError("the kernel's solid lost the top of the bore")


def _size_edges(air: WholeAir, body: Body, detail: WholeDetail, factor: float) -> bool:
    """Sizes along rims; whether any is to be refined towards."""
    found = set()
    opened = [hole for hole in body.holes if hole.is_open]
    for face in air.solid.faces:
        if face.name in ("far", "finger"):
            continue  # spheres, whose poles are edges without a curve
        for edge in face.edges:
            start, end = edge.parameter_interval
            points = [edge.Value(start + (end - start) * t) for t in (0.03, 0.3, 0.5, 0.87)]
            if not body.bottom_is_closed and _is_end(points, body):
                edge.hpref = 1
                edge.maxh = min(edge.maxh, detail.edge_size * body.bore[-1][1] * factor)
            for hole in body.holes:
                ring = _ring(points, hole, air.turn)
                if ring is None:
                    continue
                words, size = ring
                found.add((hole.name, words))
                own = detail.edge_size if hole.is_open else _CLOSED_SIZE
                edge.maxh = min(edge.maxh, own * size * factor)
                if hole.is_open and words in ("mouth", "tube", "pad"):
                    edge.hpref = 1
    for hole in opened:
        expected = {"tube", "pad"} if hole.shape.cover == HoleCover.PAD else {"tube"}
        for words in expected:
            if (hole.name, words) not in found:
                raise AcousticsError(
                    say("the kernel's solid lacks an edge: {edges}", edges=f"{hole.name}, {words}"),
                    remedy=say(
                        "Move what stands close apart by a tenth of a millimetre, "
                        "or use closed forms."
                    ),
                )
    return True


def _is_end(points: list[Any], body: Body) -> bool:
    x, radius = body.bore[-1]
    return all(
        abs(point.x - x) < _ON_MM and abs(math.hypot(point.y, point.z) - radius) < _ON_MM
        for point in points
    )


def _ring(points: list[Any], hole: PlacedHole, turn: float) -> tuple[str, float] | None:
    """What ring about a hole's axis the points lie on, and the radius that sizes it."""
    shape = hole.shape
    sine, cosine = math.sin(hole.bearing - turn), math.cos(hole.bearing - turn)
    across = [(point.x - hole.station_mm, point.y * cosine - point.z * sine) for point in points]
    height = [point.y * sine + point.z * cosine for point in points]
    if min(height) <= 0:
        return None
    radii = [math.hypot(*at) for at in across]
    if max(radii) - min(radii) > _ON_MM:
        return None
    if all(math.dist(at, across[0]) < _ON_MM for at in across):
        return None  # a seam, parallel to the axis
    radius = radii[0]
    if abs(radius - shape.pad_radius_mm) < _ON_MM and shape.cover == HoleCover.PAD:
        is_face = abs(max(height) - shape.rim_mm - shape.lift_mm) < _ON_MM
        return ("pad", shape.radius_mm) if is_face else ("back of the pad", 2 * shape.radius_mm)
    if abs(radius - shape.radius_mm) < _ON_MM:
        return "tube", shape.radius_mm
    if abs(radius - shape.mouth_radius_mm) < _ON_MM:
        return "mouth", shape.mouth_radius_mm
    if radius < max(shape.counterbore_radius_mm, shape.radius_mm + shape.chimney_wall_mm) + _ON_MM:
        return "wall", 1.5 * shape.radius_mm
    return None
