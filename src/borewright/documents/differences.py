"""Two instruments side by side, note by note."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, headed_sheet, new_figure, write, write_picture
from borewright.documents._look import BAND, BLUE, INK, LINE_PT, MUTED, ORANGE
from borewright.documents._names import plain, short
from borewright.documents._note_axis import limits_of, note_axis, register_names
from borewright.model import Differences, NoteDifference, Register, Use
from borewright.words import ENGLISH, Reader, say

#: What the panels are called, by the table's own keys.
_LABELS = {
    "pitch": say("pitch, cents"),
    "lattice cut-off": say("lattice cut-off, Hz"),
    "sounding peak": say("sounding peak, dB"),
    "out of alignment": say("out of alignment, cents"),
    "radiated at 1250 Hz": say("at 1250 Hz, dB"),
    "venting": say("venting, dB"),
}
PANEL_MM = 30.0
HEAD_MM = 24.0


def differences_chart(
    found: Differences,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another.

    A panel a figure, a stroke a standard note: the second instrument less the first. Within
    the shaded band a difference is smaller than what a player may plausibly notice.
    """
    return write_picture(
        path,
        lambda: differences_figure(found, paper_width_mm, words),
        words("{first} and {second}: differences", first=found.first, second=found.second),
        words,
    )


def differences_figure(
    found: Differences, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The chart as a figure of matplotlib."""
    notes = _notes(found)
    figures = [name for name in found.units if any(name in note.differences for note in notes)]
    long = max((len(note.fingering) for note in notes), default=0)
    foot = 8.0 + (1.3 * min(long, 14) if long > 3 else 0)
    height = HEAD_MM + PANEL_MM * max(1, len(figures)) + foot
    figure = new_figure(paper_width_mm, height)
    names = words(
        "First: {first}.  Second: {second}.",
        first=short(plain(found.first), 60),
        second=short(plain(found.second), 60),
    )
    note = words(
        "Shaded: smaller than a player may plausibly notice (common practice). Orange beyond "
        "it upwards, blue downwards."
    )
    sheet = headed_sheet(figure, words("Differences, the second less the first"), names, note)
    if not figures:
        write(sheet, paper_width_mm / 2, height / 2, words("No fingering in common"), ha="center")
        return figure
    for number, name in enumerate(figures):
        bottom = height - HEAD_MM - (number + 1) * PANEL_MM + 5
        axes = axes_mm(figure, 17, bottom, paper_width_mm - 21, PANEL_MM - 7)
        _panel(axes, found, notes, name, words, last=number == len(figures) - 1)
        if number == 0:
            register_names(axes, [words.tell(note.register_.words) for note in notes])
    return figure


def _notes(found: Differences) -> list[NoteDifference]:
    own = [note for note in found.notes if note.use is Use.STANDARD] or list(found.notes)
    order = list(Register)
    return sorted(own, key=lambda note: order.index(note.register_))


def _panel(
    axes: Any,
    found: Differences,
    notes: list[NoteDifference],
    name: str,
    words: Reader,
    *,
    last: bool,
) -> None:
    step = found.steps[name]
    values = [note.differences.get(name) for note in notes]
    largest = max(abs(value) for value in values if value is not None)
    low, high = limits_of([largest, -largest], 3 * step)
    label = words.tell(_LABELS.get(name, f"{name}, {found.units[name]}"))
    note_axis(axes, [note.fingering for note in notes], label, (low, high), named=last)
    axes.axhspan(-step, step, facecolor=BAND, edgecolor="none", zorder=0)
    axes.axhline(0, color=INK, linewidth=LINE_PT)
    for place, value in enumerate(values):
        if value is None:
            continue
        colour = MUTED if abs(value) < step else ORANGE if value > 0 else BLUE
        axes.plot([place, place], [0, value], color=colour, linewidth=2.0, solid_capstyle="butt")
        axes.plot([place], [value], marker="^" if value > 0 else "v", color=colour, markersize=3.4)
