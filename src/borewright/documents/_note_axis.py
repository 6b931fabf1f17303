"""Panels with one place a note along the bottom, the registers named above."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from borewright.documents._figure import tick_labels, write
from borewright.documents._look import (
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.documents._names import short


def note_axis(
    axes: Any, names: Sequence[str], label: str, limits: tuple[float, float], *, named: bool
) -> None:
    """Prepare axes for one mark a note; names at the bottom where ``named``."""
    axes.set_xlim(-0.7, len(names) - 0.3)
    axes.set_ylim(*limits)
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=0, labelsize=SMALL_TEXT_PT, pad=1.5)
    axes.yaxis.set_major_locator(_few_ticks())
    for place in range(len(names)):
        axes.axvline(place, color=HAIR, linewidth=FINE_PT / 2, zorder=0)
    axes.grid(axis="y", color=HAIR, linewidth=FINE_PT, zorder=0)
    texts = [short(name, 14) for name in names] if named else []
    turned = 90 if any(len(name) > 3 for name in names) else 0
    tick_labels(
        axes.xaxis, list(range(len(names))) if named else [], texts,
        fontsize=SMALL_TEXT_PT, rotation=turned,
    )  # fmt: skip
    axes.set_ylabel(label, fontsize=TEXT_PT)


def _few_ticks() -> Any:
    from matplotlib.ticker import MaxNLocator

    return MaxNLocator(nbins=4, steps=[1, 2, 2.5, 5, 10])


def register_names(axes: Any, registers: Sequence[str]) -> None:
    """Name runs of notes of one register above the axes."""
    high, low = axes.get_ylim()[1], axes.get_ylim()[0]
    step = (high - low) * 0.06
    start = 0
    for place in range(1, len(registers) + 1):
        if place == len(registers) or registers[place] != registers[start]:
            axes.plot(
                [start - 0.35, place - 0.65], [high + step] * 2,
                color=INK, linewidth=LINE_PT, clip_on=False,
            )  # fmt: skip
            write(
                axes, (start + place - 1) / 2, high + 2.4 * step, registers[start],
                fontsize=TEXT_PT, ha="center", va="center", fontstyle="italic",
            )  # fmt: skip
            start = place


def limits_of(
    values: Sequence[float | None], least: float, zero: bool = False
) -> tuple[float, float]:
    """Limits round the values, at least ``least`` apart, 0 among them where ``zero``."""
    shown = [value for value in values if value is not None]
    shown += [0.0] if zero else []
    if not shown:
        return 0.0, least
    low, high = min(shown), max(shown)
    middle, half = (low + high) / 2, max((high - low) * 0.58, least / 2)
    return middle - half, middle + half
