"""The classic curves: what a wider bore at each station does to every note."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, headed_sheet, new_figure, write, write_picture
from borewright.documents._look import (
    BLUE,
    BOLD_PT,
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.documents._names import plain, short
from borewright.model import BorePerturbation, Register
from borewright.words import ENGLISH, Reader

PANEL_MM = 46.0
HEAD_MM = 16.0


def perturbation_chart(
    curves: BorePerturbation,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the curves as SVG or PNG, by the suffix of ``path``; DocumentsError for another.

    A panel a register, a line a fingering, from dark (its first note) to light, and parts
    named along the bottom.
    """
    return write_picture(
        path,
        lambda: perturbation_figure(curves, paper_width_mm, words),
        words("{instrument}: bore perturbation", instrument=curves.instrument),
        words,
    )


def perturbation_figure(
    curves: BorePerturbation, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The curves as a figure of matplotlib."""
    registers = list(dict.fromkeys(curves.registers))
    height = HEAD_MM + PANEL_MM * max(1, len(registers)) + 8
    figure = new_figure(paper_width_mm, height)
    title = words("What a wider bore does: {instrument}", instrument=plain(curves.instrument))
    sizes = {"step_mm": curves.step_mm, "by_mm": abs(curves.widening_mm)}
    note = (
        words(
            "Cents where {step_mm:g} mm of the bore are {by_mm:g} mm wider; above the line is "
            "sharper. Spikes: the wall of an open hole is worked as well.",
            **sizes,
        )
        if curves.widening_mm > 0
        else words(
            "Cents where {step_mm:g} mm of the bore are {by_mm:g} mm narrower; above the line is "
            "sharper. Spikes: the wall of an open hole is worked as well.",
            **sizes,
        )
    )
    sheet = headed_sheet(figure, title, note)
    if not registers or not curves.stations:
        write(sheet, paper_width_mm / 2, height / 2, words("Nothing to show"), ha="center")
        return figure
    most = max((abs(cents) for row in _scaled(curves) for cents in row), default=0.0) or 1.0
    for number, register in enumerate(registers):
        bottom = height - HEAD_MM - (number + 1) * PANEL_MM + 6
        axes = axes_mm(figure, 15, bottom, paper_width_mm - 38, PANEL_MM - 8)
        _panel(axes, curves, register, most, words, last=number == len(registers) - 1)
    return figure


def _scaled(curves: BorePerturbation) -> list[list[float]]:
    """Cents for a bump as long as the step, whatever the distance of the stations."""
    scales = [curves.step_mm / station.width_mm for station in curves.stations]
    return [
        [cents * scale for cents, scale in zip(row, scales, strict=True)] for row in curves.cents
    ]


def _panel(
    axes: Any, curves: BorePerturbation, register: str, most: float, words: Reader, *, last: bool
) -> None:
    import matplotlib

    places = [station.position_mm for station in curves.stations]
    rows = [row for row, name in enumerate(curves.registers) if name == register]
    axes.set_xlim(min(places), max(places))
    axes.set_ylim(-1.1 * most, 1.1 * most)
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=2, width=FINE_PT, labelsize=SMALL_TEXT_PT)
    axes.axhline(0, color=INK, linewidth=LINE_PT)
    told = words("{register}, cents", register=Register(register))
    axes.set_ylabel(told, fontsize=TEXT_PT)
    shades = matplotlib.colormaps["viridis"]
    scaled = _scaled(curves)
    letters = SMALL_TEXT_PT if len(rows) < 14 else SMALL_TEXT_PT - 1
    for number, row in enumerate(rows):
        colour = shades(0.9 * number / max(1, len(rows) - 1))
        axes.plot(
            places, scaled[row], color=colour, linewidth=BOLD_PT if len(rows) < 4 else LINE_PT
        )
        share = 1 - (number + 0.5) / max(len(rows), 8)
        write(
            axes, 1.015, share, short(curves.fingerings[row], 17), fontsize=letters, va="center",
            color=colour, transform=axes.transAxes,
        )  # fmt: skip
    previous = ""
    for station in curves.stations:
        if station.part != previous:
            axes.axvline(station.position_mm, color=HAIR, linewidth=LINE_PT, zorder=0)
            if last:
                write(
                    axes, station.position_mm + 2, -1.07 * most, plain(station.part),
                    fontsize=SMALL_TEXT_PT, color=BLUE, va="bottom",
                )  # fmt: skip
            previous = station.part
    if last:
        axes.set_xlabel(words("mm from the top of the body"), fontsize=TEXT_PT, labelpad=2)
