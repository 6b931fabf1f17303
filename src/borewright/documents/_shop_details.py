"""Details of a shop drawing at a larger scale: seat and crown, cork groove, undercut, post."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.documents._dimensioning import View, size_words
from borewright.documents._rows import scale_words
from borewright.documents._shop_views import ShopPart, rim_mm
from borewright.documents.sheet import Layer, Sheet
from borewright.model import Instrument, Tenon
from borewright.words import Reader

#: Scales of details (ISO 5455).
_SCALES = (10.0, 5.0, 2.0, 1.0)
#: Room of all details on paper, side by side (mm).
ALL_MM, HIGH_MM = 206.0, 52.0


@dataclass(frozen=True)
class _Place:
    """Where one detail goes: its lower left corner and its width (mm of paper)."""

    sheet: Sheet
    left: float
    low: float
    wide: float
    words: Reader

    def view(self, along: float, up: float, needs_mm: float) -> View:
        """A view at the largest scale that has room for so many millimetres of the part."""
        scale = next((s for s in _SCALES if needs_mm * s <= self.wide - 24), _SCALES[-1])
        return View(self.sheet, (self.left + along, self.low + up), scale, self.words)

    def head(self, view: View, text: str) -> None:
        """The detail's name with its scale."""
        told = f"{text} ({scale_words(view.scale, self.words)})"
        self.sheet.text(self.left + 1, self.low + HIGH_MM - 2.5, told, height=1.7, bold=True)


def draw_details(
    sheet: Sheet, instrument: Instrument, shop: ShopPart, left: float, low: float, words: Reader
) -> None:
    """Draw what this part has, side by side from the left."""
    nowhere = _Place(Sheet("", 1.0, 1.0), 0.0, 0.0, 50.0, words)
    kinds = [draw for draw in (_seat, _undercut, _groove, _post) if draw(nowhere, instrument, shop)]
    wide = ALL_MM / max(len(kinds), 3)
    for number, draw in enumerate(kinds):
        draw(_Place(sheet, left + wide * number, low, wide, words), instrument, shop)


def _seat(place: _Place, instrument: Instrument, shop: ShopPart) -> bool:
    """Section through the first pad's seat: hole, land, crown and counterbore, from its rim."""
    padded = [hole for hole in shop.part.holes if hole.pad and shop.seat(hole.name)]
    if not padded:
        return False
    hole = padded[0]
    seat = shop.seat(hole.name)
    assert seat is not None
    body = shop.part.outside_diameter_at(hole.station_mm) / 2
    rim = rim_mm(shop.part, hole)
    wide, half = seat.diameter_mm / 2, hole.diameter_mm / 2
    land, relief = half + instrument.body.seat_land_mm, rim - seat.floor_mm
    slope = relief if instrument.body.seat.value == "crowned" else 0.0
    view, words = place.view(place.wide / 2, 20, 2 * wide + 3), place.words
    place.head(view, words("seat and crown, {hole}", hole=hole.name))
    high = body - rim
    for way in (-1, 1):
        points = [
            (way * half, -4.0),
            (way * half, 0.0),
            (way * land, 0.0),
            (way * (land + slope), -relief),
            (way * wide, -relief),
            (way * wide, high),
            (way * (wide + 1.2), high),
        ]
        view.line(points)
    view.line([(0, -5), (0, high + 2)], Layer.CENTRE)
    top = view.at(0, high)[1]
    view.level((-wide, high), (wide, high), top + 12.5, before="⌀", tolerance_mm=0.1)
    view.level((-land, 0), (land, 0), top + 6, before="⌀", tolerance_mm=0.1)
    foot = view.at(0, -4.0)[1]
    view.level(
        (-half, -4), (half, -4), foot - 5, before="⌀", tolerance_mm=shop.tolerances.hole(hole.name)
    )
    view.upright((wide, -relief), (land, 0), view.at(wide, 0)[0] + 10)
    view.upright((-wide, high), (-land, 0), view.at(-wide, 0)[0] - 6)
    return True


def _undercut(place: _Place, instrument: Instrument, shop: ShopPart) -> bool:
    cut = [hole for hole in shop.part.holes if hole.undercut]
    if not cut:
        return False
    hole = cut[0]
    under = hole.undercut
    assert under is not None
    half, mouth = hole.diameter_mm / 2, under.diameter_mm / 2
    view, words = place.view(place.wide / 2, 18, under.diameter_mm + 2), place.words
    place.head(view, words("undercut, {hole}", hole=hole.name))
    for way in (-1, 1):
        view.line(
            [(way * half, under.depth_mm + 2), (way * half, under.depth_mm), (way * mouth, 0)]
        )
        view.line([(way * mouth, 0), (way * (mouth + 1), 0)])
    view.line([(0, -1), (0, under.depth_mm + 3)], Layer.CENTRE)
    low_y, high_y = view.at(0, 0)[1], view.at(0, under.depth_mm + 2)[1]
    view.level((-mouth, 0), (mouth, 0), low_y - 6, before="⌀", tolerance_mm=0.1)
    tolerance = shop.tolerances.hole(hole.name)
    knee = under.depth_mm + 2
    view.level((-half, knee), (half, knee), high_y + 5, before="⌀", tolerance_mm=tolerance)
    view.upright((mouth, 0), (half, under.depth_mm), view.at(mouth, 0)[0] + 7)
    return True


def _groove(place: _Place, instrument: Instrument, shop: ShopPart) -> bool:
    """A tenon with its cork groove, shoulder left."""
    tenons: list[Tenon] = [
        tenon
        for tenon in (shop.part.tenon_bottom, shop.part.tenon_top)
        if tenon and tenon.cork_length_mm and tenon.cork_depth_mm
    ]
    if not tenons:
        return False
    tenon = tenons[0]
    radius, core, length = tenon.diameter_mm / 2, tenon.core_mm / 2, tenon.length_mm
    margin = (length - tenon.cork_length_mm) / 2
    view, words = place.view(10, 24, length), place.words
    which = words("bottom tenon") if tenon is shop.part.tenon_bottom else words("top tenon")
    place.head(view, words("cork groove, {tenon}", tenon=which))
    points = [
        (0.0, 5.0), (0.0, 0.0), (margin, 0.0), (margin, core - radius),
        (length - margin, core - radius), (length - margin, 0.0), (length, 0.0), (length, -6.0),
    ]  # fmt: skip
    view.line(points)
    top = view.at(0, 5)[1]
    view.level((margin, 0), (length - margin, 0), top + 1, tolerance_mm=0.1)
    foot = view.at(0, -6)[1]
    view.level((0, 0), (margin, core - radius), foot, tolerance_mm=0.1)
    view.level((0, 5), (length, -6), foot - 6.5, tolerance_mm=0.2)
    view.upright((length, 0), (length - margin, core - radius), view.at(length, 0)[0] + 8)
    told = words(
        "groove ⌀{core_mm} ±{limit_mm}, corners {fillet_mm}",
        core_mm=size_words(words, tenon.core_mm),
        limit_mm=size_words(words, 0.1),
        fillet_mm=size_words(words, instrument.body.groove_fillet_mm),
    )
    place.sheet.text(place.left + 1, place.low + 1.5, told, height=1.5)
    return True


def _post(place: _Place, instrument: Instrument, shop: ShopPart) -> bool:
    """A post's flat or boss with its pilot, along the joint."""
    drilled = [post for post in shop.posts if post.hole_mm]
    if not drilled:
        return False
    post, across = drilled[0], instrument.body.post_base_mm
    half, hole = across / 2, post.hole_mm / 2
    body = shop.part.outside_diameter_at(post.station_mm) / 2
    deep = post.depth_mm - (body - post.base_mm)
    view, words = place.view(place.wide / 2 - 6, 36, across + deep), place.words
    place.head(view, words("post, {post}", post=post.name))
    step = body - post.base_mm
    for way in (-1, 1):
        view.line([(way * (half + 1.5), step), (way * half, step), (way * half, 0), (way * hole, 0),
                   (way * hole, -deep)])  # fmt: skip
    view.line([(-hole, -deep), (hole, -deep)])
    view.line([(0, 1.5), (0, -deep - 1)], Layer.CENTRE)
    top = view.at(0, max(step, 0))[1]
    view.level((-half, 0), (half, 0), top + 5, tolerance_mm=0.1)
    view.level((-hole, -deep), (hole, -deep), view.at(0, -deep)[1] - 5, before="⌀",
               tolerance_mm=0.05)  # fmt: skip
    view.upright((hole, -deep), (half, 0), view.at(half, 0)[0] + 16, tolerance_mm=0.2)
    return True
