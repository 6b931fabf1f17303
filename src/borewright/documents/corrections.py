"""The corrections chart: every note as measured, with its scatter, and after the advised steps."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, new_figure, tick_labels, write, write_picture
from borewright.documents._look import (
    BAND,
    BLUE,
    FINE_PT,
    HAIR,
    INK,
    MUTED,
    PAPER,
    PLUM,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.model.results.advice import CorrectionPlan
from borewright.words import ENGLISH, Reader

_PER_PANEL = 28
_PANEL_MM, _HEADING_MM, _LINE_MM = 58.0, 20.0, 4.6


def corrections_chart(
    plan: CorrectionPlan,
    path: Path | str,
    tolerance_cents: float = 10.0,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another one.

    Marks are cents from the target; bars on the measured ones are two standard errors either
    way. Beneath stand the steps, numbered in their order.
    """
    return write_picture(
        path,
        lambda: corrections_figure(plan, tolerance_cents, paper_width_mm, words),
        words("{instrument}: corrections", instrument=plan.instrument),
        words,
    )


def corrections_figure(
    plan: CorrectionPlan,
    tolerance_cents: float = 10.0,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Any:
    """The chart as a figure of matplotlib."""
    every = range(len(plan.fingerings))
    panels = [every[i : i + _PER_PANEL] for i in every[::_PER_PANEL]]
    lines = [f"{i}. {words.tell(step.words)}" for i, step in enumerate(plan.steps, 1)]
    lines = lines or [words("No step advised.")]
    lines.append(words("Then: {reason}", reason=plan.reason_for_stopping))
    height = _HEADING_MM + _PANEL_MM * len(panels) + _LINE_MM * len(lines) + 6
    figure = new_figure(paper_width_mm, height)
    _heading(axes_mm(figure, 0, height - _HEADING_MM, paper_width_mm, _HEADING_MM), plan, words)
    top = height - _HEADING_MM
    for panel in panels:
        axes = axes_mm(figure, 15, top - _PANEL_MM + 14, paper_width_mm - 19, _PANEL_MM - 17)
        _panel(axes, plan, panel, tolerance_cents, words)
        top -= _PANEL_MM
    axes = axes_mm(figure, 0, 0, paper_width_mm, max(top, 1.0))
    axes.set_xlim(0, paper_width_mm)
    axes.set_ylim(0, max(top, 1.0))
    axes.axis("off")
    for i, line in enumerate(lines):
        write(axes, 4, top - 3 - _LINE_MM * i, line, fontsize=TEXT_PT, va="center")
    return figure


def _heading(axes: Any, plan: CorrectionPlan, words: Reader) -> None:
    axes.set_xlim(0, 186)
    axes.set_ylim(0, _HEADING_MM)
    axes.axis("off")
    title = f"{plan.instrument}: {words.tell(plan.aim)}"
    write(axes, 4, 15.5, title, fontsize=TITLE_PT, fontweight="bold", va="center")
    write(
        axes, 4, 10.6, words(
            "Cents from the target, rms {before_cents:.1f} before and {after_cents:.1f} after the "
            "steps. Bars: two standard errors of the takes.",
            before_cents=plan.rms_before_cents, after_cents=plan.rms_after_cents,
        ),
        fontsize=SMALL_TEXT_PT, color=MUTED, va="center",
    )  # fmt: skip
    for x, marker, edge, face, told in (
        (5.0, "o", MUTED, PAPER, words("as measured")),
        (38.0, "o", BLUE, BLUE, words("after the steps")),
        (74.0, "D", PLUM, PLUM, words("still beyond its tolerance")),
    ):
        axes.plot(
            [x], [5.6], marker=marker, color=edge, markerfacecolor=face, markersize=4.6,
            markeredgewidth=0.9, linestyle="none",
        )  # fmt: skip
        write(axes, x + 2.4, 5.6, told, fontsize=SMALL_TEXT_PT, va="center")


def _panel(
    axes: Any, plan: CorrectionPlan, notes: Sequence[int], tolerance: float, words: Reader
) -> None:
    reach = [abs(plan.measured_cents[i]) + 2 * plan.uncertainty_cents[i] for i in notes] + [
        abs(plan.after_cents[i]) for i in notes
    ]
    limit = max(2 * tolerance, 1.08 * max(reach))
    axes.set_xlim(-0.7, _PER_PANEL - 0.3)
    axes.set_ylim(-limit, limit)
    axes.axhspan(-tolerance, tolerance, facecolor=BAND, edgecolor="none", zorder=0)
    axes.axhline(0, color=INK, linewidth=FINE_PT, zorder=1)
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=0, labelsize=TEXT_PT)
    tick_labels(axes.xaxis, list(range(len(notes))), [plan.fingerings[i] for i in notes])
    axes.tick_params(axis="x", rotation=90)
    axes.set_ylabel(words("cents"), fontsize=TEXT_PT)
    for x, i in enumerate(notes):
        before, after = plan.measured_cents[i], plan.after_cents[i]
        axes.plot([x, x], [before, after], color=HAIR, linewidth=1.1, zorder=2)
        axes.errorbar(
            [x], [before], yerr=[2 * plan.uncertainty_cents[i]], color=MUTED, elinewidth=0.8,
            capsize=1.6, capthick=0.8, marker="o", markerfacecolor=PAPER, markersize=4.2,
            markeredgewidth=0.8, zorder=3,
        )  # fmt: skip
        left = plan.fingerings[i] in plan.remaining
        axes.plot(
            [x], [after], marker="D" if left else "o", color=PLUM if left else BLUE,
            markersize=4.4, linestyle="none", zorder=4,
        )  # fmt: skip
