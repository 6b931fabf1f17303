"""A smoothed bore with its readings, its breaks and their intervals."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, headed_sheet, new_figure, write, write_picture
from borewright.documents._look import (
    BAND,
    BLUE,
    FINE_PT,
    INK,
    LINE_PT,
    ORANGE,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.documents._names import short
from borewright.model.bores import BreakKind, SmoothedBore
from borewright.words import ENGLISH, Reader, say

HEIGHT_MM = 120.0


_BREAKS = {
    BreakKind.BEND: say("bend"),
    BreakKind.STEP: say("step"),
    BreakKind.FLARE_START: say("flare start"),
}


def smoothed_chart(
    bore: SmoothedBore,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another."""
    return write_picture(
        path, lambda: smoothed_figure(bore, paper_width_mm, words), bore.name, words
    )


def smoothed_figure(
    bore: SmoothedBore, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The chart as a figure of matplotlib."""
    figure = new_figure(paper_width_mm, HEIGHT_MM)
    title = words("Measured bore: {bore}", bore=short(bore.name, 60))
    note = words(
        "Dots: readings. Line: smoothed bore. Bands: 95 % intervals of bends, steps and the "
        "flare's start. Below: readings less the smoothed bore."
    )
    headed_sheet(figure, title, note)
    above = axes_mm(figure, 19, 50, paper_width_mm - 24, 52)
    below = axes_mm(figure, 19, 12, paper_width_mm - 24, 28)
    stations = [each.station_mm for each in bore.readings]
    for axes in (above, below):
        axes.tick_params(length=2, labelsize=TEXT_PT)
        axes.set_xlim(min(stations) - 3, max(stations) + 3)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        for each in bore.breaks:
            axes.axvspan(each.station_mm.low, each.station_mm.high, color=BAND, linewidth=0)
            axes.axvline(each.station_mm.value, color=ORANGE, linewidth=FINE_PT)
    above.plot(stations, [each.diameter_mm for each in bore.readings], linestyle="none",
               marker=".", markersize=3, color=BLUE)  # fmt: skip
    above.plot([p[0] for p in bore.profile], [p[1] for p in bore.profile], color=INK,
               linewidth=1.4 * LINE_PT)  # fmt: skip
    top = above.get_ylim()[1]
    for number, each in enumerate(bore.breaks):
        write(
            above, each.station_mm.value, top - 0.09 * (number % 2) * (top - above.get_ylim()[0]),
            f"{words.tell(_BREAKS[each.kind])} {words.number(each.station_mm.value, '.1f')}",
            fontsize=SMALL_TEXT_PT, color=ORANGE, ha="right", va="top",
        )  # fmt: skip
    above.set_ylabel(words("diameter, mm"), fontsize=TEXT_PT)
    left = [each.diameter_mm - each.smoothed_mm for each in bore.readings]
    below.axhline(0, color=INK, linewidth=FINE_PT)
    below.errorbar(stations, left, yerr=[each.uncertainty_mm for each in bore.readings],
                   linestyle="none", marker=".", markersize=3, color=BLUE,
                   elinewidth=FINE_PT)  # fmt: skip
    below.set_ylabel(words("left over, mm"), fontsize=TEXT_PT)
    below.set_xlabel(words("station, mm"), fontsize=TEXT_PT)
    return figure
