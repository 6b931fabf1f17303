"""The sensitivity chart: how many cents a tenth of a millimetre brings, note by hole."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from borewright.documents._figure import (
    axes_mm,
    headed_sheet,
    new_figure,
    tick_labels,
    write,
    write_picture,
)
from borewright.documents._look import HAIR, SMALL_TEXT_PT, TEXT_PT
from borewright.documents._names import short
from borewright.model import SensitivityMap
from borewright.words import ENGLISH, Reader, say

MEASURES = {"diameter": say("hole diameter"), "station": say("hole station")}
_HOLE_DIMENSION = re.compile(r"^(?P<hole>.+) (?P<measure>diameter|station)$")
#: Diverging colours that stay apart for the common kinds of colour blindness.
COLOUR_MAP = "PuOr_r"
SMALLEST_CENTS = 0.02
CELL_MM = 3.15
SIDE_MM = 24.0
HEAD_MM = 30.0
FOOT_MM = 6.0
GAP_MM = 6.0


def hole_columns(sensitivity: SensitivityMap, measure: str) -> list[tuple[str, int]]:
    """Holes whose ``measure`` (diameter or station) the map holds, with their column."""
    found = []
    for dimension, index in sensitivity.columns.items():
        match = _HOLE_DIMENSION.match(dimension)
        if match and match["measure"] == measure:
            hole = match["hole"]
            # "L3 undercut diameter" is another dimension of hole L3, not of a hole of that name.
            if not hole.endswith((" undercut", " bore")):
                found.append((hole, index))
    return found


def sensitivity_chart(
    sensitivity: SensitivityMap,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another.

    One panel for the holes' diameters, one for their stations; rows are fingerings. Cells
    that lower the note bear a short stroke, so that the sign does not hang on colour.
    """
    return write_picture(
        path,
        lambda: sensitivity_figure(sensitivity, paper_width_mm, words),
        words("{instrument}: sensitivity map", instrument=sensitivity.instrument),
        words,
    )


def sensitivity_figure(
    sensitivity: SensitivityMap, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The chart as a figure of matplotlib."""
    rows = len(sensitivity.fingerings)
    height = HEAD_MM + max(rows, 4) * CELL_MM + FOOT_MM
    figure = new_figure(paper_width_mm, height)
    note = words(
        "Cents for +0.1 mm. Orange raises the note; violet with a stroke lowers it (station: "
        "the hole moved down the instrument)."
    )
    sheet = headed_sheet(figure, words("Sensitivity map"), note)
    panels = [(measure, hole_columns(sensitivity, measure)) for measure in MEASURES]
    panels = [(measure, columns) for measure, columns in panels if columns]
    if not panels or not rows:
        write(
            sheet,
            paper_width_mm / 2,
            height / 3,
            words("No hole dimensions in this map"),
            ha="center",
        )
        return figure
    most = max(
        (abs(row[index]) for _, columns in panels for _, index in columns
         for row in sensitivity.cents_per_tenth_mm),
        default=0.0,
    ) or 1.0  # fmt: skip
    room = paper_width_mm - SIDE_MM - 4 - GAP_MM * (len(panels) - 1)
    cell = min(6.0, room / sum(len(columns) for _, columns in panels))
    left = SIDE_MM
    for number, (measure, columns) in enumerate(panels):
        width = cell * len(columns)
        axes = axes_mm(figure, left, FOOT_MM, width, rows * CELL_MM)
        _panel(axes, sensitivity, measure, columns, most, words, named=number == 0)
        left += width + GAP_MM
    _scale(sheet, paper_width_mm, height, most, words)
    return figure


def _colour(value: float, most: float) -> Any:
    import matplotlib

    return matplotlib.colormaps[COLOUR_MAP](0.5 + 0.5 * max(-1.0, min(1.0, value / most)))


def _panel(
    axes: Any, sensitivity: SensitivityMap, measure: str, columns: list[tuple[str, int]],
    most: float, words: Reader, *, named: bool,
) -> None:  # fmt: skip
    from matplotlib.collections import PatchCollection
    from matplotlib.patches import Rectangle

    rows = len(sensitivity.fingerings)
    axes.set_xlim(0, len(columns))
    axes.set_ylim(rows, 0)
    cells, colours = [], []
    strokes: list[list[tuple[float, float]]] = []
    for i, values in enumerate(sensitivity.cents_per_tenth_mm):
        for j, (_, index) in enumerate(columns):
            if abs(values[index]) >= SMALLEST_CENTS:
                cells.append(Rectangle((j, i), 1, 1))
                colours.append(_colour(values[index], most))
                if values[index] < 0:
                    strokes.append([(j + 0.3, i + 0.5), (j + 0.7, i + 0.5)])
    axes.add_collection(PatchCollection(cells, facecolors=colours, edgecolors="none"))
    from matplotlib.collections import LineCollection

    axes.add_collection(LineCollection(strokes, colors="#000000", linewidths=0.35, alpha=0.7))
    for i in range(0, rows + 1, 5):
        axes.axhline(i, color=HAIR, linewidth=0.3, zorder=0)
    for j in range(0, len(columns) + 1, 5):
        axes.axvline(j, color=HAIR, linewidth=0.3, zorder=0)
    axes.tick_params(length=0, pad=1.5)
    axes.xaxis.tick_top()
    names = [short(hole, 10) for hole, _ in columns]
    tick_labels(
        axes.xaxis, [j + 0.5 for j in range(len(columns))], names,
        rotation=90, fontsize=SMALL_TEXT_PT,
    )  # fmt: skip
    fingerings = [short(name, 18) for name in sensitivity.fingerings] if named else []
    places = [i + 0.5 for i in range(rows)] if named else []
    tick_labels(axes.yaxis, places, fingerings, fontsize=SMALL_TEXT_PT)
    axes.set_xlabel(words.tell(MEASURES[measure]), fontsize=TEXT_PT, labelpad=2)
    axes.xaxis.set_label_position("bottom")


def _scale(sheet: Any, width: float, height: float, most: float, words: Reader) -> None:
    from matplotlib.patches import Rectangle

    steps = 21
    left, box, y = width - 66.0, 2.4, height - 16.0
    for step in range(steps):
        value = most * (2 * step / (steps - 1) - 1)
        sheet.add_patch(
            Rectangle((left + step * box, y), box, 2.6, facecolor=_colour(value, most),
                      edgecolor="none")
        )  # fmt: skip
    end = words.number(most, ".2g")
    for share, told in ((0.0, f"−{end}"), (0.5, "0"), (1.0, f"+{end}")):
        write(
            sheet, left + share * box * steps, y - 1.8, told, fontsize=SMALL_TEXT_PT,
            ha="center", va="center",
        )  # fmt: skip
    write(sheet, left - 4, y + 1.3, words("cents"), fontsize=SMALL_TEXT_PT, ha="right", va="center")
