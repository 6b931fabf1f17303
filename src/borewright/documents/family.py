"""A family of barrels or bells: pitch against twelfths, and the bores of those chosen."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, headed_sheet, new_figure, write, write_picture
from borewright.documents._look import (
    BLUE,
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    ORANGE,
    PLUM,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.model.bores.families import FamilyTable
from borewright.words import ENGLISH, Reader

_COLOURS = (BLUE, INK, ORANGE, PLUM)
_MARKS = ("v", "o", "^", "s")


def family_chart(
    table: FamilyTable,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another."""
    return write_picture(
        path, lambda: family_figure(table, paper_width_mm, words), _title(table, words), words
    )


def _title(table: FamilyTable, words: Reader) -> str:
    if table.kind == "barrel":
        return words("Barrels for {instrument}", instrument=table.instrument)
    return words("Bells for {instrument}", instrument=table.instrument)


def family_figure(
    table: FamilyTable, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The chart as a figure of matplotlib."""
    height = 96.0 + 5.0 * len(table.chosen)
    figure = new_figure(paper_width_mm, height)
    span = {"low_cents": table.low_cents, "high_cents": table.high_cents}
    note = (
        words(
            "Left: every member against the one in place (cross). Right: bores of those chosen to "
            "span pitch from {low_cents:+g} to {high_cents:+g} cents.",
            **span,
        )
        if table.by == "pitch"
        else words(
            "Left: every member against the one in place (cross). Right: bores of those chosen to "
            "span twelfths from {low_cents:+g} to {high_cents:+g} cents.",
            **span,
        )
    )
    sheet = headed_sheet(figure, _title(table, words), note)
    left = axes_mm(figure, 15, 12, 0.5 * paper_width_mm - 18, 68)
    right = axes_mm(figure, 0.5 * paper_width_mm + 14, 12, 0.5 * paper_width_mm - 20, 68)
    for axes in (left, right):
        axes.tick_params(length=2, labelsize=TEXT_PT)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
    left.axhline(0, color=HAIR, linewidth=FINE_PT, zorder=0)
    left.axvline(0, color=HAIR, linewidth=FINE_PT, zorder=0)
    left.plot(
        [each.pitch_cents for each in table.members],
        [each.twelfths_cents for each in table.members],
        linestyle="none", marker=".", markersize=2.5, color=HAIR,
    )  # fmt: skip
    left.plot([0], [0], linestyle="none", marker="x", markersize=5, color=INK)
    right.plot(*zip(*table.in_place.bore, strict=True), color=HAIR, linewidth=2 * LINE_PT)
    for number, each in enumerate(table.chosen):
        member = table.members[each.member]
        colour, mark = _COLOURS[number % len(_COLOURS)], _MARKS[number % len(_MARKS)]
        left.plot(
            [member.pitch_cents], [member.twelfths_cents], linestyle="none", marker=mark,
            markersize=5, color=colour,
        )  # fmt: skip
        right.plot(
            *zip(*member.bore, strict=True), color=colour, marker=mark, markersize=3,
            linewidth=1.6 * LINE_PT,
        )  # fmt: skip
        y = height - 14.5 - 5 * number
        sheet.plot([6], [y], marker=mark, markersize=4, color=colour)
        told = words(
            "{member}: pitch {pitch_cents:+.1f}, twelfths {twelfths_cents:+.1f} cents",
            member=words.tell(member.name),
            pitch_cents=member.pitch_cents,
            twelfths_cents=member.twelfths_cents,
        )
        write(sheet, 10, y, told, fontsize=SMALL_TEXT_PT, va="center")
    left.set_xlabel(words("pitch, cents against the one in place"), fontsize=TEXT_PT)
    left.set_ylabel(words("twelfths, cents wider"), fontsize=TEXT_PT)
    right.set_xlabel(words("station, mm"), fontsize=TEXT_PT)
    right.set_ylabel(words("diameter, mm"), fontsize=TEXT_PT)
    return figure
