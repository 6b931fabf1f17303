"""What must fit together in a body: sockets, rings' seats and grooves inside it, names that exist.

Only what no body could be is refused here; what is merely too thin to make is a finding of
``check``.
"""

from __future__ import annotations

from collections.abc import Iterable

from borewright.errors import RefusedValue
from borewright.model.fit_wishes import FitWishes, read_free
from borewright.model.part_shape import PartShape, Socket, Tenon
from borewright.model.profile import diameter_at
from borewright.words import Message, say


def check_joints(part: PartShape) -> None:
    """Sockets, rings' seats and cork grooves lie inside the body, with a wall on both sides."""
    for end, socket in ((say("top"), part.socket_top), (say("bottom"), part.socket_bottom)):
        if socket is not None:
            _check_socket(part, end, socket)
    depth = sum(one.depth_mm for one in (part.socket_top, part.socket_bottom) if one)
    if depth >= part.length_mm:
        raise RefusedValue(
            say(
                "its sockets are {depth_mm:g} mm deep in all, but the part is {length_mm:g} mm "
                "long",
                depth_mm=depth,
                length_mm=part.length_mm,
            ),
            say("Make the sockets shallower, so that body is left between them."),
        )
    for end, tenon in ((say("top"), part.tenon_top), (say("bottom"), part.tenon_bottom)):
        if tenon is not None:
            _check_groove(part, end, tenon)


def _check_socket(part: PartShape, end: Message, socket: Socket) -> None:
    reach = (0.0, socket.depth_mm)
    if socket is part.socket_bottom:
        reach = (part.length_mm - socket.depth_mm, part.length_mm)
    outer = min(_diameters(part.outside, *reach))
    if socket.diameter_mm >= outer:
        raise RefusedValue(
            say(
                "the {end} socket ({diameter_mm:g} mm) reaches the outside of the body "
                "({outer:g} mm)",
                end=end,
                diameter_mm=socket.diameter_mm,
                outer=outer,
            ),
            say("Make the socket narrower or the body thicker there."),
        )
    floor = socket.depth_mm if socket is part.socket_top else part.length_mm - socket.depth_mm
    inner = diameter_at(part.bore, floor, 1 if socket is part.socket_top else -1)
    if socket.diameter_mm <= inner:
        raise RefusedValue(
            say(
                "the {end} socket ({diameter_mm:g} mm) is no wider than the bore at its floor "
                "({inner:g} mm)",
                end=end,
                diameter_mm=socket.diameter_mm,
                inner=inner,
            ),
            say("A socket is as much wider than the bore as the tenon's wall is thick, twice."),
        )
    if socket.ring_length_mm and not socket.diameter_mm < socket.ring_inside_mm < outer:
        raise RefusedValue(
            say(
                "the {end} socket's ring is {ring_mm:g} mm inside, which lies not between the "
                "socket ({diameter_mm:g} mm) and the outside ({outer:g} mm)",
                end=end,
                ring_mm=socket.ring_inside_mm,
                diameter_mm=socket.diameter_mm,
                outer=outer,
            ),
            say("Give the diameter of the seat that is turned down for the ring."),
        )


def _check_groove(part: PartShape, end: Message, tenon: Tenon) -> None:
    reach = (-tenon.length_mm, 0.0)
    if tenon is part.tenon_bottom:
        reach = (part.length_mm, part.length_mm + tenon.length_mm)
    inner = max(_diameters(part.bore, *reach))
    if tenon.core_mm <= inner:
        raise RefusedValue(
            say(
                "the cork groove of the {end} tenon leaves {core_mm:g} mm, and the bore is "
                "{inner:g} mm",
                end=end,
                core_mm=tenon.core_mm,
                inner=inner,
            ),
            say("Make the groove shallower or the tenon thicker."),
        )


def _diameters(profile: list[tuple[float, float]], top: float, bottom: float) -> list[float]:
    inside = [diameter for station, diameter in profile if top < station < bottom]
    return [diameter_at(profile, top, 1), *inside, diameter_at(profile, bottom, -1)]


def check_named(fit: FitWishes, parts: Iterable[PartShape]) -> None:
    """Parts and holes that the wishes of a file's fit name are there; RefusedValue."""
    parts = list(parts)
    part_names = [part.name for part in parts]
    hole_names = [hole.name for part in parts for hole in part.holes]
    known = {*part_names, *hole_names}
    for key, wishes in (("free", fit.free), ("ranges", fit.ranges)):
        for wish in wishes:
            read = read_free(wish)
            wanted = [read.owner] if read.owner not in ("hole", "*") else []
            for name in (*wanted, *read.excepted):
                if name not in known:
                    raise _nobody(key, wish, name, part_names, hole_names)
    for name, alike in fit.alike.items():
        for hole in alike:
            if hole not in hole_names:
                raise _nobody("alike", name, hole, [], hole_names)
    for also in fit.also:
        for name in (*also.lengths, *also.pulled):
            if name not in part_names:
                raise _nobody("also", also.name, name, part_names, [])


def _nobody(key: str, wish: str, name: str, parts: list[str], holes: list[str]) -> RefusedValue:
    return RefusedValue(
        say(
            "{key}: '{wish}' names '{name}', which the instrument does not have",
            key=key,
            wish=wish[:60],
            name=name[:60],
        ),
        say("Write one of: {names}.", names=", ".join([*parts, *holes]) or say("(none)")),
    )
