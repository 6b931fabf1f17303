"""How a long instrument is laid on the paper: rows, scale, and stations to paper."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from borewright.documents._profile import reach
from borewright.errors import DocumentsError
from borewright.model import Instrument, Part
from borewright.words import ENGLISH, Reader, say

#: Scales of technical drawings (ISO 5455), and 1:2.5, usual in workshops.
SCALES = (5.0, 2.0, 1.0, 0.5, 0.4, 0.2, 0.1, 0.05)
MARGIN_MM = 4.0
SINGLE_ROW_MM = 250.0


@dataclass(frozen=True)
class Row:
    """One row: the stations it answers for, and the slightly wider window that is drawn (mm)."""

    first: float
    last: float
    drawn_from: float
    drawn_to: float

    def owns(self, station: float) -> bool:
        """Whether a label at this station belongs to this row."""
        return self.first <= station < self.last


@dataclass(frozen=True)
class Frame:
    """Turns stations and heights of the instrument (mm) into places on the paper (mm)."""

    row: Row
    scale: float
    left: float
    axis: float

    def x(self, station: float) -> float:
        """Distance from the sheet's left edge."""
        return self.left + (station - self.row.drawn_from) * self.scale

    def y(self, height: float) -> float:
        """Distance from the sheet's lower edge, of a height above the instrument's axis."""
        return self.axis + height * self.scale


def placed_parts(instrument: Instrument) -> list[tuple[Part, float]]:
    """Every part with the distance (mm) of its top shoulder from the top of the first part."""
    ends = itertools.accumulate((part.length_mm for part in instrument.parts), initial=0.0)
    return list(zip(instrument.parts, ends, strict=False))


def plan_rows(instrument: Instrument, count: int | None) -> list[Row]:
    """One row for a short instrument, two for a long one, cut at a joint near the middle."""
    parts = placed_parts(instrument)
    top = min(offset + reach(part)[0] for part, offset in parts)
    if instrument.mouthpiece:
        top = min(top, -instrument.mouthpiece.shown_mm)
    bottom = max(offset + reach(part)[1] for part, offset in parts)
    if count not in (None, 1, 2):
        raise DocumentsError(
            say("a section drawing in {count} rows was asked for", count=count),
            place=(say("section drawing"), "rows"),
            remedy=say("Use 1 or 2 rows, or leave the choice to the drawing."),
        )
    if count is None:
        count = 1 if bottom - top <= SINGLE_ROW_MM else 2
    if count == 1:
        return [Row(top - 1.0, bottom + 1.0, top, bottom)]
    cut, overlap = _cut(instrument, parts, top, bottom)
    return [
        Row(top - 1.0, cut, top, min(cut + overlap + 4.0, bottom)),
        Row(cut, bottom + 1.0, max(cut - 6.0, top), bottom),
    ]


def _cut(
    instrument: Instrument, parts: list[tuple[Part, float]], top: float, bottom: float
) -> tuple[float, float]:
    """Where to cut, and how far a tenon reaches beyond the cut."""
    middle = (top + bottom) / 2
    allowed = 0.16 * (bottom - top)
    joints = [(abs(offset - middle), offset, part) for part, offset in parts[1:]]
    if joints:
        distance, offset, lower = min(joints, key=lambda joint: joint[:2])
        if distance <= allowed:
            upper = parts[[part for part, _ in parts].index(lower) - 1][0]
            return offset, upper.tenon_bottom.length_mm if upper.tenon_bottom else 0.0
    stations = sorted(station for _, _, station in instrument.placed_holes())
    gaps = [(a + b) / 2 for a, b in itertools.pairwise(stations) if b - a > 12.0]
    near = [gap for gap in gaps if abs(gap - middle) <= allowed]
    return min(near, key=lambda gap: abs(gap - middle), default=middle), 0.0


def choose_scale(rows: list[Row], paper_width_mm: float) -> float:
    """The largest usual scale at which every row fits between the margins."""
    longest = max(row.drawn_to - row.drawn_from for row in rows)
    room = paper_width_mm - 2 * MARGIN_MM
    for scale in SCALES:
        if longest * scale <= room:
            return scale
    raise DocumentsError(
        say(
            "a row of {longest_mm:g} mm does not fit on paper {paper_mm:g} mm wide",
            longest_mm=longest,
            paper_mm=paper_width_mm,
        ),
        place=(say("drawing"), "paper_width_mm"),
        remedy=say("Give wider paper."),
    )


def scale_words(scale: float, words: Reader = ENGLISH) -> str:
    """``1:2``, ``2:1``."""
    return f"{words.number(scale, 'g')}:1" if scale > 1 else f"1:{words.number(1 / scale, 'g')}"
