"""The views of a shop drawing: longitudinal section with its dimensions, and the end view."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from borewright.documents._dimension_marks import text_width_mm
from borewright.documents._dimensioning import View
from borewright.documents._labels import spread
from borewright.documents.sheet import Layer, Point
from borewright.documents.tolerances import (
    JOINT_TOLERANCE_MM,
    LENGTH_TOLERANCE_MM,
    Tolerances,
)
from borewright.documents.unrolled import PostMark
from borewright.model import Part, ToneHole

#: Rows of dimension lines lie so far apart (mm of paper).
ROW_MM = 6.5
#: More stations than these go into the bore's table only.
_MOST_STATIONS = 5


@dataclass(frozen=True)
class SeatMark:
    """A sunk seat (mm): its hole, its diameter, and its floor's distance from the bore's axis."""

    hole: str
    diameter_mm: float
    floor_mm: float


@dataclass(frozen=True)
class ShopPart:
    """What a drawing needs of a part: its outlines as (radius, station) in mm, posts and seats."""

    part: Part
    outside: Sequence[tuple[float, float]]
    inside: Sequence[tuple[float, float]]
    posts: Sequence[PostMark] = ()
    seats: Sequence[SeatMark] = ()
    tolerances: Tolerances = field(default_factory=Tolerances)

    @property
    def ends_mm(self) -> tuple[float, float]:
        """Stations of both ends, tenons included."""
        stations = [station for _, station in self.outside]
        return min(stations), max(stations)

    @property
    def reach_mm(self) -> float:
        """Largest radius of the body."""
        return max(radius for radius, _ in self.outside)

    def seat(self, hole: str) -> SeatMark | None:
        """The sunk seat of a hole, or None."""
        return next((seat for seat in self.seats if seat.hole == hole), None)


def rim_mm(part: Part, hole: ToneHole) -> float:
    """How far a hole's rim is from the bore's axis (mm)."""
    return part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm


def draw_section(view: View, shop: ShopPart) -> None:
    """The longitudinal section, front upwards, cut walls tinted."""
    for side in (1, -1):
        wall = [*shop.outside, *reversed(list(shop.inside))]
        points = [view.at(station, side * radius) for radius, station in wall]
        view.sheet.line(points, Layer.OUTLINE, closed=True, filled=True)
    low, high = shop.ends_mm
    view.line([(low - 3, 0), (high + 3, 0)], Layer.CENTRE)
    for radius, station in (shop.inside[0], shop.inside[-1]):
        view.line([(station, -radius), (station, radius)])
    for hole in shop.part.holes:
        _hole(view, shop, hole)
    for post in shop.posts:
        side = _side(post.bearing_deg)
        if side:
            body = shop.part.outside_diameter_at(post.station_mm) / 2
            for along in (-post.hole_mm / 2, post.hole_mm / 2):
                ends = [(post.station_mm + along, side * r) for r in (body, body - post.depth_mm)]
                view.line(ends, Layer.POST)


def _side(bearing: float) -> int:
    """1 in the cut at the front, -1 in that at the back, 0 elsewhere."""
    return 1 if abs(bearing) <= 30 else -1 if abs(bearing) >= 150 else 0


def _hole(view: View, shop: ShopPart, hole: ToneHole) -> None:
    part, half, station = shop.part, hole.diameter_mm / 2, hole.station_mm
    bore = part.bore_diameter_at(station) / 2 - hole.into_bore_mm
    rim, side = rim_mm(part, hole), _side(hole.bearing_deg)
    if not side:
        turn = math.radians(hole.bearing_deg)
        body = part.outside_diameter_at(station) / 2
        # What lies on the half that is seen; the near half is cut away and shows hidden.
        layer = Layer.HOLE if hole.bearing_deg > 0 else Layer.HIDDEN
        ring = []
        for step in range(48):
            angle = 2 * math.pi * step / 48
            aside = math.asin(half * math.sin(angle) / body)
            ring.append((station + half * math.cos(angle), body * math.cos(turn + aside)))
        view.line(ring, layer, closed=True)
        return
    for along in (-half, half):
        view.line([(station + along, side * rim), (station + along, side * bore)], Layer.HOLE)
    view.line([(station - half - 1, side * rim), (station + half + 1, side * rim)], Layer.HOLE)
    view.line([(station, side * (rim + 2)), (station, side * (bore - 1))], Layer.CENTRE)
    seat = shop.seat(hole.name)
    if seat:
        body, wide = part.outside_diameter_at(station) / 2, seat.diameter_mm / 2
        view.line(
            [
                (station - wide, side * body),
                (station - wide, side * seat.floor_mm),
                (station + wide, side * seat.floor_mm),
                (station + wide, side * body),
            ],
            Layer.HOLE,
        )
    if hole.undercut:
        mouth, knee = hole.undercut.diameter_mm / 2, bore + hole.undercut.depth_mm
        for way in (-1, 1):
            view.line(
                [(station + way * half, side * knee), (station + way * mouth, side * bore)],
                Layer.HOLE,
            )


def label_holes(view: View, shop: ShopPart, across: tuple[float, float]) -> float:
    """Hole names and stations above the section; returns where they end (y)."""
    holes = sorted(shop.part.holes, key=lambda hole: hole.station_mm)
    top = view.at(0, shop.reach_mm)[1] + 3.0
    if not holes:
        return top
    wanted = [view.at(hole.station_mm, 0)[0] for hole in holes]
    centres, tiers = spread(wanted, [9.5] * len(holes), *across)
    for hole, x, tier in zip(holes, centres, tiers, strict=True):
        y = top + 3.0 + tier * 6.0
        at = view.at(hole.station_mm, 0)[0]
        view.sheet.line([(at, top - 1), (at, top), (x, top + 2), (x, y - 1)], Layer.DIMENSION)
        view.sheet.text(x, y + 2.6, hole.name, height=1.7, align="center", bold=True)
        station = view.words.number(hole.station_mm, ".2f")
        view.sheet.text(x, y + 0.3, station, height=1.4, align="center")
    return top + 7.0 + 6.0 * max(tiers)


def dimension_lengths(view: View, shop: ShopPart) -> float:
    """Lengths from datum A, the top shoulder, below the section; returns where they end (y)."""
    part, limits = shop.part, shop.tolerances
    low, high = shop.ends_mm
    under = -shop.reach_mm
    y = view.at(0, under)[1] - 7.0
    for station in _stations(part):
        reach = -part.outside_diameter_at(station) / 2
        view.level((0, reach), (station, reach), y, tolerance_mm=LENGTH_TOLERANCE_MM)
        y -= ROW_MM
    sockets = (part.socket_top, part.socket_bottom)
    bottom = part.length_mm
    if sockets[0]:
        radius = -sockets[0].diameter_mm / 2
        view.level((0, radius), (sockets[0].depth_mm, radius), y, tolerance_mm=0.1)
    if sockets[1]:
        radius = -sockets[1].diameter_mm / 2
        view.level((bottom - sockets[1].depth_mm, radius), (bottom, radius), y, tolerance_mm=0.1)
    if any(sockets):
        y -= ROW_MM
    edge = -part.outside_diameter_at(bottom, -1) / 2
    start = -part.outside_diameter_at(0) / 2
    if part.tenon_top:
        end = -part.tenon_top.diameter_mm / 2
        view.level((low, end), (0, start), y, tolerance_mm=LENGTH_TOLERANCE_MM)
    if part.tenon_bottom:
        end = -part.tenon_bottom.diameter_mm / 2
        view.level((bottom, edge), (high, end), y, tolerance_mm=LENGTH_TOLERANCE_MM)
    view.level((0, start), (bottom, edge), y, tolerance_mm=limits.length(part.name))
    y -= ROW_MM
    if part.tenon_top or part.tenon_bottom:
        # A sum of toleranced lengths, for sawing stock: in brackets, it binds nobody.
        view.level((low, start), (high, edge), y, before="(", after=")")
        y -= ROW_MM
    return y + ROW_MM - 2.0


def _stations(part: Part) -> list[float]:
    """Stations of bore and outside between the shoulders, those of the outside first to stay."""
    top = part.socket_top.depth_mm if part.socket_top else 0.0
    bottom = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
    outside = sorted({s for s, _ in part.outside if 0 < s < part.length_mm})
    bore = sorted({s for s, _ in part.bore if top < s < bottom} - set(outside))
    room = max(_MOST_STATIONS - len(outside), 0)
    return sorted([*outside[:_MOST_STATIONS], *(bore if len(bore) <= room else [])])


def dimension_diameters(view: View, shop: ShopPart) -> None:
    """Diameters at both ends beside the view, and those between them inside it."""
    part, limits = shop.part, shop.tolerances
    low, high = shop.ends_mm
    bore, bottom = limits.bore(part.name), part.length_mm
    for down, end, way in ((False, low, -1), (True, high, 1)):
        tenon = part.tenon_bottom if down else part.tenon_top
        socket = part.socket_bottom if down else part.socket_top
        shoulder = part.length_mm if down else 0.0
        inside = shop.inside[-1][0] if down else shop.inside[0][0]
        sizes = [(end, 2 * inside, bore)]
        if socket:
            sizes = [(end, socket.diameter_mm, JOINT_TOLERANCE_MM)]
            if socket.ring_inside_mm:
                sizes.append((end, socket.ring_inside_mm, JOINT_TOLERANCE_MM))
        if tenon:
            sizes.append((end, tenon.diameter_mm, JOINT_TOLERANCE_MM))
        side = -1 if down else 1
        at_shoulder = part.outside_diameter_at(shoulder, side)
        if not (socket and socket.ring_inside_mm):
            sizes.append((shoulder, at_shoulder, LENGTH_TOLERANCE_MM))
        edge = view.at(end, 0)[0]
        for number, (station, size, tolerance) in enumerate(sizes):
            view.diameter(station, size, edge + way * (8.0 + ROW_MM * number), tolerance)
    for station, size in _between(part, bore=True):
        view.diameter(station, size, view.at(station, 0)[0])
    floors = []
    if part.socket_top:
        floors.append((part.socket_top.depth_mm, 1))
    if part.socket_bottom:
        floors.append((bottom - part.socket_bottom.depth_mm, -1))
    for station, way in floors:
        size = part.bore_diameter_at(station, way)
        told = f"⌀{size:.2f} ±{bore:.2f}"
        # Inside the bore or nowhere: the tolerance stands in the bore's table too.
        room = text_width_mm(told) < size * view.scale
        view.diameter(station, size, view.at(station, 0)[0] + 4.0 * way, bore if room else None)
    for station, size in _between(part, bore=False):
        view.diameter(station, size, view.at(station, 0)[0] + 4.0)


def _between(part: Part, *, bore: bool) -> list[tuple[float, float]]:
    """Stations with diameters between the ends that are worth a dimension of their own."""
    profile = part.bore if bore else part.outside
    top = part.socket_top.depth_mm if part.socket_top and bore else 0.0
    bottom = part.length_mm
    if bore and part.socket_bottom:
        bottom -= part.socket_bottom.depth_mm
    found = [(s, d) for s, d in profile if top + 8 < s < bottom - 8]
    apart = all(b - a > 4 for (a, _), (b, _) in itertools.pairwise(found))
    return found if len(found) <= _MOST_STATIONS and apart else []


def mark_datums(view: View, shop: ShopPart) -> None:
    """Datum A at the top shoulder, datum B on the bore's axis (ISO 5459)."""
    x, y = view.at(0, shop.part.outside_diameter_at(0) / 2)
    _datum(view, (x, y), (x - 5.0, y + 5.0), "A")
    x, y = view.at(shop.ends_mm[0], 0)
    _datum(view, (x + 4.0, y), (x + 8.0, y + 4.0), "B")


def _datum(view: View, foot: Point, box: Point, letter: str) -> None:
    sheet, (x, y) = view.sheet, box
    edge = (x + 2 if foot[0] > x else x - 2, y)
    sheet.line([foot, (foot[0] + 0.01, y), edge], Layer.DIMENSION)
    sheet.line(
        [(foot[0] - 0.9, foot[1] + 1.6), (foot[0] + 0.9, foot[1] + 1.6), foot],
        Layer.DIMENSION,
        closed=True,
    )
    corners = [(x - 2, y - 2), (x + 2, y - 2), (x + 2, y + 2), (x - 2, y + 2)]
    sheet.line(corners, Layer.OUTLINE, closed=True)
    sheet.text(x, y, letter, height=2.2, align="center", bold=True)


def _edges_seen_mm(shop: ShopPart) -> list[float]:
    """Radii of all round edges that are seen from the top end, falling (ISO 128)."""
    part, least = shop.part, min(radius for radius, _ in shop.inside)
    edges = [shop.reach_mm, min(shop.inside[0][0], shop.inside[-1][0]), least]
    edges += [part.outside_diameter_at(0.0) / 2, shop.inside[0][0]]
    if part.tenon_top:
        edges.append(part.tenon_top.diameter_mm / 2)
    if part.socket_top:
        floor = part.bore_diameter_at(part.socket_top.depth_mm) / 2
        edges += [part.socket_top.diameter_mm / 2, floor]
    seen: list[float] = []
    for edge in edges:
        # Two lines nearer than this run into one on paper.
        if all(abs(edge - other) > 0.15 for other in seen):
            seen.append(edge)
    return sorted(seen, reverse=True)


def draw_end_view(view: View, shop: ShopPart) -> None:
    """Seen from the top end, front upwards, positive bearings to the left: every hole's bearing."""
    part, scale = shop.part, view.scale
    radius = shop.reach_mm
    bore = min(shop.inside[0][0], shop.inside[-1][0])
    for edge in _edges_seen_mm(shop):
        name = "bore from the end" if edge == bore else ""
        view.sheet.circle(view.origin, edge * scale, name=name)
    for ends in ([(-radius - 3, 0.0), (radius + 3, 0.0)], [(0.0, -radius - 3), (0.0, radius + 3)]):
        view.line(ends, Layer.CENTRE)
    by_bearing: dict[float, list[str]] = {}
    for hole in sorted(part.holes, key=lambda hole: hole.station_mm):
        by_bearing.setdefault(hole.bearing_deg, []).append(hole.name)
    bearings = sorted(by_bearing)
    # Degrees that a label takes: a line of text is wide at the front and low at the sides.
    far = radius * scale + 9.0
    widths = [8.0 + 28.0 * math.cos(math.radians(bearing)) ** 6 for bearing in bearings]
    shown, _ = spread(bearings, widths, -200.0, 200.0)
    for bearing, label in zip(bearings, shown, strict=True):
        turn, aside = math.radians(bearing), math.radians(label)
        out, away = (-math.sin(turn), math.cos(turn)), (-math.sin(aside), math.cos(aside))
        ends = [(out[0] * r, out[1] * r) for r in (bore, radius + 3.0 / scale)]
        view.line([*ends, (away[0] * far / scale, away[1] * far / scale)], Layer.DIMENSION)
        x, y = view.at(away[0] * (far + 1) / scale, away[1] * (far + 1) / scale)
        align = "center" if abs(away[0]) < 0.2 else "left" if away[0] > 0 else "right"
        names = " ".join(by_bearing[bearing])
        said = f"{names} {view.words.number(bearing, '+.1f')}°"
        view.sheet.text(x, y + 1.2 * away[1], said, height=1.5, align=align)
