"""Shop drawings, drilling templates and the gauge plan of a file's instrument."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import Instrument, Part, load
from borewright.tasks.inputs import survey_of
from borewright.tasks.outputs import check_folder
from borewright.words import ENGLISH, Reader

if TYPE_CHECKING:
    from borewright.documents import PostMark
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
    """Write a shop drawing a part, a template where it has holes or posts, and the gauge plan.

    ``words`` reads them. Raises ModelError, SolidsError or DocumentsError.
    """
    instrument = load(file)
    survey = survey_of(instrument, file, keywork)
    check_folder(folder)
    from borewright.solids import plan_posts

    return draw_all(instrument, plan_posts(instrument, survey), folder, formats, paper, words)


def draw_all(
    instrument: Instrument,
    posts: Sequence[PostPlan],
    folder: Path,
    formats: Sequence[str] = FORMATS,
    paper: str | None = None,
    words: Reader = ENGLISH,
) -> list[Path]:
    """The drawings of an instrument and of posts as the solids plan them, for who reads them."""
    from borewright.documents import (
        ShopPart,
        shop_sheet,
        template_sheet,
        write_gauge_plan,
        write_sheet,
    )
    from borewright.solids import outlines

    made = []
    for part in instrument.parts:
        marks = _marks(instrument, part, posts)
        outside, inside = outlines(part, instrument)
        shop = ShopPart(part, outside, inside, marks)
        sheets = {"": shop_sheet(instrument, shop, paper, words=words)}
        if part.holes or marks:
            sheets["-template"] = template_sheet(instrument, part, marks, paper, words=words)
        stem = re.sub(r"[^\w]+", "-", part.name).strip("-") or "part"
        for ending, sheet in sheets.items():
            made += [write_sheet(sheet, folder / f"{stem}{ending}.{kind}") for kind in formats]
    made.append(write_gauge_plan(instrument, folder / "gauge-plan.csv"))
    return made


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
