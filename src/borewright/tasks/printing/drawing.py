"""Shop drawings, drilling templates, inspection sheets and the gauge plan of an instrument."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import Instrument, Part, load
from borewright.tasks.inputs import survey_of
from borewright.tasks.outputs import check_folder
from borewright.tasks.printing.gauging import Drawn, gauged_rows
from borewright.tasks.printing.tolerances import pitch_tolerances
from borewright.tasks.staging import staged
from borewright.words import ENGLISH, Reader, Text, say

if TYPE_CHECKING:
    from borewright.documents import (
        InspectionRow,
        PostMark,
        SeatMark,
        Sheet,
        TitleBlock,
        Tolerances,
    )
    from borewright.solids import PostPlan

FORMATS = ("pdf", "svg", "dxf")


def make_drawings(
    file: Path,
    folder: Path,
    *,
    keywork: Path | None = None,
    formats: Sequence[str] = FORMATS,
    paper: str | None = None,
    words: Reader = ENGLISH,
) -> list[Path]:
    """Write a shop drawing and an inspection sheet a part, templates, and the gauge plan.

    ``paper`` is that of the templates. ``words`` reads them. Raises ModelError, SolidsError or
    DocumentsError.
    """
    with staged(folder) as place:
        made = _make_drawings_into(
            file, place.aside, keywork=keywork, formats=formats, paper=paper, words=words
        )
    return place.moved(made)


def _make_drawings_into(
    file: Path,
    folder: Path,
    *,
    keywork: Path | None = None,
    formats: Sequence[str] = FORMATS,
    paper: str | None = None,
    words: Reader = ENGLISH,
) -> list[Path]:
    instrument = load(file)
    survey = survey_of(instrument, file, keywork)
    check_folder(folder)
    from borewright.solids import plan_posts

    posts = plan_posts(instrument, survey)
    return draw_all(
        instrument,
        posts,
        folder,
        formats,
        paper,
        words,
        tolerances=pitch_tolerances(instrument, file),
        block=title_block(file),
    )


def title_block(file: Path, material: Text | None = None) -> TitleBlock:
    """What a drawing says of its instrument's file: name, day, and SHA-256."""
    from borewright.documents import TitleBlock

    day = datetime.fromtimestamp(file.stat().st_mtime, UTC).date().isoformat()
    return TitleBlock(
        material=material or say("as ordered"),
        date=day,
        file=file.name,
        digest=hashlib.sha256(file.read_bytes()).hexdigest(),
    )


def draw_all(
    instrument: Instrument,
    posts: Sequence[PostPlan],
    folder: Path,
    formats: Sequence[str] = FORMATS,
    paper: str | None = None,
    words: Reader = ENGLISH,
    *,
    tolerances: Tolerances | None = None,
    block: TitleBlock | None = None,
    drawn: Drawn | None = None,
) -> list[Path]:
    """The drawings of an instrument and of posts as the solids plan them, for who reads them.

    With ``drawn``, inspection tables say what went to the printer, so that they can be fed back.
    """
    from borewright.documents import (
        ShopPart,
        TitleBlock,
        Tolerances,
        inspection_rows,
        inspection_sheets,
        shop_sheets,
        template_sheet,
        write_gauge_plan,
        write_inspection,
        write_sheet,
        write_sheets,
    )
    from borewright.solids import outlines

    limits, block = tolerances or Tolerances(), block or TitleBlock()
    sheets: dict[str, Sheet] = {}
    to_write_on: dict[str, Sheet] = {}
    rows: list[InspectionRow] = []
    for number, part in enumerate(instrument.parts, 1):
        marks = _marks(instrument, part, posts)
        outside, inside = outlines(part, instrument)
        seats = _seats(instrument, part)
        shop = ShopPart(part, outside, inside, marks, seats, limits)
        own = replace(block, number=number, of=len(instrument.parts))
        stem = re.sub(r"[^\w]+", "-", part.name).strip("-") or "part"
        for page, sheet in enumerate(shop_sheets(instrument, shop, own, words=words), 1):
            sheets[stem if page == 1 else f"{stem}-{page}"] = sheet
        if part.holes or marks:
            sheets[f"{stem}-template"] = template_sheet(instrument, part, marks, paper, words=words)
        own_rows = inspection_rows(part, limits)
        own_rows = gauged_rows(part, own_rows, drawn) if drawn else own_rows
        rows += own_rows
        papers = inspection_sheets(instrument, part, limits, own, rows=own_rows, words=words)
        for page, sheet in enumerate(papers, 1):
            to_write_on[f"{stem}-inspection" if page == 1 else f"{stem}-inspection-{page}"] = sheet
    made = []
    for stem, sheet in sheets.items():
        made += write_sheets(sheet, [folder / f"{stem}.{kind}" for kind in formats])
    # What is written on by hand is paper alone.
    made += [write_sheet(sheet, folder / f"{stem}.pdf") for stem, sheet in to_write_on.items()]
    made.append(write_gauge_plan(instrument, folder / "gauge-plan.csv"))
    made.append(write_inspection(rows, folder / "inspection.csv", words=words))
    return made


def _seats(instrument: Instrument, part: Part) -> list[SeatMark]:
    from borewright.documents import SeatMark
    from borewright.solids import voids

    return [
        SeatMark(void.owner, 2 * void.radius_mm, void.low_mm)
        for void in voids(instrument, part)
        if void.kind == "seat"
    ]


def _marks(instrument: Instrument, part: Part, posts: Sequence[PostPlan]) -> list[PostMark]:
    from borewright.documents import PostMark

    return [
        PostMark(
            name=post.name,
            station_mm=post.station_mm,
            bearing_deg=post.bearing_deg,
            hole_mm=post.hole_mm,
            base_mm=post.base_mm,
            depth_mm=instrument.body.post_depth_mm,
        )
        for post in posts
        if post.part == part.name
    ]
