"""Can tenons and sockets be made on this part at all? Asked before the kernel is."""

from __future__ import annotations

from borewright.errors import SolidsError
from borewright.model import Part, Socket, Tenon
from borewright.solids._profiles import ends_mm, inside_outline, outside_outline, radius_range
from borewright.words import say


def check_joints(part: Part) -> None:
    """Raise SolidsError where a tenon or socket leaves no wall, shoulder or floor."""
    for end, tenon, socket in (
        ("top", part.tenon_top, part.socket_top),
        ("bottom", part.tenon_bottom, part.socket_bottom),
    ):
        if tenon:
            _check_tenon(part, tenon, end)
        if socket:
            _check_socket(part, socket, end)


def _check_tenon(part: Part, tenon: Tenon, end: str) -> None:
    top, bottom = ends_mm(part)
    span = (top, 0.0) if end == "top" else (part.length_mm, bottom)
    place = (say("part '{part}'", part=part.name), f"tenon_{end}")
    body = part.outside_diameter_at(0.0 if end == "top" else part.length_mm)
    if tenon.diameter_mm >= body:
        raise SolidsError(
            say(
                "the tenon ({tenon_mm:g} mm) is as wide as the body there ({body_mm:g} mm), "
                "so there is no shoulder",
                tenon_mm=tenon.diameter_mm,
                body_mm=body,
            ),
            place=place,
            remedy=say("Make the tenon narrower or the body wider."),
        )
    bore = 2 * radius_range(inside_outline(part), *span)[1]
    groove = tenon.core_mm
    if groove <= bore:
        raise SolidsError(
            say(
                "the tenon is {groove_mm:g} mm wide under its cork, the bore {bore_mm:.2f} mm: "
                "no wall is left",
                groove_mm=groove,
                bore_mm=bore,
            ),
            place=place,
            remedy=say(
                "Make the tenon wider or the cork groove shallower; "
                "2.5 mm of wall under the cork is usual (from memory)."
            ),
        )


def _check_socket(part: Part, socket: Socket, end: str) -> None:
    depth = min(socket.depth_mm, part.length_mm)
    span = (0.0, depth) if end == "top" else (part.length_mm - depth, part.length_mm)
    place = (say("part '{part}'", part=part.name), f"socket_{end}")
    body = 2 * radius_range(outside_outline(part), *span)[0]
    if socket.diameter_mm >= body:
        raise SolidsError(
            say(
                "the socket ({socket_mm:g} mm) is as wide as the body there ({body_mm:.2f} mm)",
                socket_mm=socket.diameter_mm,
                body_mm=body,
            ),
            place=place,
            remedy=say("Make the socket narrower or the body wider."),
        )
    bore_points = [(d / 2, s) for s, d in part.bore]
    bore = 2 * radius_range(bore_points, *span)[1]
    if socket.diameter_mm <= bore:
        raise SolidsError(
            say(
                "the socket ({socket_mm:g} mm) is no wider than the bore there "
                "({bore_mm:.2f} mm), so the tenon would find no floor to stop at",
                socket_mm=socket.diameter_mm,
                bore_mm=bore,
            ),
            place=place,
            remedy=say("Make the socket wider than the bore."),
        )
