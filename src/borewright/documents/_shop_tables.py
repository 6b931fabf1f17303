"""The tables of a shop drawing: holes, bore by features, joints, posts, and the parts list."""

from __future__ import annotations

import itertools
from collections import Counter

from borewright.documents._dimensioning import size_words
from borewright.documents._shop_views import SeatMark, ShopPart, rim_mm
from borewright.documents.gauges import part_gauge_plan
from borewright.documents.sheet import Sheet
from borewright.documents.tolerances import JOINT_TOLERANCE_MM
from borewright.model import Part, Socket, Tenon, ToneHole
from borewright.words import Reader

Columns = list[tuple[str, float]]


def hole_table(sheet: Sheet, shop: ShopPart, x: float, top: float, words: Reader) -> float:
    """Every tone hole with place, size, seat, undercut and tolerances; returns its end (y)."""
    heads: Columns = [
        (words("hole"), 10.0), (words("station"), 13.0), ("±", 8.5), (words("bearing"), 14.0),
        ("⌀", 10.0), ("±", 8.5), (words("1 cent"), 11.0), (words("deep"), 11.0),
        (words("rim"), 11.0), (words("seat ⌀"), 12.0), (words("seat sunk"), 14.0),
        (words("undercut"), 17.0), (words("cover"), 17.0),
    ]  # fmt: skip
    rows = [_hole_row(shop, hole, shop.seat(hole.name), words) for hole in shop.part.holes]
    return sheet.table(x, top, heads, rows, caption=words("Tone holes"))


def _hole_row(
    shop: ShopPart, hole: ToneHole, seat: SeatMark | None, words: Reader
) -> tuple[str, ...]:
    part, limits = shop.part, shop.tolerances
    allowed = limits.holes.get(hole.name)
    under = hole.undercut
    cover = words.tell(hole.cover.words)
    if hole.pad:
        cover = f"{cover} {size_words(words, hole.pad.diameter_mm)}"
    rim = rim_mm(part, hole)
    return (
        hole.name,
        words.number(hole.station_mm, ".2f"),
        size_words(words, limits.station(hole.name)),
        f"{words.number(hole.bearing_deg, '+.1f')}°",
        words.number(hole.diameter_mm, ".2f"),
        size_words(words, limits.hole(hole.name)),
        "" if allowed is None else f"±{words.number(allowed, '.2f')}",
        words.number(part.tube_height_mm(hole), ".2f"),
        words.number(rim, ".2f"),
        words.number(seat.diameter_mm, ".2f") if seat else "",
        words.number(rim - seat.floor_mm, ".2f") if seat else "",
        f"⌀{size_words(words, under.diameter_mm)} × {size_words(words, under.depth_mm)}"
        if under
        else "",
        cover,
    )


def bore_table(sheet: Sheet, shop: ShopPart, x: float, top: float, words: Reader) -> float:
    """The bore by features, each with what makes it; then what gauges it."""
    rows = []
    for (s0, d0), (s1, d1) in _features(shop.part):
        if abs(d1 - d0) < 0.005:
            form = words("cylinder, ream ⌀{size}", size=size_words(words, d0))
        elif s1 - s0 < 1e-6:
            form = words("step")
        elif abs(d1 - d0) <= shop.tolerances.bore(shop.part.name):
            # One straight reamer makes it: nobody cuts, or could gauge, such a taper.
            middle = words.number((d0 + d1) / 2, ".2f")
            form = words("cylinder within the limits, ream ⌀{diameter}", diameter=middle)
        else:
            rate = (s1 - s0) / abs(d1 - d0)
            form = words("taper 1:{rate}", rate=words.number(rate, ".1f"))
        rows.append(
            (
                words.number(s0, ".2f"), words.number(s1, ".2f"), words.number(d0, ".2f"),
                words.number(d1, ".2f"), form,
            )
        )  # fmt: skip
    heads: Columns = [
        (words("from"), 13.0), (words("to"), 13.0), ("⌀", 12.0), ("⌀", 12.0), (words("form"), 42.0),
    ]  # fmt: skip
    limit = size_words(words, shop.tolerances.bore(shop.part.name))
    end = sheet.table(x, top, heads, rows, caption=words("Bore by features, ⌀ ±{mm}", mm=limit))
    gauges = [
        (
            words.number(row.station_mm, ".2f"),
            words.number(row.nominal_mm, ".2f"),
            words.tell(row.words),
        )
        for row in part_gauge_plan(shop.part, shop.tolerances.bore(shop.part.name))
    ]
    heads = [(words("station"), 13.0), ("⌀", 12.0), (words("gauge"), 67.0)]
    return sheet.table(x, end - 3, heads, gauges, caption=words("Bore and gauge plan"))


def _features(part: Part) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Stretches of the bore between sockets' floors or the part's ends."""
    low = -part.tenon_top.length_mm if part.tenon_top else 0.0
    high = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)
    if part.socket_top:
        low = part.socket_top.depth_mm
    if part.socket_bottom:
        high = part.length_mm - part.socket_bottom.depth_mm
    inner = [(s, d) for s, d in part.bore if low < s < high]
    points = [
        (low, part.bore_diameter_at(low, 1)), *inner, (high, part.bore_diameter_at(high, -1)),
    ]  # fmt: skip
    kept = [points[0]]
    for before, here, after in zip(points, points[1:], points[2:], strict=False):
        along = before[1] + (after[1] - before[1]) * (here[0] - before[0]) / max(
            after[0] - before[0], 1e-9
        )
        if abs(here[1] - along) > 0.003 or here[0] in (before[0], after[0]):
            kept.append(here)
    return list(itertools.pairwise([*kept, points[-1]]))


def joint_table(sheet: Sheet, shop: ShopPart, x: float, top: float, words: Reader) -> float:
    """Tenons and sockets with the wall that is left at them, true to the solid."""
    rows: list[tuple[str, ...]] = []
    part = shop.part
    for tenon, socket, named, station, side in (
        (part.tenon_top, part.socket_top, (words("top tenon"), words("top socket")), 0.0, 1),
        (part.tenon_bottom, part.socket_bottom, (words("bottom tenon"), words("bottom socket")),
         part.length_mm, -1),
    ):  # fmt: skip
        if tenon:
            rows.append(_tenon_row(part, tenon, named[0], station, words))
        if socket:
            rows.append(_socket_row(part, socket, named[1], station, side, words))
    if not rows:
        return top
    heads: Columns = [
        (words("joint"), 22.0), ("⌀", 11.0), (words("long"), 10.0), (words("least wall"), 15.0),
        (words("remarks"), 34.0),
    ]  # fmt: skip
    limit = size_words(words, JOINT_TOLERANCE_MM)
    caption = words("Tenons and sockets, ⌀ ±{mm}", mm=limit)
    return sheet.table(x, top, heads, rows, caption=caption)


def _tenon_row(
    part: Part, tenon: Tenon, name: str, station: float, words: Reader
) -> tuple[str, ...]:
    remark = words("{clearance} fit", clearance=tenon.clearance_class)
    if tenon.cork_length_mm:
        remark = words(
            "cork {long_mm:g} by {deep_mm:g} deep",
            long_mm=tenon.cork_length_mm,
            deep_mm=tenon.cork_depth_mm,
        )
    end = station + tenon.length_mm if station else -tenon.length_mm
    bores = [part.bore_diameter_at(s) for s in (station, end)]
    wall = (tenon.core_mm - max(bores)) / 2
    return (
        name, words.number(tenon.diameter_mm, ".2f"), words.number(tenon.length_mm, "g"),
        words.number(wall, ".2f"), remark,
    )  # fmt: skip


def _socket_row(
    part: Part, socket: Socket, name: str, station: float, side: int, words: Reader
) -> tuple[str, ...]:
    floor = station + side * socket.depth_mm
    outsides = [part.outside_diameter_at(s, side) for s in (station, floor)]
    low, high = sorted((station, floor))
    outsides += [d for s, d in part.outside if low < s < high]
    if socket.ring_inside_mm:
        outsides.append(socket.ring_inside_mm)
    remark = ""
    if socket.ring_length_mm:
        remark = words("ring seat ⌀{inside_mm:g}", inside_mm=socket.ring_inside_mm)
    return (
        name, words.number(socket.diameter_mm, ".2f"), words.number(socket.depth_mm, "g"),
        words.number((min(outsides) - socket.diameter_mm) / 2, ".2f"), remark,
    )  # fmt: skip


def post_table(sheet: Sheet, shop: ShopPart, x: float, top: float, words: Reader) -> float:
    """Posts with place, pilot and depth."""
    if not shop.posts:
        return top
    rows = [
        (
            post.name[:16], words.number(post.station_mm, ".2f"),
            f"{words.number(post.bearing_deg, '+.1f')}°", words.number(post.hole_mm, ".2f"),
            words.number(post.depth_mm, ".1f"), words.number(post.base_mm, ".2f"),
        )
        for post in shop.posts
    ]  # fmt: skip
    heads: Columns = [
        (words("post"), 20.0), (words("station"), 13.0), (words("bearing"), 14.0),
        ("⌀", 10.0), (words("deep"), 9.0), (words("flat"), 10.0),
    ]  # fmt: skip
    return sheet.table(x, top, heads, rows, caption=words("Posts, station ±0.1, bearing ±0.5°"))


def parts_list(sheet: Sheet, shop: ShopPart, x: float, top: float, words: Reader) -> float:
    """What belongs to this part: itself, pads, posts, corks, rings (ISO 7573)."""
    part = shop.part
    items = [("1", words("body '{part}', as drawn", part=part.name))]
    pads = Counter(hole.pad.diameter_mm for hole in part.holes if hole.pad)
    items += [
        (str(count), words("pad ⌀{size}", size=size_words(words, size)))
        for size, count in sorted(pads.items())
    ]
    pilots = Counter(post.hole_mm for post in shop.posts if post.hole_mm)
    items += [
        (str(count), words("post for a hole of ⌀{size}", size=size_words(words, size)))
        for size, count in sorted(pilots.items())
    ]
    for tenon in (part.tenon_top, part.tenon_bottom):
        if tenon and tenon.cork_length_mm:
            long, deep = (
                size_words(words, each) for each in (tenon.cork_length_mm, tenon.cork_depth_mm)
            )
            items.append(
                ("1", words("cork strip {wide} wide, {deep} or more", wide=long, deep=deep))
            )
    for socket in (part.socket_top, part.socket_bottom):
        if socket and socket.ring_length_mm:
            size = size_words(words, socket.ring_inside_mm)
            items.append(("1", words("ring ⌀{size} inside", size=size)))
    rows = [(str(number), *item) for number, item in enumerate(items, 1)]
    heads: Columns = [(words("item"), 10.0), (words("pieces"), 12.0), (words("what"), 70.0)]
    return sheet.table(x, top, heads, rows, caption=words("Parts list"))
