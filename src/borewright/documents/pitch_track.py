"""The pitch track of a take, with the notes found in it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from borewright.documents._figure import (
    axes_mm,
    headed_sheet,
    new_figure,
    tick_labels,
    write,
    write_picture,
)
from borewright.documents._look import (
    BLUE,
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    MUTED,
    ORANGE,
    PLUM,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.model.results.playtest import FoundNote, NoteStatus, PitchTrack, Take
from borewright.words import ENGLISH, Reader

WIDTH_MM, PANEL_MM = 186.0, 62.0
#: Seconds in one panel; a longer take has more panels.
PANEL_S = 30.0
MOST_PANELS = 20
_COLOURS = {
    NoteStatus.OK: BLUE,
    NoteStatus.REPEATED: BLUE,
    NoteStatus.OUT_OF_ORDER: PLUM,
    NoteStatus.WRONG_REGISTER: ORANGE,
    NoteStatus.UNPLANNED: ORANGE,
}


def pitch_track_chart(
    take: Take, track: PitchTrack, path: Path | str, *, words: Reader = ENGLISH
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``.

    Parameters
    ----------
    take, track
        From ``playing.analyse_take``.
    path
        The file.
    words
        Who reads it.

    Raises
    ------
    DocumentsError
        For a suffix other than .svg and .png.
    """
    title = words("Pitch track of {file}", file=Path(take.file).name)
    return write_picture(path, lambda: pitch_track_figure(take, track, words), title, words)


def pitch_track_figure(take: Take, track: PitchTrack, words: Reader = ENGLISH) -> Any:
    """The chart as a figure of matplotlib."""
    panels = min(max(1, math.ceil(take.seconds / PANEL_S)), MOST_PANELS)
    span = take.seconds / panels
    height = 18.0 + PANEL_MM * panels
    figure = new_figure(WIDTH_MM, height)
    title = words("Pitch track of {file}", file=Path(take.file).name)
    note = words(
        "Grey: every frame with a pitch. Bars: the steady part of each note, with its cents "
        "from the pitch standard at A = {a4_hz:g} Hz and {temperature_c:g} °C.",
        a4_hz=take.a4_hz,
        temperature_c=take.temperature_c,
    )
    headed_sheet(figure, title, note)
    low, high = _range(take.notes, track)
    for panel in range(panels):
        bottom = height - 18 - (panel + 1) * PANEL_MM + 9
        axes = axes_mm(figure, 15, bottom, WIDTH_MM - 19, PANEL_MM - 12)
        _panel(axes, take.notes, track, (panel * span, (panel + 1) * span), low, high, words)
    return figure


def _semitone(hz: float) -> float:
    return 69 + 12 * math.log2(hz / 440.0)


def _range(notes: Sequence[FoundNote], track: PitchTrack) -> tuple[float, float]:
    found = [note.hz for note in notes] or [hz for hz in track.hz if hz > 0] or [440.0]
    low, high = _semitone(min(found)), _semitone(max(found))
    # Room above the highest note for its words.
    return low - 2.0, high + 3.0 + 0.2 * (high - low)


def _panel(
    axes: Any,
    notes: Sequence[FoundNote],
    track: PitchTrack,
    span: tuple[float, float],
    low: float,
    high: float,
    words: Reader,
) -> None:
    axes.set_xlim(*span)
    axes.set_ylim(low, high)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=2, labelsize=TEXT_PT)
    frames = [
        (time, _semitone(hz))
        for time, hz in zip(track.times_s, track.hz, strict=True)
        if hz > 0 and span[0] <= time < span[1]
    ]
    if frames:
        axes.plot(
            *zip(*frames, strict=True), linestyle="none", marker=".", markersize=1.2, color=MUTED,
            rasterized=True,
        )  # fmt: skip
    rows = {note.name: _semitone(note.target_hz) for note in notes if note.name}
    ticks = sorted(rows.items(), key=lambda row: row[1])
    for _, place in ticks:
        axes.axhline(place, color=HAIR, linewidth=FINE_PT, zorder=0)
    kept = _apart(ticks, 0.06 * (high - low))
    tick_labels(axes.yaxis, [place for _, place in kept], [name for name, _ in kept])
    for note in notes:
        if not span[0] <= note.start_s < span[1]:
            continue
        place, colour = _semitone(note.hz), _COLOURS[note.status]
        axes.plot(
            [note.steady_start_s, note.steady_end_s], [place, place], color=colour,
            linewidth=4 * LINE_PT, solid_capstyle="butt",
        )  # fmt: skip
        told = words.number(note.cents, "+.1f")
        if not note.status.counts:
            told = f"{note.name or '?'}: {words.tell(note.status.words)}"
        middle = (note.steady_start_s + note.steady_end_s) / 2
        # Long words above a high note would leave the panel: they run down from it instead.
        way = -1 if not note.status.counts and place > (low + high) / 2 else 1
        write(axes, middle, place + way * 0.04 * (high - low), told, fontsize=SMALL_TEXT_PT,
              color=INK if note.status.counts else colour, ha="left", rotation=way * 60,
              rotation_mode="anchor", clip_on=True)  # fmt: skip
    axes.set_xlabel(words("seconds"), fontsize=TEXT_PT)


def _apart(ticks: list[tuple[str, float]], least: float) -> list[tuple[str, float]]:
    """Labels from the bottom up, none nearer than ``least`` to the one below."""
    kept: list[tuple[str, float]] = []
    for name, place in ticks:
        if not kept or place - kept[-1][1] >= least:
            kept.append((name, place))
    return kept
