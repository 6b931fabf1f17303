"""A part's shop drawing: section with bore stations, hole schedule, joints, gauges, tolerances."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._labels import spread
from borewright.documents._rows import SCALES, scale_words
from borewright.documents.gauges import BORE_TOLERANCE_MM, HOLE_TOLERANCE_MM, part_gauge_plan
from borewright.documents.sheet import PAPERS, Layer, Point, Sheet
from borewright.documents.unrolled import PostMark, head_lines
from borewright.errors import DocumentsError
from borewright.model import Instrument, Part, ToneHole
from borewright.words import ENGLISH, Reader, say

MARGIN_MM = 12.0
_LABEL_MM = 15.0


@dataclass(frozen=True)
class ShopPart:
    """What a drawing needs of a part: its outlines as (radius, station) in mm, and its posts."""

    part: Part
    outside: Sequence[tuple[float, float]]
    inside: Sequence[tuple[float, float]]
    posts: Sequence[PostMark] = ()


def shop_sheet(
    instrument: Instrument,
    shop: ShopPart,
    paper: str | None = None,
    *,
    words: Reader = ENGLISH,
) -> Sheet:
    """The shop drawing of one part on A4, or A3 where A4 has no room, landscape.

    Raises DocumentsError where even the paper given, or A3, is too small.
    """
    for name in [paper] if paper else list(PAPERS):
        sheet = _drawn(instrument, shop, name, words)
        if sheet is not None:
            return sheet
    raise DocumentsError(
        say(
            "the tables of part '{part}' do not fit on {paper}",
            part=shop.part.name,
            paper=paper or list(PAPERS)[-1],
        ),
        place=instrument.name,
        remedy=say("Choose larger paper."),
    )


def _drawn(instrument: Instrument, shop: ShopPart, paper: str, words: Reader) -> Sheet | None:
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

    _head(sheet, instrument, part, paper, scale, words)
    _section(sheet, shop, place)
    bottom = _labels(sheet, shop, place, reach, width, words)
    end = _tables(sheet, instrument, shop, bottom - 4.0, width, words)
    return sheet if end > 8.0 else None


def _head(
    sheet: Sheet, instrument: Instrument, part: Part, paper: str, scale: float, words: Reader
) -> None:
    told = words(
        "Longitudinal section, front upwards, top end left. Scale {scale} on {paper}; mm; "
        "finished sizes.",
        scale=scale_words(scale, words),
        paper=paper,
    )
    head_lines(sheet, instrument, part, told, words)


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


def _labels(  # type: ignore[no-untyped-def]
    sheet: Sheet, shop: ShopPart, place, reach: float, width: float, words: Reader
) -> float:
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
            sheet.text(x, y + 0.3, words.number(hole.station_mm, ".2f"), height=1.4, align="center")
    rows = part_gauge_plan(shop.part)
    wanted = [place(row.station_mm, 0)[0] for row in rows]
    centres, tiers = spread(wanted, [12.0] * len(rows), *ends)
    low = float(place(0, -reach)[1])
    for row, x, tier in zip(rows, centres, tiers, strict=True):
        y = low - 4.0 - tier * 6.0
        at = place(row.station_mm, 0)
        start = place(row.station_mm, -row.nominal_mm / 2)
        sheet.line([start, (at[0], low), (x, low - 2), (x, y + 1)], Layer.DIMENSION)
        size = f"⌀{words.number(row.nominal_mm, '.2f')}"
        sheet.text(x, y - 0.6, size, height=1.6, align="center", bold=True)
        sheet.text(x, y - 2.9, words.number(row.station_mm, ".2f"), height=1.4, align="center")
    return low - 8.0 - (6.0 if any(tiers) else 0.0)


def _tables(
    sheet: Sheet, instrument: Instrument, shop: ShopPart, top: float, width: float, words: Reader
) -> float:
    """All tables in columns from left to right; returns the lowest end (y)."""
    part = shop.part
    ends = []
    x = MARGIN_MM
    if part.holes:
        holes = sorted(part.holes, key=lambda hole: hole.station_mm)
        rows = [_hole_row(part, hole, words) for hole in holes]
        heads = [
            (words("hole"), 11.0), (words("station"), 13.0), (words("bearing"), 14.0),
            ("⌀", 10.0), (words("tube"), 11.0), (words("rim"), 10.0), (words("cover"), 16.0),
            (words("pad"), 12.0), (words("lift"), 7.0),
        ]  # fmt: skip
        ends.append(sheet.table(x, top, heads, rows, caption=words("Tone holes")))
        x += 107
    gauges = [
        (*(words.number(size, ".2f") for size in (row.station_mm, row.nominal_mm)),
         words.tell(row.words))
        for row in part_gauge_plan(part)
    ]  # fmt: skip
    heads = [(words("station"), 13.0), ("⌀", 11.0), (words("gauge"), 48.0)]
    end = sheet.table(x, top, heads, gauges, caption=words("Bore and gauge plan"))
    joints = _joint_rows(part, words)
    if joints:
        heads = [
            (words("joint"), 22.0), ("⌀", 12.0), (words("long"), 12.0), (words("remarks"), 26.0),
        ]  # fmt: skip
        end = sheet.table(x, end - 3, heads, joints, caption=words("Tenons and sockets"))
    ends.append(end)
    x += 76
    y = top
    if shop.posts:
        posts = [
            (post.name[:26], words.number(post.station_mm, ".1f"),
             f"{words.number(post.bearing_deg, '+.0f')}°", words.number(post.hole_mm, ".2f"),
             words.number(post.depth_mm, ".1f"))
            for post in shop.posts
        ]  # fmt: skip
        heads = [
            (words("post"), 34.0), (words("station"), 13.0), (words("bearing"), 14.0),
            (words("hole"), 10.0), (words("deep"), 8.0),
        ]  # fmt: skip
        y = sheet.table(x, top, heads, posts, caption=words("Posts")) - 3
        if x + 79 > width - 6:
            return -1.0
    for line in _notes(instrument, part, words):
        y -= 3.4
        sheet.text(x, y, line, height=1.6)
        if x + 1.35 * len(line) > width - 7:
            return -1.0
    ends.append(y - 2)
    return min(ends)


def _hole_row(part: Part, hole: ToneHole, words: Reader) -> tuple[str, ...]:
    return (
        hole.name,
        words.number(hole.station_mm, ".2f"),
        f"{words.number(hole.bearing_deg, '+.1f')}°",
        words.number(hole.diameter_mm, ".2f"),
        words.number(part.tube_height_mm(hole), ".2f"),
        words.number(hole.chimney_mm, "+.2f"),
        words.tell(hole.cover.words),
        words.number(hole.pad.diameter_mm, "g") if hole.pad else "",
        words.number(hole.pad.lift_mm, "g") if hole.pad else "",
    )


def _joint_rows(part: Part, words: Reader) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for tenon, socket, tenon_words, socket_words in (
        (part.tenon_top, part.socket_top, words("top tenon"), words("top socket")),
        (part.tenon_bottom, part.socket_bottom, words("bottom tenon"), words("bottom socket")),
    ):
        if tenon:
            remark = words("{clearance} fit", clearance=tenon.clearance_class)
            if tenon.cork_length_mm:
                remark = words(
                    "cork {long_mm:g} by {deep_mm:g} deep",
                    long_mm=tenon.cork_length_mm,
                    deep_mm=tenon.cork_depth_mm,
                )
            size, length = (
                words.number(tenon.diameter_mm, ".2f"),
                words.number(tenon.length_mm, "g"),
            )
            rows.append((tenon_words, size, length, remark))
        if socket:
            size, depth = (
                words.number(socket.diameter_mm, ".2f"),
                words.number(socket.depth_mm, "g"),
            )
            remark = ""
            if socket.ring_length_mm:
                remark = words("ring seat ⌀{inside_mm:g}", inside_mm=socket.ring_inside_mm)
            rows.append((socket_words, size, depth, remark))
    return rows


def _notes(instrument: Instrument, part: Part, words: Reader) -> list[str]:
    body = instrument.body
    whole = part.length_mm
    for tenon in (part.tenon_top, part.tenon_bottom):
        whole += tenon.length_mm if tenon else 0.0
    wall = (part.outside_diameter_at(0) - part.bore_diameter_at(0)) / 2
    notes = [
        words(
            "Length {length_mm:.2f} between shoulders, {whole_mm:.2f} over all.",
            length_mm=part.length_mm,
            whole_mm=whole,
        ),
        words("Tolerances, finished (from memory):"),
        words(
            "bore ±{bore_mm:g}, tone holes ±{hole_mm:g},",
            bore_mm=BORE_TOLERANCE_MM,
            hole_mm=HOLE_TOLERANCE_MM,
        ),
        words("stations ±0.1, bearings ±0.5°,"),
        words("tenons and sockets ±0.1, lengths ±0.2."),
    ]
    if any(hole.pad for hole in part.holes):
        notes.append(
            words("Pad seats: {seat}, land {land_mm:g}.", seat=body.seat, land_mm=body.seat_land_mm)
        )
    return [
        *notes,
        words("Wall: {wall_mm:.2f} at the top.", wall_mm=wall),
        words("Reamers and blades wound: clamp the work."),
        words("Dust: extraction and a mask. Heat softens PLA."),
    ]
