"""The only door to the B-rep kernel: revolve, join, cut, and say which hole it was that failed.

Loads build123d (about two seconds), so it is imported inside the functions that need it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple, Protocol

from build123d import Axis, Face, Plane, SkipClean, Solid, Vector, Wire
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_State

from borewright.errors import SolidsError
from borewright.solids._profiles import Points
from borewright.solids.axes import bearing_direction
from borewright.words import Message, Place, say

#: A point this near (mm) to a face counts as on it.
_NEAR_MM = 1e-6


class Placed(Protocol):
    """Whatever stands at a station and a bearing: tone holes, posts, screws."""

    @property
    def station_mm(self) -> float:
        """Station (mm) of its axis."""

    @property
    def bearing_deg(self) -> float:
        """Bearing (degrees) of its axis."""


class Tool(NamedTuple):
    """A solid to join or cut, a point that tells whether it was, and words for a failure.

    Without a witness (letters have no simple inner point) validity alone is asked.
    """

    solid: Solid
    witness: tuple[float, float, float] | None
    place: Place
    tried: Message
    remedy: Message


def round_body(outline: Points, seam_bearing_deg: float) -> Solid:
    """Solid of revolution about the part's axis; the outline is (radius, station), open."""
    x, y = bearing_direction(seam_bearing_deg)
    closed = [*outline, (0.0, outline[-1][1]), (0.0, outline[0][1])]
    wire = Wire.make_polygon([(r * x, r * y, s) for r, s in closed], close=True)
    return Solid.revolve(Face(wire), 360.0, Axis((0, 0, 0), (0, 0, 1)))


def round_tool(outline: Points, hole: Placed) -> Solid:
    """Solid of revolution about a hole's axis; the outline is (radius, distance), closed."""
    points = [beside_hole(hole, point) for point in outline]
    axis = Axis((0, 0, hole.station_mm), (*bearing_direction(hole.bearing_deg), 0))
    return Solid.revolve(Face(Wire.make_polygon(points, close=True)), 360.0, axis)


def long_tool(outline: Points, hole: Placed, lift: float) -> Solid:
    """The same hollow drawn out: ``lift`` (mm) longer along the body, or across it if negative.

    Two halves of the round tool apart, and what their middle sweeps between them.
    """
    if not lift:
        return round_tool(outline, hole)
    x, y = bearing_direction(hole.bearing_deg)
    way = Vector(0.0, 0.0, 1.0) if lift > 0 else Vector(-y, x, 0.0)
    side, out = Vector(x, y, 0.0).cross(way), Vector(x, y, 0.0)
    centre = Vector(0.0, 0.0, hole.station_mm)
    solids = []
    for sign in (1, -1):
        start = centre + way * (sign * abs(lift) / 2)
        points = [start + side * radius + out * distance for radius, distance in outline]
        face = Face(Wire.make_polygon(points, close=True))
        axis = Axis(start, out * -sign)
        solids.append(Solid.revolve(face, 180.0, axis))
    start = centre - way * (abs(lift) / 2)
    both = [*outline, *((-radius, distance) for radius, distance in reversed(outline) if radius)]
    points = [start + side * radius + out * distance for radius, distance in both]
    middle = Solid.extrude(Face(Wire.make_polygon(points, close=True)), way * abs(lift))
    return middle.fuse(*solids).solid()


def beside_hole(hole: Placed, point: tuple[float, float]) -> tuple[float, float, float]:
    """A (radius, distance) point of a hole's outline in space, askew of axis and girth.

    Tools have their seam there, away from where they touch the bore's crown and sides.
    """
    (radius, distance), half = point, math.sqrt(0.5)
    x, y = bearing_direction(hole.bearing_deg)
    return (
        distance * x - radius * half * y,
        distance * y + radius * half * x,
        hole.station_mm + radius * half,
    )


def box_tool(place: Placed, half_along: float, half_aside: float, low: float, high: float) -> Solid:
    """A block with its sides along the axis, between two distances from the axis."""
    x, y = bearing_direction(place.bearing_deg)
    corners = [
        (low * x - w * y, low * y + w * x, place.station_mm + a)
        for w, a in (
            (-half_aside, -half_along),
            (half_aside, -half_along),
            (half_aside, half_along),
            (-half_aside, half_along),
        )
    ]
    face = Face(Wire.make_polygon(corners, close=True))
    return Solid.extrude(face, ((high - low) * x, (high - low) * y, 0.0))


def prisms(
    letters: Sequence[Sequence[Sequence[tuple[float, float]]]],
    start: tuple[float, float, float],
    along: tuple[float, float, float],
    out: tuple[float, float, float],
    depth: float,
) -> list[Solid]:
    """Shapes drawn on a plane as prisms from ``depth`` below it to 2 mm above it.

    Each letter is a list of closed outlines, its outer one first, then holes. ``start`` is
    the drawing's origin, ``along`` its first direction, ``out`` the plane's normal.
    """
    plane = Plane(origin=start, x_dir=along, z_dir=out)
    push = plane.z_dir * (depth + 2.0)
    solids = []
    for outlines in letters:
        wires = [
            Wire.make_polygon(
                [plane.from_local_coords((x, y, -depth)) for x, y in outline], close=True
            )
            for outline in outlines
        ]
        solids.append(Solid.extrude(Face(wires[0], wires[1:]), push))
    return solids


def volume_mm3(body: Solid) -> float:
    """Volume by adaptive integration over the faces, relative error 1e-6."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(body.wrapped, properties, 1e-6, False, False)
    return float(properties.Mass())


def applied(body: Solid, tools: Sequence[Tool], operation: Literal["cut", "fuse"]) -> Solid:
    """The body with all tools joined or cut; one at a time if all at once fails.

    Raises SolidsError naming the first tool that the kernel cannot apply.
    """
    if not tools:
        return body
    try:
        return _checked(body, tools, operation)
    except Exception:  # the kernel's failures share no base class
        for tool in tools:
            try:
                body = _checked(body, [tool], operation)
            except Exception as error:
                why = error.cause if isinstance(error, SolidsError) else str(error)
                failure = (
                    say("the kernel could not add {tried} ({why})", tried=tool.tried, why=why)
                    if operation == "fuse"
                    else say("the kernel could not cut {tried} ({why})", tried=tool.tried, why=why)
                )
                raise SolidsError(failure, place=tool.place, remedy=tool.remedy) from error
        return body


def _checked(body: Solid, tools: Sequence[Tool], operation: str) -> Solid:
    with SkipClean():
        result = getattr(body, operation)(*(tool.solid for tool in tools))
    solids = result.solids() if result is not None else []
    if len(solids) != 1:
        raise SolidsError(
            say("the result is {count} bodies instead of one", count=len(solids)),
            remedy=say("Move what stands close apart by a tenth of a millimetre."),
        )
    solid = solids[0]
    if not solid.is_valid:
        raise SolidsError(
            say("the result is not a valid solid"),
            remedy=say("Move what stands close apart by a tenth of a millimetre."),
        )
    # Kernels have been known to return the body untouched: ask at a point of each tool.
    asked = BRepClass3d_SolidClassifier(solid.wrapped)  # one for all points: it sorts the faces
    for tool in tools:
        if tool.witness is None:
            continue
        asked.Perform(gp_Pnt(*tool.witness), _NEAR_MM)
        if (asked.State() == TopAbs_State.TopAbs_IN) != (operation == "fuse"):
            raise SolidsError(
                say("the kernel left it out"),
                remedy=say("Move what stands close apart by a tenth of a millimetre."),
            )
    return solid
