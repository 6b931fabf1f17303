"""The tuning chart: cents of every fingering, by register, before and after a fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, new_figure, tick_labels, write, write_picture
from borewright.documents._look import (
    BAND,
    BLUE,
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    MUTED,
    ORANGE,
    PAPER,
    PLUM,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.documents._words import signed
from borewright.model import NoteResult, Register, TuningTable, Use, note_number
from borewright.model.results.tuning import ResonanceStatus
from borewright.words import ENGLISH, Reader

GROUPS = (
    (Register.CHALUMEAU, Register.THROAT),
    (Register.CLARION, Register.ALTISSIMO),
)
MOST_CENTS = 60.0
MARKERS = {Use.STANDARD: "o", Use.ALTERNATE: "D", Use.APART: "s"}
COLOURS = {Use.STANDARD: BLUE, Use.ALTERNATE: PLUM, Use.APART: INK}
SIZES = {Use.STANDARD: 5.0, Use.ALTERNATE: 4.0, Use.APART: 5.0}
PANEL_MM = 66.0
MARK_STEP = 0.62  # between fingerings of one note, in widths of a single one


def tuning_chart(
    before: TuningTable | None,
    after: TuningTable,
    path: Path | str,
    tolerance_cents: float = 10.0,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``.

    Parameters
    ----------
    before, after
        Tuning before and after a fit; ``before`` may be None for a single state.
    path
        The file.
    tolerance_cents
        Half the width of the shaded band.
    paper_width_mm
        Width of the sheet.
    words
        Who reads it.

    Raises
    ------
    DocumentsError
        For a suffix other than .svg and .png.
    """
    return write_picture(
        path,
        lambda: tuning_figure(before, after, tolerance_cents, paper_width_mm, words),
        words("{instrument}: tuning", instrument=after.instrument),
        words,
    )


def tuning_figure(
    before: TuningTable | None,
    after: TuningTable,
    tolerance_cents: float = 10.0,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Any:
    """The chart as a figure of matplotlib."""
    groups = [
        notes
        for registers in GROUPS
        if (notes := [note for note in after.notes if note.register_ in registers])
    ]
    height = 24.0 + PANEL_MM * max(1, len(groups))
    figure = new_figure(paper_width_mm, height)
    heading = axes_mm(figure, 0, height - 22, paper_width_mm, 22)
    _heading(heading, before is not None, tolerance_cents, paper_width_mm, words)
    earlier = {note.fingering: note for note in before.notes} if before else {}
    top = height - 22
    for notes in groups:
        axes = axes_mm(figure, 15, top - PANEL_MM + 10, paper_width_mm - 19, PANEL_MM - 15)
        _panel(axes, notes, earlier, tolerance_cents, words)
        top -= PANEL_MM
    if not groups:
        write(heading, paper_width_mm / 2, -20, words("No fingerings to show"), ha="center")
    return figure


def _heading(axes: Any, compared: bool, tolerance: float, width: float, words: Reader) -> None:
    axes.set_xlim(0, width)
    axes.set_ylim(0, 22)
    axes.axis("off")
    title = words("Tuning before and after the fit") if compared else words("Tuning")
    write(axes, 4, 17, title, fontsize=TITLE_PT, fontweight="bold", va="center")
    write(
        axes, 4, 12.4, words(
            "Cents from the target, positive is sharp. Shaded: within ±{tolerance_cents:g} cents. "
            "Triangles at the edge: further out, figure beside.", tolerance_cents=tolerance,
        ),
        fontsize=SMALL_TEXT_PT, color=MUTED, va="center",
    )  # fmt: skip
    entries = [
        (words("standard"), MARKERS[Use.STANDARD], BLUE, BLUE),
        (words("alternate"), MARKERS[Use.ALTERNATE], PLUM, PLUM),
        (words("apart (not fitted)"), MARKERS[Use.APART], INK, PAPER),
        (words("no resonance found"), "x", ORANGE, ORANGE),
    ]
    if compared:
        entries.insert(0, (words("before the fit (hollow)"), "o", MUTED, PAPER))
    x = 5.0
    for told, marker, edge, face in entries:
        axes.plot(
            [x], [7.4], marker=marker, color=edge, markerfacecolor=face, markersize=4.6,
            markeredgewidth=0.9, linestyle="none",
        )  # fmt: skip
        write(axes, x + 2.4, 7.4, told, fontsize=SMALL_TEXT_PT, va="center")
        x += 8.0 + 1.3 * len(told)


def _panel(
    axes: Any,
    notes: Sequence[NoteResult],
    earlier: dict[str, NoteResult],
    tolerance: float,
    words: Reader,
) -> None:
    columns = _columns(notes)
    limit = _limit(notes, earlier, tolerance)
    axes.set_xlim(-0.1, columns[-1].right + 0.1)
    axes.set_ylim(-limit, limit)
    axes.axhspan(-tolerance, tolerance, facecolor=BAND, edgecolor="none", zorder=0)
    for edge in (-tolerance, tolerance):
        axes.axhline(edge, color=MUTED, linewidth=FINE_PT, linestyle=(0, (4, 2)), zorder=1)
    axes.axhline(0, color=INK, linewidth=FINE_PT, zorder=1)
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=0, labelsize=TEXT_PT)
    middles = [column.middle for column in columns]
    tick_labels(axes.xaxis, middles, [column.notes[0].written for column in columns])
    axes.set_ylabel(words("cents"), fontsize=TEXT_PT)
    for column in columns:
        if column.left:
            axes.axvline(column.left, color=HAIR, linewidth=FINE_PT, zorder=0)
        for x, note in zip(column.places, column.notes, strict=True):
            _one(axes, x, note, earlier.get(note.fingering), tolerance, limit)
    _register_names(axes, notes, columns, limit, words)


def _limit(notes: Sequence[NoteResult], earlier: dict[str, NoteResult], tolerance: float) -> float:
    shown = [note.cents for note in notes if note.cents is not None]
    shown += [earlier[note.fingering].cents or 0.0 for note in notes if note.fingering in earlier]
    largest = max((abs(cents) for cents in shown), default=0.0)
    return max(2.0 * tolerance, min(largest, MOST_CENTS) * 1.15 + 3.0)


@dataclass(frozen=True)
class _Column:
    """All fingerings of one written note side by side, the standard one first."""

    notes: Sequence[NoteResult]
    left: float
    right: float

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2

    @property
    def places(self) -> list[float]:
        first = self.middle - MARK_STEP * (len(self.notes) - 1) / 2
        return [first + MARK_STEP * index for index in range(len(self.notes))]


def _columns(notes: Sequence[NoteResult]) -> list[_Column]:
    """One column a written note, wider where it has alternates."""
    by_number: dict[int, list[NoteResult]] = {}
    for note in notes:
        by_number.setdefault(note_number(note.written), []).append(note)
    columns: list[_Column] = []
    left = 0.0
    for _, here in sorted(by_number.items()):
        right = left + 1.0 + MARK_STEP * (len(here) - 1)
        ordered = sorted(here, key=lambda note: list(Use).index(note.use))
        columns.append(_Column(ordered, left, right))
        left = right
    return columns


def _one(
    axes: Any, x: float, note: NoteResult, old: NoteResult | None, tolerance: float, limit: float
) -> None:
    marker, colour, size = MARKERS[note.use], COLOURS[note.use], SIZES[note.use]
    if note.cents is None:
        axes.plot([x], [-0.82 * limit], marker="x", color=ORANGE, markersize=5, zorder=4)
        return
    y, beyond = _held(note.cents, limit)
    if old and old.cents is not None:
        old_y, _ = _held(old.cents, limit)
        axes.plot([x, x], [old_y, y], color=HAIR, linewidth=1.1, zorder=2)
        axes.plot(
            [x], [old_y], marker=marker, color=MUTED, markerfacecolor=PAPER,
            markersize=size - 0.6, markeredgewidth=0.8, linestyle="none", zorder=3,
        )  # fmt: skip
    face = PAPER if note.use is Use.APART else colour
    axes.plot(
        [x], [y], marker=("^" if note.cents > 0 else "v") if beyond else marker, color=colour,
        markerfacecolor=face, markersize=size, markeredgewidth=1.0, linestyle="none", zorder=4,
    )  # fmt: skip
    figure = signed(note.cents, 0) if abs(note.cents) > tolerance else ""
    if note.status is not ResonanceStatus.OK:
        figure += "?"
    if figure:
        way = _free_side(note.cents, old.cents if old else None, beyond)
        write(
            axes, x, y + way * 0.09 * limit, figure, fontsize=SMALL_TEXT_PT, ha="center",
            va="center", color=colour, zorder=5,
        )  # fmt: skip


def _free_side(cents: float, old: float | None, beyond: bool) -> int:
    """1 to set a figure above its mark, -1 below: inside the chart, away from the old mark."""
    if beyond:
        return -1 if cents > 0 else 1
    if old is not None and abs(old - cents) > 0.5:
        return -1 if old > cents else 1
    return 1 if cents > 0 else -1


def _held(cents: float, limit: float) -> tuple[float, bool]:
    edge = 0.93 * limit
    return max(-edge, min(edge, cents)), abs(cents) > edge


def _register_names(
    axes: Any, notes: Sequence[NoteResult], columns: list[_Column], limit: float, words: Reader
) -> None:
    for register in Register:
        own = [note for note in notes if note.register_ is register]
        main = [note for note in own if note.use is not Use.ALTERNATE] or own
        if not main:
            continue
        written = {note.written for note in main}
        own_columns = [c for c in columns if any(note.written in written for note in c.notes)]
        low, high = own_columns[0].left + 0.08, own_columns[-1].right - 0.08
        axes.plot([low, high], [limit * 1.03] * 2, color=INK, linewidth=LINE_PT, clip_on=False)
        write(
            axes, (low + high) / 2, limit * 1.09, words.tell(register.words), fontsize=TEXT_PT,
            ha="center", va="center", fontstyle="italic",
        )  # fmt: skip
