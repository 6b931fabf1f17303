"""All air in and around a resonator as one solid.

Axes: x down the bore from its top; a hole of bearing 0 points along z. Where all holes lie in
one plane through the axis, the plane is turned to y = 0 and only y > 0 is made.

Faces: ``top`` (the driven end of the bore), ``bore``, ``finger`` (the flesh that closes a hole)
and ``far`` (the outer sphere).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from borewright.acoustics.solved._air import closing_height_mm
from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.acoustics.solved.whole.body import Body, Outline, PlacedHole

#: How far (mm) tools overshoot what they cut, so that no faces coincide.
_OVER_MM = 1.0
#: Wall (mm) of what stops a closed hole.
_STOP_MM = 1.5
_BOX_MM = 1e5
_ON_RAD = 1e-9


@dataclass(frozen=True)
class WholeAir:
    """The solid, how it is turned (rad), and how many such pieces make up the whole."""

    solid: Any
    turn: float
    share: int
    far_radius_mm: float


def turn_to_plane(body: Body) -> float | None:
    """Bearing (rad) of the plane through the axis that holds all holes; None without one."""
    if not body.holes:
        return 0.0
    first = body.holes[0].bearing
    flat = all(abs(math.sin(hole.bearing - first)) < _ON_RAD for hole in body.holes)
    return first if flat else None


def whole_air(body: Body, far_radius_mm: float) -> WholeAir:
    """Ball of air less body, walls, pads and what stops closed holes."""
    from netgen import occ

    plane = turn_to_plane(body)
    turn = plane or 0.0
    solid = _revolved(_closed_outline(body.outside))
    opened = [hole for hole in body.holes if hole.is_open]
    for hole in opened:
        shape = hole.shape
        if shape.chimney_mm < 0:
            floor = shape.rim_mm - shape.seat_relief_mm
            high = shape.crown_mm + _OVER_MM
            solid = solid - _placed(_rod(shape.counterbore_radius_mm, floor, high), hole, turn)
    for hole in body.holes:
        post = _post(hole)
        if post is not None:
            solid = solid + _placed(post, hole, turn)
    bore = _bore(body)
    solid = solid - bore
    for hole in body.holes:
        shape = hole.shape
        if shape.into_bore_mm:
            wall = (shape.bore_radius_mm + min(shape.rim_mm, shape.crown_mm)) / 2
            lining = _rod(shape.lining_radius_mm, shape.inner_end_mm, wall)
            solid = solid + _placed(lining, hole, turn)
    for hole in body.holes:
        solid = solid - _placed(_tube(hole), hole, turn)
    ball = occ.Sphere(occ.Pnt(body.middle_mm, 0, 0), far_radius_mm)
    ball.faces.name = "far"
    if plane is not None:
        ball = ball * occ.Box(occ.Pnt(-_BOX_MM, 0, -_BOX_MM), occ.Pnt(_BOX_MM, _BOX_MM, _BOX_MM))
    air = ball - solid
    for hole in opened:
        shape = hole.shape
        if shape.cover == HoleCover.PAD:
            face = shape.rim_mm + shape.lift_mm
            pad = _rod(shape.pad_radius_mm, face, face + shape.pad_thickness_mm)
            air = air - _placed(pad, hole, turn)
    return WholeAir(air, turn, 1 if plane is None else 2, far_radius_mm)


def _closed_outline(outline: Outline) -> list[tuple[float, float]]:
    return [(outline[0][0], 0.0), *outline, (outline[-1][0], 0.0)]


def _revolved(points: list[tuple[float, float]]) -> Any:
    """Solid of revolution about x of a closed polygon of (x, radius)."""
    from netgen import occ

    corners = [occ.Pnt(x, 0, r) for x, r in points]
    lines = [
        occ.Segment(one, other)
        for one, other in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    face = occ.Face(occ.Wire(lines))
    return face.Revolve(occ.Axis(occ.Pnt(0, 0, 0), occ.X), 360)


def _bore(body: Body) -> Any:
    from netgen import occ

    outline = list(body.bore)
    if not body.bottom_is_closed:
        outline.append((outline[-1][0] + _OVER_MM, outline[-1][1]))
    bore = _revolved(_closed_outline(tuple(outline)))
    bore.faces.name = "bore"
    bore.faces.Min(occ.X).name = "top"
    return bore


def _post(hole: PlacedHole) -> Any | None:
    """Chimney or land of an open hole; a stopper round and over a closed one."""
    shape = hole.shape
    if hole.is_open:
        wall = shape.chimney_wall_mm
        return _rod(shape.radius_mm + wall, 0.0, shape.rim_mm) if wall else None
    wall = max(shape.chimney_wall_mm, 1.0)
    top = max(shape.rim_mm, shape.crown_mm) + _STOP_MM
    return _rod(shape.radius_mm + wall, 0.0, top)


def _tube(hole: PlacedHole) -> Any:
    """The hole's own air from the bore's axis, beyond the rim where it is open."""
    from netgen import occ

    shape = hole.shape
    rim = shape.rim_mm + (_OVER_MM if hole.is_open else 0.0)
    if not shape.undercut_radius_mm:
        tube = _rod(shape.radius_mm, 0.0, rim)
    else:
        mouth, end, depth = shape.mouth_radius_mm, shape.inner_end_mm, shape.undercut_depth_mm
        cone = occ.Cone(
            occ.gp_Ax2(occ.Pnt(0, 0, end), occ.Z), mouth, shape.radius_mm, depth, 2 * math.pi
        )
        tube = _rod(mouth, 0.0, end) + cone + _rod(shape.radius_mm, end + depth, rim)
    if not hole.is_open and shape.cover == HoleCover.FINGER:
        tube = tube - _flesh(shape)
    return tube


def _flesh(shape: HoleShape) -> Any:
    """A finger that closes the hole: everything above a spherical cap through the rim."""
    from netgen import occ

    height, depth, radius = closing_height_mm(shape), shape.flesh_mm, shape.radius_mm
    beyond = _rod(2 * radius, height, shape.rim_mm + _OVER_MM)
    if depth == 0:
        return beyond
    curvature = (radius**2 + depth**2) / (2 * depth)
    ball = occ.Sphere(occ.Pnt(0, 0, height - depth + curvature), curvature)
    ball.faces.name = "finger"
    return beyond + ball


def _rod(radius: float, start: float, end: float) -> Any:
    from netgen import occ

    return occ.Cylinder(occ.Pnt(0, 0, start), occ.Z, r=radius, h=end - start)


def _placed(tool: Any, hole: PlacedHole, turn: float) -> Any:
    """A tool made about the z axis, moved to its hole."""
    from netgen import occ

    degrees = -math.degrees(hole.bearing - turn)
    turned = tool.Rotate(occ.Axis(occ.Pnt(0, 0, 0), occ.X), degrees)
    return turned.Move((hole.station_mm, 0.0, 0.0))
