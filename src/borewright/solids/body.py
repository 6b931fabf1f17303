"""A printable part as one B-rep solid."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from borewright.errors import SolidsError
from borewright.model import Instrument, Part, ToneHole
from borewright.solids._conflicts import check_conflicts
from borewright.solids._joints import check_joints
from borewright.solids._plan import HolePlan, plan_hole
from borewright.solids._profiles import inside_outline, lengthened, outside_outline

if TYPE_CHECKING:
    from build123d import Solid

    from borewright.solids._kernel import Tool


#: Where the body's seam is tried (degrees from the quietest bearing).
_SEAM_TURNS_DEG = (0.0, 20.0, -20.0)


def part_body(instrument: Instrument, part_name: str) -> Solid:
    """The solid of a part as it is to be made: nominal dimensions, nothing compensated.

    The part stands on the z axis with its top shoulder at z = 0 and z growing downwards to
    the bell, front at -y; see :func:`borewright.solids.bearing_direction`. Tenons reach
    beyond the shoulders. Every hole's tube has the height that the model derives
    (``Part.tube_height_mm``) on its centre line: chimneys and seats end in a flat plane at
    the rim, a finger hole without chimney is drilled through the body as it is.

    Parameters
    ----------
    instrument
        The instrument; its ``fit.chimney_wall_mm`` is the wall of chimneys and linings.
    part_name
        Which part.

    Raises
    ------
    SolidsError
        If there is no such part, if features would destroy each other, or if the kernel
        fails; the message names part, hole, the value tried and what to try next.
    """
    try:
        part = instrument.part(part_name)
    except KeyError as error:
        raise SolidsError(
            f"there is no part '{part_name}'",
            place=f"'{instrument.name}'",
            remedy=f"Parts are: {', '.join(part.name for part in instrument.parts)}.",
        ) from error
    check_joints(part)
    plans = plan_holes(instrument, part)
    check_conflicts(part, plans)
    return _build(part, plans)


def body_volume_mm3(body: Solid) -> float:
    """Volume (mm³) of a body to about a millionth, integrated to that error.

    The kernel's own quick integral is off by up to 0.1 mm³ on a joint, and differently for
    every bearing of the same hole.
    """
    from borewright.solids import _kernel

    return _kernel.volume_mm3(body)


def plan_holes(instrument: Instrument, part: Part) -> list[HolePlan]:
    """Outlines of all holes of a part (private to this room)."""
    far = max(radius for radius, _ in outside_outline(part)) + 2.0
    far += max([hole.chimney_mm for hole in part.holes] + [0.0])
    return [
        plan_hole(
            part,
            hole,
            wall_mm=instrument.fit.chimney_wall_mm,
            far_mm=far,
            room_mm=_room_around(part, hole),
        )
        for hole in part.holes
    ]


def _room_around(part: Part, hole: ToneHole) -> float:
    """Distance (mm) along the outside from a hole's centre to the next hole or end."""
    room = min(hole.station_mm, part.length_mm - hole.station_mm)
    for other in part.holes:
        if other is not hole:
            turn = abs((other.bearing_deg - hole.bearing_deg + 180) % 360 - 180)
            girth = math.radians(turn) * part.outside_diameter_at(hole.station_mm) / 2
            apart = math.hypot(other.station_mm - hole.station_mm, girth)
            room = min(room, apart - other.diameter_mm / 2)
    return room


def _build(part: Part, plans: list[HolePlan]) -> Solid:
    quiet = _quiet_bearing(part)
    failures = []
    # Nearly tangent cuts succeed or fail with where the body's seam runs: try beside it too.
    for turn in _SEAM_TURNS_DEG:
        try:
            return _built(part, plans, quiet + turn)
        except SolidsError as error:
            failures.append(error)
    raise failures[0]


def _built(part: Part, plans: list[HolePlan], seam: float) -> Solid:
    from borewright.solids import _kernel

    place = f"part '{part.name}'"
    try:
        body = _kernel.round_body(outside_outline(part), seam)
        bore = _kernel.round_body(lengthened(inside_outline(part)), seam)
    except Exception as error:  # the kernel's failures share no base class
        raise SolidsError(
            f"the kernel could not revolve the outside or the bore ({error})",
            place=place,
            remedy="Look for profile points that lie on top of each other or cross.",
        ) from error
    body = _kernel.applied(body, _tools(part, plans, "boss"), "fuse")
    body = _kernel.applied(body, _tools(part, plans, "seat"), "cut")
    through = _kernel.Tool(
        bore,
        (0.0, 0.0, part.length_mm / 2),
        place,
        "the bore",
        "Look for a bore that meets the outside.",
    )
    body = _kernel.applied(body, [through], "cut")
    body = _kernel.applied(body, _tools(part, plans, "lining"), "fuse")
    body = _kernel.applied(body, _tools(part, plans, "air"), "cut")
    body.label = part.name
    return body


def _tools(
    part: Part, plans: list[HolePlan], feature: Literal["boss", "seat", "lining", "air"]
) -> list[Tool]:
    from borewright.solids import _kernel

    tools = []
    for plan in plans:
        outline = getattr(plan, feature)
        if outline is None:
            continue
        hole = plan.hole
        words, remedy = {
            "boss": (
                f"the chimney with its rim {plan.rim_mm:.3f} mm from the axis",
                f"Try a chimney_mm a little off {hole.chimney_mm:g}.",
            ),
            "seat": (
                f"the seat {2 * plan.seat_radius_mm:.2f} mm across at chimney_mm "
                f"{hole.chimney_mm:g}",
                "Try a pad diameter or chimney_mm a little larger or smaller.",
            ),
            "lining": (
                f"the lining tube standing {hole.into_bore_mm:g} mm into the bore",
                "Try an into_bore_mm a little larger, or 0.",
            ),
            "air": (
                f"the hole of {hole.diameter_mm:g} mm",
                f"Try a diameter or station a little off {hole.station_mm:g}, "
                "or a smaller undercut.",
            ),
        }[feature]
        tools.append(
            _kernel.Tool(
                _kernel.round_tool(outline, hole),
                _kernel.beside_hole(hole, plan.witness(feature)),
                f"part '{part.name}', hole '{hole.name}'",
                words,
                remedy,
            )
        )
    return tools


def _quiet_bearing(part: Part) -> float:
    """A bearing for the body's seam far from any hole: edges on a seam strain the kernel."""
    taken = sorted(hole.bearing_deg % 360 for hole in part.holes)
    if not taken:
        return 0.0
    gaps = [
        (after - before, before)
        for before, after in zip(taken, [*taken[1:], taken[0] + 360], strict=True)
    ]
    width, start = max(gaps)
    return (start + width / 2 + 180) % 360 - 180
