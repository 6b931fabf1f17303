"""The twelfths chart: how wide each low note's twelfth is."""

from __future__ import annotations

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
from borewright.documents._look import BLUE, FINE_PT, INK, MUTED, ORANGE, SMALL_TEXT_PT, TEXT_PT
from borewright.documents._words import signed
from borewright.model import TuningTable
from borewright.words import ENGLISH, Reader

HEIGHT_MM = 72.0
#: A tempered twelfth is 1900 cents; the pure one, 1200·log2(3), is 1.955 wider.
TEMPERED_CENTS = -1.955
#: Room for a letter of an upright label.
LETTER_MM = 1.6


def twelfths_chart(
    table: TuningTable,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another."""
    return write_picture(
        path,
        lambda: twelfths_figure(table, paper_width_mm, words),
        words("{instrument}: twelfths", instrument=table.instrument),
        words,
    )


def twelfths_figure(
    table: TuningTable, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The chart as a figure of matplotlib."""
    # Alternates carry their label under the notes, upright, where it has room.
    foot = max((len(_label(twelfth.low)) for twelfth in table.twelfths), default=0) * LETTER_MM
    height = HEIGHT_MM + foot
    figure = new_figure(paper_width_mm, height)
    note = words(
        "Cents from a pure twelfth: upwards is wide, downwards narrow. Broken line: the "
        "tempered twelfth."
    )
    sheet = headed_sheet(figure, words("Twelfths"), note)
    if not table.twelfths:
        write(sheet, paper_width_mm / 2, height / 2, words("No twelfths to show"), ha="center")
        return figure
    axes = axes_mm(figure, 15, 13 + foot, paper_width_mm - 19, HEIGHT_MM - 30)
    stretches = [twelfth.stretch_cents for twelfth in table.twelfths]
    limit = max(5.0, 1.3 * max(abs(value) for value in stretches))
    axes.set_xlim(-0.6, len(stretches) - 0.4)
    axes.set_ylim(-limit, limit)
    axes.axhline(0, color=INK, linewidth=FINE_PT)
    axes.axhline(TEMPERED_CENTS, color=MUTED, linewidth=FINE_PT, linestyle=(0, (6, 3)))
    for index, value in enumerate(stretches):
        wide = value >= 0
        colour = ORANGE if wide else BLUE
        axes.plot([index, index], [0, value], color=colour, linewidth=2.2, solid_capstyle="butt")
        axes.plot([index], [value], marker="^" if wide else "v", color=colour, markersize=5)
        write(
            axes, index, value + (0.13 if wide else -0.13) * limit, signed(value, 1, words),
            fontsize=SMALL_TEXT_PT, ha="center", va="center",
        )  # fmt: skip
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=0, labelsize=TEXT_PT)
    notes = [f"{_note(twelfth.low)}\n{_note(twelfth.high)}" for twelfth in table.twelfths]
    tick_labels(axes.xaxis, [float(index) for index in range(len(notes))], notes)
    for index, twelfth in enumerate(table.twelfths):
        write(
            axes, index, -limit - limit * 0.42, _label(twelfth.low), fontsize=SMALL_TEXT_PT,
            color=MUTED, ha="center", va="top", rotation=90,
        )  # fmt: skip
    axes.set_ylabel(words("cents"), fontsize=TEXT_PT)
    return figure


def _note(fingering: str) -> str:
    return fingering.partition(" (")[0]


def _label(fingering: str) -> str:
    return fingering.partition(" (")[2].removesuffix(")")
