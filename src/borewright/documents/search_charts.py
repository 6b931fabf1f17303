"""Pictures of a search: the designs that none beats, and where they lie among the features."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, new_figure, sheet_axes, write, write_picture
from borewright.documents._look import (
    BLUE,
    FINE_PT,
    HAIR,
    INK,
    MUTED,
    ORANGE,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.model.results.bore_search import BoreSearchResult
from borewright.words import ENGLISH, Reader

WIDTH_MM, HEIGHT_MM = 172.0, 86.0


def pareto_chart(result: BoreSearchResult, path: Path | str, *, words: Reader = ENGLISH) -> Path:
    """Write tuning against evenness as SVG or PNG, by the suffix of ``path``."""
    title = words("{instrument}: bores that were tried", instrument=result.instrument)
    return write_picture(path, lambda: pareto_figure(result, words), title, words)


def pareto_figure(result: BoreSearchResult, words: Reader = ENGLISH) -> Any:
    """Tuning against strength and against cut-off; the best are filled and bear their numbers."""
    figure = new_figure(WIDTH_MM, HEIGHT_MM)
    sheet = sheet_axes(figure)
    write(
        sheet, 2, HEIGHT_MM - 4, words("Bores that were tried"), fontsize=TITLE_PT,
        fontweight="bold", va="center",
    )  # fmt: skip
    write(
        sheet, 2, HEIGHT_MM - 8.5,
        words("Filled: none other is as good in every aim. Square: the drawing."),
        fontsize=SMALL_TEXT_PT, color=MUTED, va="center",
    )  # fmt: skip
    room = (WIDTH_MM - 40) / 2
    for number, (key, label) in enumerate(
        (
            ("strength_step_db", words("steps of strength, dB")),
            ("cutoff_step_hz", words("steps of cut-off, Hz")),
        )
    ):
        axes = axes_mm(figure, 16 + number * (room + 18), 11, room, HEIGHT_MM - 26)
        for one in result.designs:
            colour = BLUE if one.best else (MUTED if not one.faults else ORANGE)
            axes.plot(
                [one.rms_cents], [getattr(one, key)], linestyle="none",
                marker="s" if not one.number else ("o" if not one.faults else "x"),
                markersize=4.5 if one.best or not one.number else 3, color=colour,
                markerfacecolor=colour if one.best else "none",
            )  # fmt: skip
            if one.best:
                write(
                    axes, one.rms_cents, getattr(one, key), f" {one.number}",
                    fontsize=SMALL_TEXT_PT, color=BLUE, va="bottom",
                )  # fmt: skip
        axes.set_xlabel(words("rms, cents"), fontsize=TEXT_PT)
        axes.set_ylabel(label, fontsize=TEXT_PT)
        _plain(axes)
    return figure


def corner_chart(result: BoreSearchResult, path: Path | str, *, words: Reader = ENGLISH) -> Path:
    """Write every pair of features as SVG or PNG, by the suffix of ``path``."""
    title = words("{instrument}: where the best bores lie", instrument=result.instrument)
    return write_picture(path, lambda: corner_figure(result, words), title, words)


def corner_figure(result: BoreSearchResult, words: Reader = ENGLISH) -> Any:
    """A panel for each pair of features, and each feature against the tuning on the diagonal."""
    count = len(result.features)
    size = min(44.0, 150.0 / count)
    figure = new_figure(24 + count * (size + 6), 22 + count * (size + 6))
    height = 22 + count * (size + 6)
    sheet = sheet_axes(figure)
    write(
        sheet, 2, height - 4, words("Where the best bores lie"), fontsize=TITLE_PT,
        fontweight="bold", va="center",
    )  # fmt: skip
    write(
        sheet, 2, height - 8.5, words("mm off the drawing; on the diagonal upwards: rms, cents"),
        fontsize=SMALL_TEXT_PT, color=MUTED, va="center",
    )  # fmt: skip
    for row in range(count):
        for column in range(row + 1):
            axes = axes_mm(
                figure, 16 + column * (size + 6), 10 + (count - 1 - row) * (size + 6), size, size
            )
            for one in result.designs:
                up = one.rms_cents if row == column else one.changes_mm[row]
                axes.plot(
                    [one.changes_mm[column]], [up], linestyle="none",
                    marker="o" if one.number else "s", markersize=4 if one.best else 2.2,
                    color=BLUE if one.best else MUTED,
                    markerfacecolor=BLUE if one.best else "none",
                )  # fmt: skip
            feature = result.features[column]
            axes.set_xlim(feature.from_mm, feature.to_mm)
            if row == count - 1:
                axes.set_xlabel(feature.name, fontsize=TEXT_PT)
            if not column:
                label = words("rms, cents") if not row else result.features[row].name
                axes.set_ylabel(label, fontsize=TEXT_PT)
            _plain(axes)
    return figure


def _plain(axes: Any) -> None:
    axes.grid(visible=True, color=HAIR, linewidth=FINE_PT)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(INK)
        axes.spines[side].set_linewidth(FINE_PT)
    axes.tick_params(length=2, width=FINE_PT, labelsize=SMALL_TEXT_PT)
