"""A part's shop drawing: section with bore stations, hole schedule, joints, gauges, tolerances."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._labels import spread
from borewright.documents._rows import SCALES, scale_words
from borewright.documents.gauges import BORE_TOLERANCE_MM, HOLE_TOLERANCE_MM, part_gauge_plan
from borewright.documents.sheet import PAPERS, Layer, Point, Sheet
from borewright.documents.unrolled import PostMark
from borewright.errors import DocumentsError
from borewright.model import Instrument, Part, ToneHole

MARGIN_MM = 12.0
_LABEL_MM = 15.0


@dataclass(frozen=True)
class ShopPart:
    """What a drawing needs of a part: its outlines as (radius, station) in mm, and its posts."""

    part: Part
    outside: Sequence[tuple[float, float]]
    inside: Sequence[tuple[float, float]]
    posts: Sequence[PostMark] = ()


def shop_sheet(instrument: Instrument, shop: ShopPart, paper: str | None = None) -> Sheet:
    """The shop drawing of one part on A4, or A3 where A4 has no room, landscape.

    Raises DocumentsError where even the paper given, or A3, is too small.
    """
    for name in [paper] if paper else list(PAPERS):
        sheet = _drawn(instrument, shop, name)
        if sheet is not None:
            return sheet
    raise DocumentsError(
        f"the tables of part '{shop.part.name}' do not fit on {paper or list(PAPERS)[-1]}",
        place=instrument.name,
        remedy="Choose larger paper.",
    )


def _drawn(instrument: Instrument, shop: ShopPart, paper: str) -> Sheet | None:
    width, height = PAPERS[paper]
    part = shop.part
    sheet = Sheet(f"{instrument.name}: {part.name}", width, height)
    sheet.frame()
    stations = [station for _, station in shop.outside]
    length = max(stations) - min(stations)
    reach = max(radius for radius, _ in shop.outside) + 4.0
    scale = next((s for s in SCALES[2:] if length * s <= width - 2 * MARGIN_MM - 6), None)
    if scale is None:
        return None
    axis = height - 22.0 - _LABEL_MM - reach * scale
    left = (width - length * scale) / 2

    def place(station: float, radius: float) -> Point:
        return left + (station - min(stations)) * scale, axis + radius * scale

    _head(sheet, instrument, part, paper, scale)
    _section(sheet, shop, place)
    bottom = _labels(sheet, shop, place, reach, width)
    end = _tables(sheet, instrument, shop, bottom - 4.0, width)
    return sheet if end > 8.0 else None


def _head(sheet: Sheet, instrument: Instrument, part: Part, paper: str, scale: float) -> None:
    top = sheet.height_mm - 11.0
    mark = " (invented example)" if instrument.invented else ""
    serial = f" Serial {instrument.serial}." if instrument.serial else ""
    sheet.text(MARGIN_MM, top, f"{instrument.name}: {part.name}{mark}", height=2.8, bold=True)
    sheet.text(
        MARGIN_MM,
        top - 4.6,
        f"Longitudinal section, front upwards, top end left. Scale {scale_words(scale)} on "
        f"{paper}; mm; finished sizes.{serial}",
        height=1.8,
    )


def _section(sheet: Sheet, shop: ShopPart, place) -> None:  # type: ignore[no-untyped-def]
    outside, inside = list(shop.outside), list(shop.inside)
    for side in (1, -1):
        wall = [*outside, *reversed(inside)]
        points = [place(station, side * radius) for radius, station in wall]
        sheet.line(points, Layer.OUTLINE, closed=True, filled=True)
    stations = [station for _, station in outside]
    axis = [place(min(stations) - 3, 0), place(max(stations) + 3, 0)]
    sheet.line(axis, Layer.CENTRE)
    for hole in shop.part.holes:
        _hole(sheet, shop.part, hole, place)
    for post in shop.posts:
        body = shop.part.outside_diameter_at(post.station_mm) / 2
        side = _side(post.bearing_deg)
        if side:
            ends = [
                place(post.station_mm, side * (body + 1.5)),
                place(post.station_mm, side * (body - post.depth_mm)),
            ]
            sheet.line(ends, Layer.POST)


def _side(bearing: float) -> int:
    """1 near the front, -1 near the back, 0 at the sides."""
    return 1 if abs(bearing) <= 45 else -1 if abs(bearing) >= 135 else 0


def _hole(sheet: Sheet, part: Part, hole: ToneHole, place) -> None:  # type: ignore[no-untyped-def]
    half, station = hole.diameter_mm / 2, hole.station_mm
    bore = part.bore_diameter_at(station) / 2 - hole.into_bore_mm
    rim = part.outside_diameter_at(station) / 2 + hole.chimney_mm
    side = _side(hole.bearing_deg)
    if not side:
        turn = math.radians(hole.bearing_deg)
        body = part.outside_diameter_at(station) / 2
        ring = []
        for step in range(48):
            angle = 2 * math.pi * step / 48
            aside = math.asin(half * math.sin(angle) / body)
            ring.append(place(station + half * math.cos(angle), body * math.cos(turn + aside)))
        layer = Layer.HOLE if hole.bearing_deg > 0 else Layer.HIDDEN
        sheet.line(ring, layer, closed=True)
        return
    for along in (-half, half):
        sheet.line(
            [place(station + along, side * rim), place(station + along, side * bore)], Layer.HOLE
        )
    ends = [place(station - half - 1, side * rim), place(station + half + 1, side * rim)]
    sheet.line(ends, Layer.HOLE)
    centre = [place(station, side * (rim + 2)), place(station, side * (bore - 1))]
    sheet.line(centre, Layer.CENTRE)
    if hole.undercut:
        mouth, knee = hole.undercut.diameter_mm / 2, bore + hole.undercut.depth_mm
        for way in (-1, 1):
            cone = [
                place(station + way * half, side * knee),
                place(station + way * mouth, side * bore),
            ]
            sheet.line(cone, Layer.HOLE)


def _labels(sheet: Sheet, shop: ShopPart, place, reach: float, width: float) -> float:  # type: ignore[no-untyped-def]
    """Hole names above, bore stations below; returns where the drawing ends (y)."""
    holes = sorted(shop.part.holes, key=lambda hole: hole.station_mm)
    ends = (MARGIN_MM, width - MARGIN_MM)
    if holes:
        wanted = [place(hole.station_mm, 0)[0] for hole in holes]
        centres, tiers = spread(wanted, [9.5] * len(holes), *ends)
        top = place(0, reach)[1]
        for hole, x, tier in zip(holes, centres, tiers, strict=True):
            y = top + 4.0 + tier * 6.0
            at = place(hole.station_mm, 0)[0]
            sheet.line([(at, top - 2), (at, top), (x, top + 2), (x, y - 1)], Layer.DIMENSION)
            sheet.text(x, y + 2.6, hole.name, height=1.7, align="center", bold=True)
            sheet.text(x, y + 0.3, f"{hole.station_mm:.2f}", height=1.4, align="center")
    rows = part_gauge_plan(shop.part)
    wanted = [place(row.station_mm, 0)[0] for row in rows]
    centres, tiers = spread(wanted, [12.0] * len(rows), *ends)
    low = float(place(0, -reach)[1])
    for row, x, tier in zip(rows, centres, tiers, strict=True):
        y = low - 4.0 - tier * 6.0
        at = place(row.station_mm, 0)
        start = place(row.station_mm, -row.nominal_mm / 2)
        sheet.line([start, (at[0], low), (x, low - 2), (x, y + 1)], Layer.DIMENSION)
        sheet.text(x, y - 0.6, f"⌀{row.nominal_mm:.2f}", height=1.6, align="center", bold=True)
        sheet.text(x, y - 2.9, f"{row.station_mm:.2f}", height=1.4, align="center")
    return low - 8.0 - (6.0 if any(tiers) else 0.0)


def _tables(
    sheet: Sheet, instrument: Instrument, shop: ShopPart, top: float, width: float
) -> float:
    """All tables in columns from left to right; returns the lowest end (y)."""
    part = shop.part
    ends = []
    x = MARGIN_MM
    if part.holes:
        rows = [_hole_row(part, hole) for hole in sorted(part.holes, key=lambda h: h.station_mm)]
        heads = [("hole", 11), ("station", 13), ("bearing", 13), ("⌀", 11), ("tube", 11),
                 ("rim", 10), ("cover", 12), ("pad", 10), ("lift", 9)]  # fmt: skip
        ends.append(sheet.table(x, top, heads, rows, caption="Tone holes"))
        x += 104
    gauges: list[tuple[str, ...]] = [(f"{row.station_mm:.2f}", f"{row.nominal_mm:.2f}", row.words)
              for row in part_gauge_plan(part)]  # fmt: skip
    heads = [("station", 13), ("⌀", 11), ("gauge", 48)]
    end = sheet.table(x, top, heads, gauges, caption="Bore and gauge plan")
    joints = _joint_rows(part)
    if joints:
        end = sheet.table(
            x, end - 3, [("joint", 22), ("⌀", 12), ("long", 12), ("remarks", 26)], joints,
            caption="Tenons and sockets",
        )  # fmt: skip
    ends.append(end)
    x += 76
    y = top
    if shop.posts:
        posts: list[tuple[str, ...]] = [
            (post.name[:26], f"{post.station_mm:.1f}", f"{post.bearing_deg:+.0f}°",
             f"{post.hole_mm:.2f}", f"{post.depth_mm:.1f}")
            for post in shop.posts
        ]  # fmt: skip
        heads = [("post", 34), ("station", 13), ("bearing", 13), ("hole", 10), ("deep", 9)]
        y = sheet.table(x, top, heads, posts, caption="Posts") - 3
        if x + 79 > width - 6:
            return -1.0
    for line in _notes(instrument, part):
        y -= 3.4
        sheet.text(x, y, line, height=1.6)
        if x + 1.35 * len(line) > width - 7:
            return -1.0
    ends.append(y - 2)
    return min(ends)


def _hole_row(part: Part, hole: ToneHole) -> tuple[str, ...]:
    return (
        hole.name,
        f"{hole.station_mm:.2f}",
        f"{hole.bearing_deg:+.1f}°",
        f"{hole.diameter_mm:.2f}",
        f"{part.tube_height_mm(hole):.2f}",
        f"{hole.chimney_mm:+.2f}",
        hole.cover.value,
        f"{hole.pad.diameter_mm:g}" if hole.pad else "",
        f"{hole.pad.lift_mm:g}" if hole.pad else "",
    )


def _joint_rows(part: Part) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for end in ("top", "bottom"):
        tenon, socket = getattr(part, f"tenon_{end}"), getattr(part, f"socket_{end}")
        if tenon:
            cork = f"{tenon.clearance_class.value} fit"
            if tenon.cork_length_mm:
                cork = f"cork {tenon.cork_length_mm:g} by {tenon.cork_depth_mm:g} deep"
            rows.append((f"{end} tenon", f"{tenon.diameter_mm:.2f}", f"{tenon.length_mm:g}", cork))
        if socket:
            ring = f"ring seat ⌀{socket.ring_inside_mm:g}" if socket.ring_length_mm else ""
            rows.append(
                (f"{end} socket", f"{socket.diameter_mm:.2f}", f"{socket.depth_mm:g}", ring)
            )
    return rows


def _notes(instrument: Instrument, part: Part) -> list[str]:
    body = instrument.body
    whole = part.length_mm
    for tenon in (part.tenon_top, part.tenon_bottom):
        whole += tenon.length_mm if tenon else 0.0
    return [
        f"Length {part.length_mm:.2f} between shoulders, {whole:.2f} over all.",
        "Tolerances, finished (from memory):",
        f"bore ±{BORE_TOLERANCE_MM:g}, tone holes ±{HOLE_TOLERANCE_MM:g},",
        "stations ±0.1, bearings ±0.5°,",
        "tenons and sockets ±0.1, lengths ±0.2.",
        *(
            [f"Pad seats: {body.seat.value}, land {body.seat_land_mm:g}."]
            if any(hole.pad for hole in part.holes)
            else []
        ),
        f"Wall: {(part.outside_diameter_at(0) - part.bore_diameter_at(0)) / 2:.2f} at the top.",
        "Reamers and blades wound: clamp the work.",
        "Dust: extraction and a mask. Heat softens PLA.",
    ]
