"""Pictures of a batch: its yield over the tolerance, and what spoils it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.documents._figure import (
    axes_mm,
    new_figure,
    sheet_axes,
    tick_labels,
    write,
    write_picture,
)
from borewright.documents._look import (
    BAND,
    BLUE,
    BOLD_PT,
    FINE_PT,
    HAIR,
    INK,
    MUTED,
    ORANGE,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.model.results.yields import YieldResult
from borewright.words import ENGLISH, Reader

WIDTH_MM, CURVE_MM, ROW_MM = 172.0, 62.0, 5.4
#: Kinds that are drawn, the worst first.
_KINDS = 8


def yield_curve(result: YieldResult, path: Path | str, *, words: Reader = ENGLISH) -> Path:
    """Write the yield over the tolerance as SVG or PNG, by the suffix of ``path``."""
    title = words("{instrument}: yield over the tolerance", instrument=result.instrument)
    return write_picture(path, lambda: yield_curve_figure(result, words), title, words)


def yield_curve_figure(result: YieldResult, words: Reader = ENGLISH) -> Any:
    """The curve as a figure of matplotlib: how many would do at any tolerance."""
    figure = new_figure(WIDTH_MM, CURVE_MM)
    sheet = sheet_axes(figure)
    write(
        sheet, 2, CURVE_MM - 4, words("How many will do, by what is asked"),
        fontsize=TITLE_PT, fontweight="bold", va="center",
    )  # fmt: skip
    axes = axes_mm(figure, 13, 10, WIDTH_MM - 17, CURVE_MM - 19)
    most = _most_cents(result)
    shown = [(cents, 100 * share) for cents, share in result.curve if cents <= most]
    axes.set_xlim(0, most)
    axes.set_ylim(0, 104)
    axes.axvspan(0, result.within_cents, color=BAND, linewidth=0)
    axes.plot(*zip(*shown, strict=True), color=BLUE, linewidth=BOLD_PT, drawstyle="default")
    good = result.good
    axes.errorbar(
        [result.within_cents], [100 * good.value],
        yerr=[[100 * (good.value - good.low)], [100 * (good.high - good.value)]],
        color=ORANGE, marker="o", markersize=4, capsize=2.5, linewidth=BOLD_PT,
    )  # fmt: skip
    right = result.within_cents < 0.7 * most
    write(
        axes, result.within_cents + (0.015 if right else -0.015) * most, 100 * good.value - 7,
        words(
            "within {cents:g} cents: {percent:.1f} %",
            cents=result.within_cents, percent=100 * good.value,
        ),
        color=ORANGE, ha="left" if right else "right", va="center",
    )  # fmt: skip
    axes.set_xlabel(words("furthest standard note, cents"), fontsize=TEXT_PT)
    axes.set_ylabel(words("instruments, %"), fontsize=TEXT_PT)
    _plain(axes, grid="both")
    return figure


def _most_cents(result: YieldResult) -> float:
    """Where the curve is nearly at its top, and twice what is asked at least."""
    top = result.curve[-1][1]
    full = next((cents for cents, share in result.curve if share >= 0.998 * top), 60.0)
    return min(60.0, max(2 * result.within_cents, full + 2))


def culprits_chart(result: YieldResult, path: Path | str, *, words: Reader = ENGLISH) -> Path:
    """Write what spoils a batch as SVG or PNG, by the suffix of ``path``."""
    title = words("{instrument}: what spoils a batch", instrument=result.instrument)
    return write_picture(path, lambda: culprits_figure(result, words), title, words)


def culprits_figure(result: YieldResult, words: Reader = ENGLISH) -> Any:
    """Two bars a kind as a figure of matplotlib: share of the variance, and yield gained."""
    kinds = result.kinds[:_KINDS]
    height = 20 + ROW_MM * max(1, len(kinds))
    figure = new_figure(WIDTH_MM, height)
    sheet = sheet_axes(figure)
    write(
        sheet, 2, height - 4, words("What spoils it"), fontsize=TITLE_PT, fontweight="bold",
        va="center",
    )  # fmt: skip
    left, gap = 56.0, 8.0
    room = (WIDTH_MM - left - gap - 6) / 2
    panels = (
        (left, words("share of the variance, %"), BLUE,
         [100 * one.variance_share for one in kinds]),
        (left + room + gap, words("yield gained were it perfect, %"), ORANGE,
         [100 * one.perfect.gained for one in kinds]),
    )  # fmt: skip
    for number, (at, label, colour, values) in enumerate(panels):
        axes = axes_mm(figure, at, 9, room, height - 19)
        rows = [float(len(kinds) - 1 - row) for row in range(len(kinds))]
        axes.barh(rows, values, height=0.62, color=colour, linewidth=0)
        if number:
            sure = [100 * one.perfect.sure for one in kinds]
            axes.errorbar(
                values, rows, xerr=sure, fmt="none", ecolor=INK, elinewidth=FINE_PT, capsize=1.5
            )
        low, high = min([0.0, *values]), max([1.0, *values])
        axes.set_xlim(1.3 * low, 1.25 * high)
        axes.set_ylim(-0.6, len(kinds) - 0.4)
        names = [] if number else [words.tell(one.what) for one in kinds]
        tick_labels(axes.yaxis, [] if number else rows, names, fontsize=TEXT_PT)
        write(sheet, at, height - 8.2, label, fontsize=SMALL_TEXT_PT, color=MUTED, va="center")
        _plain(axes, grid="x")
    return figure


def _plain(axes: Any, grid: str) -> None:
    axes.grid(visible=True, axis=grid, color=HAIR, linewidth=FINE_PT)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(INK)
        axes.spines[side].set_linewidth(FINE_PT)
    axes.tick_params(length=2, width=FINE_PT, labelsize=TEXT_PT)
