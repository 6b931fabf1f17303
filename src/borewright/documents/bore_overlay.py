"""Several bores on one picture: diameters, and deviations from the first."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, headed_sheet, new_figure, write, write_picture
from borewright.documents._look import (
    BLUE,
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    MUTED,
    ORANGE,
    PLUM,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.documents._names import short
from borewright.model.bores import BoreLine, OverlayTable
from borewright.words import ENGLISH, Reader

COLOURS = (INK, BLUE, ORANGE, PLUM)
STROKES = ("-", (0, (5, 1.5)), (0, (1.5, 1.2)), (0, (6, 1.5, 1, 1.5)))
HEIGHT_MM = 132.0


def overlay_chart(
    lines: Sequence[BoreLine],
    table: OverlayTable,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another."""
    return write_picture(
        path, lambda: overlay_figure(lines, table, paper_width_mm, words), words("Bores"), words
    )


def overlay_figure(
    lines: Sequence[BoreLine],
    table: OverlayTable,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Any:
    """The chart as a figure of matplotlib."""
    height = HEIGHT_MM + 4.0 * len(lines)
    figure = new_figure(paper_width_mm, height)
    sheet = headed_sheet(figure, words("Bores"))
    for number, line in enumerate(lines):
        y = height - 10.5 - 4 * number
        sheet.plot([4, 14], [y, y], **_style(number))
        name = short(line.name, 90)
        told = words("{bore} (dots: readings)", bore=name) if line.marks else name
        write(sheet, 16, y, told, fontsize=SMALL_TEXT_PT, color=MUTED, va="center")
    room = paper_width_mm - 20
    above = axes_mm(figure, 15, 56, room, 62)
    below = axes_mm(figure, 15, 12, room, 34)
    low = min(line.span_mm[0] for line in lines)
    high = max(line.span_mm[1] for line in lines)
    for axes in (above, below):
        axes.set_xlim(low, high)
        axes.tick_params(length=2, labelsize=TEXT_PT)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        for station, _ in lines[0].joints:
            axes.axvline(station, color=HAIR, linewidth=FINE_PT, zorder=0)
    for number, line in enumerate(lines):
        above.plot(*zip(*line.points, strict=True), **_style(number))
        if line.marks:
            above.plot(
                *zip(*line.marks, strict=True), linestyle="none", marker=".", markersize=2.2,
                color=COLOURS[number % len(COLOURS)],
            )  # fmt: skip
    for station, name in lines[0].joints:
        write(
            above, station + 2, above.get_ylim()[1], short(name, 16), fontsize=SMALL_TEXT_PT,
            color=MUTED, va="top",
        )  # fmt: skip
    above.set_ylabel(words("diameter, mm"), fontsize=TEXT_PT)
    stations = [row.station_mm for row in table.rows]
    below.axhline(0, color=INK, linewidth=FINE_PT)
    for number in range(1, len(lines)):
        wider = [row.wider_mm[number - 1] for row in table.rows]
        below.plot(stations, wider, marker=".", markersize=2.5, **_style(number))
    below.set_ylabel(words("wider than the first, mm"), fontsize=TEXT_PT)
    below.set_xlabel(words("station, mm"), fontsize=TEXT_PT)
    return figure


def _style(number: int) -> dict[str, Any]:
    return {
        "color": COLOURS[number % len(COLOURS)],
        "linestyle": STROKES[number % len(STROKES)],
        "linewidth": 1.6 * LINE_PT,
    }
