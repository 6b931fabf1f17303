"""The outside of the body unrolled: every hole and pad at its station and bearing, to scale."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.documents._figure import new_figure, sheet_axes, write, write_picture
from borewright.documents._look import (
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    MUTED,
    PAPER,
    PART_TINTS,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.documents._names import short
from borewright.documents._rows import (
    MARGIN_MM,
    Frame,
    Row,
    choose_scale,
    placed_parts,
    plan_rows,
    scale_words,
)
from borewright.model import Cover, Instrument, Part, ToneHole
from borewright.words import ENGLISH, Reader, say_as

BEARINGS = (
    (180, say_as("bearing", "back")),
    (90, say_as("bearing", "left")),
    (0, say_as("bearing", "front")),
    (-90, say_as("bearing", "right")),
    (-180, say_as("bearing", "back")),
)
BEYOND_DEG = 25.0
RING_SIGN_MM = 2.2  # the model does not know a ring's own size, so this is only a sign
AROUND_MM = 16.0
BEARING_ROOM_MM = 9.0

_Box = tuple[float, float, float, float]


def developed_drawing(
    instrument: Instrument,
    path: Path | str,
    *,
    paper_width_mm: float = 390.0,
    scale: float | None = None,
    words: Reader = ENGLISH,
) -> Path:
    """Write the unrolled outside as SVG or PNG, by the suffix of ``path``.

    Lengths along the instrument and round it are both to scale, the latter measured on the
    outside. A hole at the back stands on both edges. Raises DocumentsError for another
    suffix or paper too narrow.
    """
    return write_picture(
        path,
        lambda: developed_figure(instrument, paper_width_mm, scale, words),
        words("{instrument}: outside, developed", instrument=instrument.name),
        words,
    )


def developed_figure(
    instrument: Instrument,
    paper_width_mm: float = 390.0,
    scale: float | None = None,
    words: Reader = ENGLISH,
) -> Any:
    """The developed outside as a figure of matplotlib."""
    trimmed = [_trimmed(instrument, row) for row in plan_rows(instrument, None)]
    rows = [row for row in trimmed if row is not None] or plan_rows(instrument, 1)
    factor = scale or choose_scale(rows, paper_width_mm - BEARING_ROOM_MM)
    longest = max(row.drawn_to - row.drawn_from for row in rows)
    width = max(longest * factor + 2 * MARGIN_MM + BEARING_ROOM_MM, 120.0)
    halves = [_half_girth(instrument, row) * _shown_half_turn(instrument, row) for row in rows]
    height = 18.0 + sum(2 * half * factor + 10.0 for half in halves)
    axes = sheet_axes(new_figure(width, height))
    write(
        axes, MARGIN_MM, height - 5, words("Outside, developed"), fontsize=TITLE_PT,
        fontweight="bold", va="center",
    )  # fmt: skip
    for line, told in enumerate(
        (
            words(
                "Seen from outside, top end at the left; bearing in degrees. Scale {scale}.",
                scale=scale_words(factor, words),
            ),
            words("Thin rings: pads. Broken rings: ring keys, not to size."),
        )
    ):
        write(
            axes, MARGIN_MM, height - 9.5 - 3.2 * line, told, fontsize=SMALL_TEXT_PT,
            color=MUTED, va="center",
        )  # fmt: skip
    top = height - 16.0
    for row, half in zip(rows, halves, strict=True):
        frame = Frame(row, factor, MARGIN_MM + BEARING_ROOM_MM, top - half * factor - 2.0)
        _row(axes, frame, instrument, half, words)
        top -= 2 * half * factor + 10.0
    return axes.figure


def _trimmed(instrument: Instrument, row: Row) -> Row | None:
    """The stretch of a row that has holes, with some body on both sides; None without holes."""
    stations = [s for _, _, s in instrument.placed_holes() if row.owns(s)]
    if not stations:
        return None
    low = max(0.0, row.first, min(stations) - AROUND_MM)
    high = min(instrument.length_mm, row.last, max(stations) + AROUND_MM)
    return Row(row.first, row.last, low, high)


def _shown_half_turn(instrument: Instrument, row: Row) -> float:
    """Half turns drawn on each side of the front: a little more where a hole is at the back."""
    back = any(
        _is_at_back(hole) for _, hole, station in instrument.placed_holes() if row.owns(station)
    )
    return 1.0 + (BEYOND_DEG if back else 5.0) / 180.0


def _is_at_back(hole: ToneHole) -> bool:
    return abs(hole.bearing_deg) > 180 - BEYOND_DEG


def _half_girth(instrument: Instrument, row: Row) -> float:
    return max(
        math.pi / 2 * part.outside_diameter_at(station - offset)
        for part, offset, station in _samples(instrument, row)
    )


def _samples(instrument: Instrument, row: Row) -> list[tuple[Part, float, float]]:
    """Stations at which the outside may bend, each with its part and the part's offset."""
    found = []
    for part, offset in placed_parts(instrument):
        low, high = max(offset, row.drawn_from), min(offset + part.length_mm, row.drawn_to)
        if low < high:
            inside = [offset + s for s, _ in part.outside if low < offset + s < high]
            found += [(part, offset, station) for station in (low, *inside, high)]
    return found


def _row(axes: Any, frame: Frame, instrument: Instrument, half: float, words: Reader) -> None:
    for index, (part, offset) in enumerate(placed_parts(instrument)):
        points = [s for p, _, s in _samples(instrument, frame.row) if p is part]
        if not points:
            continue
        girth = [math.pi / 2 * part.outside_diameter_at(s - offset) for s in points]
        xs = [frame.x(s) for s in points]
        axes.fill_between(
            xs, [frame.y(-g) for g in girth], [frame.y(g) for g in girth],
            facecolor=PART_TINTS[index % len(PART_TINTS)], edgecolor=INK, linewidth=FINE_PT,
            alpha=0.55,
        )  # fmt: skip
        for bearing, _ in BEARINGS[1:-1]:
            axes.plot(
                xs, [frame.y(g * bearing / 180) for g in girth],
                color=MUTED, linewidth=FINE_PT, linestyle=(0, (8, 3)),
            )  # fmt: skip
    first = frame.x(frame.row.drawn_from)
    girth_here = _half_girth_at(instrument, frame.row.drawn_from)
    for bearing, word in BEARINGS:
        told = words.tell(word)
        write(
            axes, first - 1.2, frame.y(girth_here * bearing / 180), f"{bearing:+d}°\n{told}"
            if bearing else f"0°\n{told}", fontsize=SMALL_TEXT_PT - 0.8, color=MUTED, ha="right",
            va="center", linespacing=0.95,
        )  # fmt: skip
    marks = [
        mark
        for part, hole, station in instrument.placed_holes()
        if frame.row.owns(station)
        for mark in _marks(frame, part, hole, station)
    ]
    for mark in marks:
        _hole(axes, frame, mark)
    _names(axes, marks)
    _ruler(axes, frame, frame.y(-half) - 1.0)


def _half_girth_at(instrument: Instrument, station: float) -> float:
    for part, offset in placed_parts(instrument):
        if offset <= station < offset + part.length_mm:
            return math.pi / 2 * part.outside_diameter_at(station - offset)
    last = instrument.parts[-1]
    return math.pi / 2 * last.outside_diameter_at(last.length_mm)


@dataclass(frozen=True)
class _Mark:
    """A hole on the paper: centre and radius of all that belongs to it (mm of paper)."""

    hole: ToneHole
    x: float
    y: float
    radius: float


def _marks(frame: Frame, part: Part, hole: ToneHole, station: float) -> list[_Mark]:
    half_girth = math.pi / 2 * part.outside_diameter_at(hole.station_mm)
    bearings = [hole.bearing_deg]
    if _is_at_back(hole):
        bearings.append(hole.bearing_deg - math.copysign(360.0, hole.bearing_deg))
    covered = hole.pad.diameter_mm if hole.pad else hole.diameter_mm
    if hole.cover is Cover.RING:
        covered += RING_SIGN_MM
    return [
        _Mark(
            hole,
            frame.x(station),
            frame.y(half_girth * bearing / 180),
            covered / 2 * frame.scale,
        )
        for bearing in bearings
    ]


def _hole(axes: Any, frame: Frame, mark: _Mark) -> None:
    from matplotlib.patches import Circle

    if mark.hole.cover is not Cover.FINGER:
        style = "-" if mark.hole.pad else (0, (3, 1.5))
        around = Circle(
            (mark.x, mark.y), mark.radius, facecolor="none", edgecolor=MUTED,
            linewidth=FINE_PT, linestyle=style, zorder=3,
        )  # fmt: skip
        axes.add_patch(around)
    circle = Circle(
        (mark.x, mark.y), mark.hole.diameter_mm / 2 * frame.scale, facecolor=PAPER,
        edgecolor=INK, linewidth=LINE_PT, zorder=3,
    )  # fmt: skip
    axes.add_patch(circle)


def _names(axes: Any, marks: list[_Mark]) -> None:
    """Each name beside its hole, on the first side where it covers nothing."""
    taken: list[_Box] = [
        (m.x - m.radius, m.y - m.radius, m.x + m.radius, m.y + m.radius) for m in marks
    ]
    for mark in marks:
        name = short(mark.hole.name, 10)
        wide, high = 0.95 * len(name) + 0.3, 1.5
        away = mark.radius + 0.5
        places = [
            (mark.x, mark.y + away + high),
            (mark.x, mark.y - away - high),
            (mark.x + away + wide, mark.y),
            (mark.x - away - wide, mark.y),
        ]
        boxes = [(x - wide, y - high, x + wide, y + high) for x, y in places]
        free = [not any(_overlap(box, other) for other in taken) for box in boxes]
        chosen = free.index(True) if any(free) else 0
        taken.append(boxes[chosen])
        write(
            axes, *places[chosen], name, fontsize=TEXT_PT, fontweight="bold", va="center",
            ha="center",
        )  # fmt: skip


def _overlap(one: _Box, other: _Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _ruler(axes: Any, frame: Frame, y: float) -> None:
    first = math.ceil(frame.row.drawn_from / 10) * 10
    ends = [frame.x(frame.row.drawn_from), frame.x(frame.row.drawn_to)]
    axes.plot(ends, [y] * 2, color=HAIR, linewidth=LINE_PT)
    for station in range(first, math.floor(frame.row.drawn_to) + 1, 10):
        labelled = station % 50 == 0
        axes.plot(
            [frame.x(station)] * 2, [y, y - (1.8 if labelled else 1.0)], color=INK,
            linewidth=FINE_PT,
        )  # fmt: skip
        if labelled:
            write(
                axes, frame.x(station), y - 3.2, str(station), fontsize=SMALL_TEXT_PT,
                ha="center", va="center", color=MUTED,
            )  # fmt: skip
