"""The trade-off chart: what leaving the drawing brings in cents, design by design."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, new_figure, sheet_axes, write, write_picture
from borewright.documents._look import (
    BLUE,
    BOLD_PT,
    FINE_PT,
    HAIR,
    INK,
    MUTED,
    ORANGE,
    PLUM,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.documents._words import signed
from borewright.model.results.choices import Design, DesignFamily
from borewright.words import ENGLISH, Reader

HEIGHT_MM = 92.0
_MARK = 4.5


def trade_off_chart(
    family: DesignFamily,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another."""
    return write_picture(
        path,
        lambda: trade_off_figure(family, paper_width_mm, words),
        words("{instrument}: cents against closeness", instrument=family.instrument),
        words,
    )


def trade_off_figure(
    family: DesignFamily, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The chart as a figure of matplotlib."""
    figure = new_figure(paper_width_mm, HEIGHT_MM)
    sheet = sheet_axes(figure)
    write(
        sheet, 4, HEIGHT_MM - 5, words("Cents against closeness to the drawing"),
        fontsize=TITLE_PT, fontweight="bold", va="center",
    )  # fmt: skip
    write(
        sheet, 4, HEIGHT_MM - 9.6, words(
            "Each point is the best design for its price of a move, with its worst note. A step "
            "is 1 mm along the body, 0.5 mm of a hole, 0.25 mm of a rim, 0.1 mm of a bore."
        ), fontsize=SMALL_TEXT_PT, color=MUTED, va="center",
    )  # fmt: skip
    axes = axes_mm(figure, 15, 13, paper_width_mm - 21, HEIGHT_MM - 29)
    inside = [design for design in family.designs if design.within_limits]
    shown = [*family.designs, *([family.bores_held] if family.bores_held else [])]
    axes.set_xlim(-0.03 * _most(shown, "away_steps"), 1.16 * _most(shown, "away_steps"))
    axes.set_ylim(0, 1.12 * _most(shown, "rms_cents"))
    axes.plot(
        [design.away_steps for design in inside], [design.rms_cents for design in inside],
        color=BLUE, linewidth=BOLD_PT, marker="o", markersize=_MARK,
    )  # fmt: skip
    for number, design in enumerate(family.designs):
        if design.within_limits:
            _label(axes, design, f"{number}", BLUE, words, above=True)
        else:
            _far_end(axes, inside[-1], design, number, words)
    if family.bores_held:
        held = family.bores_held
        axes.plot(
            [held.away_steps], [held.rms_cents], marker="s", color=ORANGE, markersize=_MARK + 0.5,
            linestyle="none",
        )  # fmt: skip
        _label(axes, held, words("all bores held"), ORANGE, words, above=True)
    axes.grid(visible=True, color=HAIR, linewidth=FINE_PT)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(INK)
        axes.spines[side].set_linewidth(FINE_PT)
    axes.tick_params(length=2, width=FINE_PT, labelsize=TEXT_PT)
    axes.set_xlabel(words("steps away from the drawing"), fontsize=TEXT_PT)
    axes.set_ylabel(words("rms, cents"), fontsize=TEXT_PT)
    return figure


def _most(designs: list[Design], figure: str) -> float:
    return max([1.0, *(float(getattr(design, figure)) for design in designs)])


def _far_end(axes: Any, last: Design, far: Design, number: int, words: Reader) -> None:
    """The body that nobody would build: hollow, at the end of a broken line."""
    axes.plot(
        [last.away_steps, far.away_steps], [last.rms_cents, far.rms_cents], color=PLUM,
        linewidth=BOLD_PT, linestyle=(0, (4, 3)),
    )  # fmt: skip
    axes.plot(
        [far.away_steps], [far.rms_cents], marker="D", markerfacecolor="none", color=PLUM,
        markersize=_MARK, linestyle="none",
    )  # fmt: skip
    name = words("{number}: limits wide open, not to be built", number=number)
    _label(axes, far, name, PLUM, words, above=False)


def _label(
    axes: Any, design: Design, name: str, colour: str, words: Reader, *, above: bool
) -> None:
    """A design's name, its worst note and that note's cents, beside its point."""
    text = f"{name}  {design.worst_note} {signed(design.worst_cents, 1, words)}"
    low, high = axes.get_ylim()
    gap = 0.035 * (high - low)
    write(
        axes, design.away_steps, design.rms_cents + (gap if above else -gap), text,
        fontsize=SMALL_TEXT_PT, color=colour, ha="left" if above else "right",
        va="bottom" if above else "top", rotation=35 if above else 0,
        rotation_mode="anchor",
    )  # fmt: skip
