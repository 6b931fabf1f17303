"""A part's shop drawing: views, details, tables, notes and title block on one sheet.

After ISO 128 (lines, sections), ISO 129-1 (dimensions), ISO 5455 (scales), ISO 5456-2 (first-angle
projection), ISO 5459 (datums), ISO 5457 and ISO 7200 (sheet and title block).
"""

from __future__ import annotations

from borewright.documents._dimensioning import View
from borewright.documents._rows import SCALES, scale_words
from borewright.documents._shop_details import HIGH_MM, draw_details
from borewright.documents._shop_tables import (
    bore_table,
    hole_table,
    joint_table,
    parts_list,
    post_table,
)
from borewright.documents._shop_views import (
    ROW_MM,
    SeatMark,
    ShopPart,
    dimension_diameters,
    dimension_lengths,
    draw_end_view,
    draw_section,
    label_holes,
    mark_datums,
)
from borewright.documents.sheet import PAPERS, Layer, Sheet
from borewright.documents.title_block import HEIGHT_MM, WIDTH_MM, TitleBlock, draw_title_block
from borewright.errors import DocumentsError
from borewright.model import Instrument
from borewright.words import ENGLISH, Reader, say

__all__ = ["SeatMark", "ShopPart", "shop_sheets"]

PAPER = "A3"
#: The frame: 20 mm on the left for the binding, 10 elsewhere (ISO 5457).
LEFT_MM, EDGE_MM = 20.0, 10.0
#: Room for the diameters beside the section, and round the end view.
_BESIDE_MM, _ROUND_MM = 8.0 + 3 * ROW_MM, 20.0
_TALLEST_MM = 82.0


def shop_sheets(
    instrument: Instrument,
    shop: ShopPart,
    block: TitleBlock | None = None,
    *,
    words: Reader = ENGLISH,
) -> list[Sheet]:
    """The shop drawing of one part on A3, landscape: one sheet, or a second one for its tables.

    Raises DocumentsError where the part has no room, or its tables have none on a sheet.
    """
    scale = _scale(shop, PAPERS[PAPER][0] - EDGE_MM - LEFT_MM)
    if scale is None:
        raise _no_room(instrument, shop)
    block = block or TitleBlock()
    for sheets in (1, 2):
        first = _framed(instrument, shop)
        first.unit = 1 / scale
        tables_from = _views(first, shop, scale, words)
        draw_details(first, instrument, shop, LEFT_MM + 3.0, EDGE_MM, words)
        notes_to = _write_notes(first, instrument, shop, words)
        made = [first]
        if sheets == 2:
            made.append(_framed(instrument, shop))
            tables_from, notes_to = made[1].height_mm - EDGE_MM - 5.0, EDGE_MM + HEIGHT_MM + 2.0
        ends = _tables(made[-1], shop, tables_from, words)
        if ends[0] >= EDGE_MM + (HIGH_MM if sheets == 1 else 2.0) and ends[1] >= notes_to:
            break
    else:
        raise _no_room(instrument, shop)
    name = instrument.name
    if instrument.invented:
        name = f"{name} {words('(invented example)')}"
    if instrument.serial:
        name = f"{name} {words('Serial {serial}.', serial=instrument.serial)}"
    for number, sheet in enumerate(made, 1):
        kind = words("shop drawing, finished sizes in mm")
        if len(made) > 1:
            kind = words(
                "shop drawing, finished sizes in mm, {number} of {of}", number=number, of=len(made)
            )
        draw_title_block(
            sheet,
            block,
            instrument=name,
            part=shop.part.name,
            kind=kind,
            scale=scale_words(scale, words),
            paper=PAPER,
            words=words,
        )
    return made


def _framed(instrument: Instrument, shop: ShopPart) -> Sheet:
    width, height = PAPERS[PAPER]
    sheet = Sheet(f"{instrument.name}: {shop.part.name}", width, height)
    right, top = width - EDGE_MM, height - EDGE_MM
    corners = [(LEFT_MM, EDGE_MM), (right, EDGE_MM), (right, top), (LEFT_MM, top)]
    sheet.line(corners, Layer.FRAME, closed=True)
    return sheet


def _views(sheet: Sheet, shop: ShopPart, scale: float, words: Reader) -> float:
    """Section and end view with their dimensions; returns where they end (y)."""
    low, high = shop.ends_mm
    top = sheet.height_mm - EDGE_MM - 4.0 - (19.0 if shop.part.holes else 10.0)
    axis = top - shop.reach_mm * scale
    view = View(sheet, (LEFT_MM + _BESIDE_MM - low * scale, axis), scale, words)
    draw_section(view, shop)
    across = (view.at(low, 0)[0] - 20.0, view.at(high, 0)[0] + 20.0)
    label_holes(view, shop, across)
    mark_datums(view, shop)
    dimension_diameters(view, shop)
    bottom = dimension_lengths(view, shop)
    middle = view.at(high, 0)[0] + _BESIDE_MM + _ROUND_MM + shop.reach_mm * scale
    draw_end_view(View(sheet, (middle, axis), scale, words), shop)
    under = axis - shop.reach_mm * scale - 15.0
    sheet.text(middle, under, words("seen from the top end"), height=1.7, align="center")
    return min(bottom, under) - 5.0


def _write_notes(sheet: Sheet, instrument: Instrument, shop: ShopPart, words: Reader) -> float:
    """Notes over the title block; returns where they begin (y)."""
    notes = _notes(instrument, shop, words)
    left = sheet.width_mm - EDGE_MM - WIDTH_MM + 1.0
    low = EDGE_MM + HEIGHT_MM + 3.0
    for number, line in enumerate(reversed(notes)):
        sheet.text(left, low + 3.3 * number, line, height=1.6)
    return low + 3.3 * len(notes) + 2.0


def _no_room(instrument: Instrument, shop: ShopPart) -> DocumentsError:
    return DocumentsError(
        say("part '{part}' with its tables has no room on {paper}", part=shop.part.name,
            paper=PAPER),
        place=instrument.name,
        remedy=say("Draw it as two parts, or leave the drawings out of the print job."),
    )  # fmt: skip


def _scale(shop: ShopPart, room: float) -> float | None:
    low, high = shop.ends_mm
    for scale in SCALES[1:]:
        long = (high - low + 2 * shop.reach_mm) * scale + 2 * _BESIDE_MM + 2 * _ROUND_MM
        if long <= room and 2 * shop.reach_mm * scale <= _TALLEST_MM:
            return scale
    return None


def _tables(sheet: Sheet, shop: ShopPart, top: float, words: Reader) -> tuple[float, float]:
    """All tables from left to right; returns their lowest ends over details and over notes."""
    x, right = LEFT_MM + 3.0, sheet.width_mm - EDGE_MM
    over_details, over_notes = [top], [top]
    if shop.part.holes:
        over_details.append(hole_table(sheet, shop, x, top, words))
        x += 160.0
    end = bore_table(sheet, shop, x, top, words)
    (over_notes if x + 92 > right - WIDTH_MM else over_details).append(end)
    x += 96.0
    end = joint_table(sheet, shop, x, top, words)
    if shop.posts:
        over_notes.append(parts_list(sheet, shop, x - 96.0, over_notes[-1] - 3.0, words))
        over_notes.append(post_table(sheet, shop, x, end - (3.0 if end < top else 0.0), words))
    else:
        over_notes.append(parts_list(sheet, shop, x, end - (3.0 if end < top else 0.0), words))
    return min(over_details), min(over_notes)


def _notes(instrument: Instrument, shop: ShopPart, words: Reader) -> list[str]:
    body = instrument.body
    notes = [
        words(
            "Datum A: top shoulder; datum B: axis of the bore. Stations from A, bearings from "
            "the front, + to the player's left."
        ),
    ]
    if shop.tolerances.holes:
        notes.append(
            words(
                "Tolerances: what 1 cent allows on the worst fingering, no tighter than the "
                "process holds, no wider than usual (from memory)."
            )
        )
    else:
        notes.append(words("Tolerances: usual in the workshop (from memory); no pitch was asked."))
    notes += [
        words(
            "Sizes without a tolerance: ISO 2768-m. Bearings ±0.5°. Tenons and sockets run true to "
            "B within 0.05."
        ),
        words(
            "Outer edges broken {edge_mm:g}, tenon roots rounded {root_mm:g}, sockets opened "
            "{open_mm:g}. Hole edges at the bore sharp, no burr.",
            edge_mm=body.edge_mm,
            root_mm=body.tenon_fillet_mm,
            open_mm=body.socket_chamfer_mm,
        ),
        words("Surface: bore and seats Ra 0.8, sealed; outside Ra 3.2 (common practice)."),
    ]
    if any(hole.pad for hole in shop.part.holes):
        notes.append(
            words("Pad seats: {seat}, land {land_mm:g}.", seat=body.seat, land_mm=body.seat_land_mm)
        )
    notes.append(words("Reamers and blades wound: clamp the work. Dust: extraction and a mask."))
    return notes
