"""The air in a hole, a piece of bore and the outside, as one solid with named faces.

Axes: x along the bore (downwards), z along the hole (outwards). Only the half y > 0 is made,
and of a cylindrical bore the quarter x > 0, y > 0.

Faces: ``upper`` and ``lower`` ends of the bore, ``middle`` (the plane x = 0 of a quarter),
``rim`` (the end of the tube where the outside is not meshed), ``far`` (the outer boundary) and
``bore`` (its wall).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from borewright.acoustics.solved.bore_section import BoreSection
from borewright.acoustics.solved.shape import HoleCover, HoleShape

#: How near (mm) a point must be to a curve to lie on it.
_ON_MM = 1e-4
#: Half a box (mm) that holds any air that can be asked for.
_BOX_MM = 1e5


@dataclass(frozen=True)
class SharpEdge:
    """Edges that elements are graded towards: a test for points on them, and a length scale."""

    on: Callable[[Any], bool]
    scale_mm: float
    words: str
    must_exist: bool = True


@dataclass(frozen=True)
class AirSolid:
    """A solid of air, its sharp edges, and where its outer boundary lies."""

    solid: Any
    edges: list[SharpEdge]
    far_radius_mm: float = 0.0


def inner_air(shape: HoleShape, section: BoreSection, *, finger: bool) -> AirSolid:
    """Bore and tube up to the rim plane, or up to a finger that closes it."""
    from netgen import occ

    tube = tube_of(shape)
    if finger:
        tube = tube - _finger(shape)
    else:
        tube.faces.Max(occ.Z).name = "rim"
    solid = bore_with(tube, shape, section)
    return AirSolid(_cut_to_symmetry(solid, shape), _inner_edges(shape))


def far_radius_mm(shape: HoleShape, outer_end: float) -> float:
    """Radius (mm) of the outer boundary: ``outer_end`` times what stands in it."""
    foot = shape.radius_mm + shape.chimney_wall_mm
    pad = shape.lift_mm + shape.pad_thickness_mm if _has_pad(shape) else 0.0
    size = max(foot, shape.pad_radius_mm, shape.counterbore_radius_mm, shape.chimney_mm, pad)
    return outer_end * max(size, shape.body_radius_mm or 0.0)


def whole_air(shape: HoleShape, section: BoreSection, radius: float) -> AirSolid:
    """Bore, tube and outside up to a ``radius`` (mm), with an open pad if there is one."""
    # Cut before joining: fewer curves meet, and the kernel keeps a cone's spherical ends.
    inside = _cut_to_symmetry(bore_with(tube_of(shape), shape, section), shape)
    outer = outer_air(shape, radius, inside)
    return AirSolid(outer.solid, _inner_edges(shape) + outer.edges, radius)


def outer_air(shape: HoleShape, radius: float, inside: Any) -> AirSolid:
    """The outside up to a ``radius`` (mm), joined to air ``inside`` that is cut already.

    The edges are those of the outside.
    """
    from netgen import occ

    rim, crown = shape.rim_mm, shape.crown_mm
    foot = shape.radius_mm + shape.chimney_wall_mm
    if shape.body_radius_mm is None:
        centre = crown
        body = occ.Box(
            occ.Pnt(-2 * radius, -2 * radius, crown - 2 * radius),
            occ.Pnt(2 * radius, 2 * radius, crown),
        )
    else:
        # Seen from afar a source on a long cylinder lies one radius above its surface: the
        # dipole of the source at the crown is doubled by the cylinder.
        centre = crown + shape.body_radius_mm
        body = occ.Cylinder(
            occ.Pnt(-2 * radius, 0, crown - shape.body_radius_mm),
            occ.X,
            r=shape.body_radius_mm,
            h=4 * radius,
        )
    ball = occ.Sphere(occ.Pnt(0, 0, centre), radius)
    ball.faces.name = "far"
    outside = ball - body
    edges: list[SharpEdge] = []
    if shape.chimney_mm < 0:
        outside = outside + rod(
            shape.counterbore_radius_mm, rim - shape.seat_relief_mm, crown + 1.0
        )
    if shape.chimney_wall_mm:
        outside = outside - rod(foot, shape.inner_end_mm, rim)
        edges.append(SharpEdge(_circle(foot, rim), foot, "outer edge of the rim", False))
    if _has_pad(shape):
        face = rim + shape.lift_mm
        top = face + shape.pad_thickness_mm
        outside = outside - rod(shape.pad_radius_mm, face, top)
        edges.append(SharpEdge(_circle(shape.pad_radius_mm, face), shape.radius_mm, "pad"))
        # The edge of its back counts too little to be worth the elements.
    if shape.is_drilled and shape.body_radius_mm is not None:
        on = _saddle(shape.radius_mm, shape.body_radius_mm, crown - shape.body_radius_mm)
        edges.append(SharpEdge(on, shape.radius_mm, "rim"))
    else:
        edges.append(SharpEdge(_circle(shape.radius_mm, rim), shape.radius_mm, "rim"))
    return AirSolid(inside + _cut_to_symmetry(outside, shape), edges, radius)


def _has_pad(shape: HoleShape) -> bool:
    return shape.cover == HoleCover.PAD


def rod(radius: float, start: float, end: float) -> Any:
    """A cylinder (mm) about the hole's axis."""
    from netgen import occ

    return occ.Cylinder(occ.Pnt(0, 0, start), occ.Z, r=radius, h=end - start)


def bore_with(tube: Any, shape: HoleShape, section: BoreSection) -> Any:
    """Piece of bore, less a lining, with the hole's tube.

    The tube is joined before a cone gets its spherical ends: the kernel loses the solid if it
    has to do so the other way round.
    """
    from netgen import occ

    start, end = section.upper_mm, section.lower_mm
    slope, middle = shape.bore_slope, shape.bore_radius_mm
    if section.is_conical:
        # Room for the spherical ends, which bulge away from the apex by less than that.
        start -= 0.3 * (middle + slope * start)
        end += 0.3 * (middle + slope * end)
        radii = middle + slope * start, middle + slope * end
        axis = occ.gp_Ax2(occ.Pnt(start, 0, 0), occ.X)
        bore = occ.Cone(axis, *radii, end - start, 2 * math.pi)
        bore.faces.name = "bore"
    else:
        bore = occ.Cylinder(
            occ.Pnt(start, 0, 0),
            occ.X,
            r=middle,
            h=end - start,
            bottom="upper",
            top="lower",
            mantle="bore",
        )
    if shape.into_bore_mm:
        bore = bore - rod(shape.lining_radius_mm, shape.inner_end_mm, shape.rim_mm)
    solid = bore + tube
    if section.is_conical:
        apex = occ.Pnt(-middle / slope, 0, 0)
        near, far = sorted((section.upper, section.lower), key=lambda side: side.end)
        for side, inside in ((far, True), (near, False)):
            cap = occ.Sphere(apex, side.end)
            cap.faces.name = "upper" if side is section.upper else "lower"
            solid = solid * cap if inside else solid - cap
    return solid


def tube_of(shape: HoleShape) -> Any:
    """The hole's own air from the bore's axis to the rim plane."""
    from netgen import occ

    mouth, radius, end = shape.mouth_radius_mm, shape.radius_mm, shape.inner_end_mm
    start = 0.0  # inside the bore's air, whose wall may be lower at the hole's sides
    if not shape.undercut_radius_mm:
        return rod(radius, start, shape.rim_mm)
    straight, top = end + shape.undercut_straight_mm, end + shape.undercut_depth_mm
    tube = rod(mouth, start, straight)
    if top > straight:
        axis = occ.gp_Ax2(occ.Pnt(0, 0, straight), occ.Z)
        tube = tube + occ.Cone(axis, mouth, radius, top - straight, 2 * math.pi)
    return tube + rod(radius, top, shape.rim_mm)


def closing_height_mm(shape: HoleShape) -> float:
    """Where a finger's cap meets the tube: the mean height of the rim of a drilled hole."""
    if not shape.is_drilled or shape.body_radius_mm is None:
        return shape.rim_mm
    # Mean sagitta of the body over the hole, by Gauss and Chebyshev.
    count = 40
    angles = [i * math.pi / (count + 1) for i in range(1, count + 1)]
    sagitta = [
        shape.body_radius_mm
        - math.sqrt(shape.body_radius_mm**2 - (shape.radius_mm * math.cos(t)) ** 2)
        for t in angles
    ]
    weights = [math.sin(t) ** 2 for t in angles]
    mean = sum(w * s for w, s in zip(weights, sagitta, strict=True)) / sum(weights)
    return shape.rim_mm - mean


def _finger(shape: HoleShape) -> Any:
    """Everything above a spherical cap through the rim that is ``flesh_mm`` deep."""
    from netgen import occ

    height, depth, radius = closing_height_mm(shape), shape.flesh_mm, shape.radius_mm
    beyond = rod(2 * radius, height, shape.rim_mm + 1.0)
    if depth == 0:
        return beyond
    curvature = (radius**2 + depth**2) / (2 * depth)
    ball = occ.Sphere(occ.Pnt(0, 0, height - depth + curvature), curvature)
    ball.faces.name = "finger"
    return beyond + ball


def _inner_edges(shape: HoleShape) -> list[SharpEdge]:
    mouth, end = shape.mouth_radius_mm, shape.inner_end_mm
    slope = shape.bore_slope if shape.is_conical else 0.0
    saddle = _saddle(mouth, shape.bore_radius_mm, 0.0, slope)
    # A lining wider than the bore's chord at its end stops at the wall on both sides.
    edges = [SharpEdge(saddle, mouth, "mouth", must_exist=not shape.into_bore_mm)]
    if shape.into_bore_mm:
        edges.append(SharpEdge(_circle(mouth, end), shape.radius_mm, "mouth of the lining"))
        lining = _circle(shape.lining_radius_mm, end)
        edges.append(SharpEdge(lining, shape.radius_mm, "end of the lining"))
    if shape.undercut_radius_mm:
        if shape.is_conical and shape.undercut_straight_mm < shape.undercut_depth_mm:
            # Where the bore is wider than at the hole's axis it meets the undercut's cone.
            edges.append(SharpEdge(_on_cone(shape), mouth, "mouth in the cone", must_exist=False))
        on = _circle(shape.radius_mm, end + shape.undercut_depth_mm)
        edges.append(SharpEdge(on, shape.radius_mm, "top of the undercut"))
    return edges


def _circle(radius: float, height: float) -> Callable[[Any], bool]:
    def on(point: Any) -> bool:
        return (
            abs(math.hypot(point.x, point.y) - radius) < _ON_MM and abs(point.z - height) < _ON_MM
        )

    return on


def _saddle(
    radius: float, cylinder: float, axis: float, slope: float = 0.0
) -> Callable[[Any], bool]:
    """Where the hole's tube meets a round wall about an axis at height ``axis``."""

    def on(point: Any) -> bool:
        wall = math.hypot(point.y, point.z - axis)
        return (
            abs(math.hypot(point.x, point.y) - radius) < _ON_MM
            and abs(wall - cylinder - slope * point.x) < _ON_MM
            and point.z > axis
        )

    return on


def _on_cone(shape: HoleShape) -> Callable[[Any], bool]:
    """Where an undercut's cone meets a conical bore's wall."""
    start = shape.inner_end_mm + shape.undercut_straight_mm
    length = shape.undercut_depth_mm - shape.undercut_straight_mm
    narrowing = (shape.mouth_radius_mm - shape.radius_mm) / length

    def on(point: Any) -> bool:
        radius = shape.mouth_radius_mm - narrowing * (point.z - start)
        wall = shape.bore_radius_mm + shape.bore_slope * point.x
        return bool(
            abs(math.hypot(point.x, point.y) - radius) < _ON_MM
            and abs(math.hypot(point.y, point.z) - wall) < _ON_MM
            and point.z > 0
        )

    return on


def _cut_to_symmetry(solid: Any, shape: HoleShape) -> Any:
    from netgen import occ

    big = _BOX_MM
    start = -big if shape.is_conical else 0.0
    box = occ.Box(occ.Pnt(start, 0, -big), occ.Pnt(big, big, big))
    if not shape.is_conical:
        box.faces.Min(occ.X).name = "middle"
    return solid * box
