"""The blowing chart: thresholds, playing pitch against breath and lip, note by note."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from borewright.documents._figure import axes_mm, headed_sheet, new_figure, write_picture
from borewright.documents._look import BLUE, HAIR, LINE_PT, MUTED, ORANGE, PLUM, SMALL_TEXT_PT
from borewright.documents._note_axis import note_axis, register_names
from borewright.model.results.blowing import BlowingTable, BlownNote, Speaking
from borewright.words import ENGLISH, Reader

WIDTH_MM, HEIGHT_MM = 186.0, 158.0
_PANEL_MM = 50.0
_RESONANCES = ((1, BLUE, "o"), (2, ORANGE, "s"), (3, PLUM, "^"))


def blowing_chart(table: BlowingTable, path: Path | str, *, words: Reader = ENGLISH) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``, in the reader's language.

    Raises DocumentsError for another suffix.
    """
    title = words("{instrument}: blowing", instrument=table.instrument)
    return write_picture(path, lambda: blowing_figure(table, words), title, words)


def blowing_figure(table: BlowingTable, words: Reader = ENGLISH) -> Any:
    """The chart as a figure of matplotlib."""
    figure = new_figure(WIDTH_MM, HEIGHT_MM)
    title = words("{instrument}: blowing", instrument=table.instrument)
    headed_sheet(figure, title, words.tell(table.player))
    upper = axes_mm(figure, 17, 88, WIDTH_MM - 21, _PANEL_MM)
    lower = axes_mm(figure, 17, 19, WIDTH_MM - 21, _PANEL_MM)
    _thresholds(upper, table, words)
    _pitches(lower, table, words)
    return figure


def _thresholds(axes: Any, table: BlowingTable, words: Reader) -> None:
    names = [note.fingering for note in table.notes]
    note_axis(axes, names, words("threshold, of closing"), (0.3, 0.7), named=False)
    axes.axhline(table.pressure, color=MUTED, linewidth=LINE_PT, linestyle=(0, (4, 2)))
    for number, colour, mark in _RESONANCES:
        points = [
            (place, each.pressure)
            for place, note in enumerate(table.notes)
            for each in note.thresholds
            if each.resonance == number and each.pressure is not None and each.pressure <= 0.7
        ]
        if points:
            axes.plot(
                *zip(*points, strict=True), linestyle="none", marker=mark, markersize=3,
                color=colour, label=words("resonance {number}", number=number),
            )  # fmt: skip
    register_names(axes, [words.tell(note.register_.words) for note in table.notes])
    _legend(axes, -0.16)


def _pitches(axes: Any, table: BlowingTable, words: Reader) -> None:
    names = [note.fingering for note in table.notes]
    found = [
        tone.cents_from_target
        for note in table.notes
        for tone in note.tones
        if tone.cents_from_target is not None
    ]
    low, high = min([*found, -10.0]), max([*found, 10.0])
    note_axis(axes, names, words("playing pitch, cents"), (low - 5, high + 5), named=True)
    axes.axhline(0, color=HAIR, linewidth=2 * LINE_PT, zorder=0)
    for way, (label, colour, mark) in enumerate(
        (
            (words("as blown"), BLUE, "o"),
            (words("softer"), MUTED, "v"),
            (words("stronger"), ORANGE, "^"),
        )
    ):
        points = _points(table.notes, way)
        if points:
            axes.plot(
                *zip(*points, strict=True), linestyle="none", marker=mark, markersize=3,
                color=colour, label=label,
            )  # fmt: skip
    helped = [
        place for place, note in enumerate(table.notes) if note.speaking is not Speaking.BY_ITSELF
    ]
    if helped:
        axes.plot(
            helped, [low - 4] * len(helped), linestyle="none", marker="|", markersize=5,
            color=PLUM, label=words("prepared, helped or silent"),
        )  # fmt: skip
    _legend(axes, 1.06)


def _points(notes: Sequence[BlownNote], way: int) -> list[tuple[int, float]]:
    return [
        (place, cents)
        for place, note in enumerate(notes)
        if (cents := note.tones[way].cents_from_target) is not None
    ]


def _legend(axes: Any, height: float) -> None:
    axes.legend(
        loc="lower left", bbox_to_anchor=(0.0, height), ncol=4, frameon=False,
        fontsize=SMALL_TEXT_PT, handletextpad=0.3, borderaxespad=0.0,
    )  # fmt: skip
