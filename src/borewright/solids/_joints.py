"""Can tenons and sockets be made on this part at all? Asked before the kernel is."""

from __future__ import annotations

from borewright.errors import SolidsError
from borewright.model import Part, Socket, Tenon
from borewright.solids._profiles import ends_mm, inside_outline, outside_outline, radius_range


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
    place = f"part '{part.name}', tenon_{end}"
    body = part.outside_diameter_at(0.0 if end == "top" else part.length_mm)
    if tenon.diameter_mm >= body:
        raise SolidsError(
            f"the tenon ({tenon.diameter_mm:g} mm) is as wide as the body there ({body:g} mm), "
            "so there is no shoulder",
            place=place,
            remedy="Make the tenon narrower or the body wider.",
        )
    bore = 2 * radius_range(inside_outline(part), *span)[1]
    groove = tenon.diameter_mm - 2 * (tenon.cork_depth_mm if tenon.cork_length_mm else 0.0)
    if groove <= bore:
        raise SolidsError(
            f"the tenon is {groove:g} mm wide under its cork, the bore {bore:.2f} mm: "
            "no wall is left",
            place=place,
            remedy="Make the tenon wider or the cork groove shallower; "
            "2.5 mm of wall under the cork is usual (from memory).",
        )


def _check_socket(part: Part, socket: Socket, end: str) -> None:
    depth = min(socket.depth_mm, part.length_mm)
    span = (0.0, depth) if end == "top" else (part.length_mm - depth, part.length_mm)
    place = f"part '{part.name}', socket_{end}"
    body = 2 * radius_range(outside_outline(part), *span)[0]
    if socket.diameter_mm >= body:
        raise SolidsError(
            f"the socket ({socket.diameter_mm:g} mm) is as wide as the body there ({body:.2f} mm)",
            place=place,
            remedy="Make the socket narrower or the body wider.",
        )
    bore_points = [(d / 2, s) for s, d in part.bore]
    bore = 2 * radius_range(bore_points, *span)[1]
    if socket.diameter_mm <= bore:
        raise SolidsError(
            f"the socket ({socket.diameter_mm:g} mm) is no wider than the bore there "
            f"({bore:.2f} mm), so the tenon would find no floor to stop at",
            place=place,
            remedy="Make the socket wider than the bore.",
        )
