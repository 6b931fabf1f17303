"""Pictures of the character table: figures from note to note, and radiated shares by band."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
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
    BAND,
    BLUE,
    INK,
    LINE_PT,
    ORANGE,
    PAPER,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.documents._names import plain, short
from borewright.documents._note_axis import limits_of, note_axis, register_names
from borewright.model import CharacterTable, NoteCharacter, Register, Use, note_number
from borewright.words import ENGLISH, Message, Reader, say

Read = Callable[[NoteCharacter], float | None]

PANEL_MM = 34.0
HEAD_MM = 19.0
FOOT_MM = 8.0
CELL_MM = 3.4


def _radiated_db(note: NoteCharacter) -> float | None:
    return 10 * math.log10(note.radiated_at_pitch) if note.radiated_at_pitch else None


def _sounding_db(note: NoteCharacter) -> float | None:
    peak = note.peak()
    return peak.height_db if peak else None


#: What the panels show: label, least range, whether 0 belongs to it, how to read it.
PANELS: tuple[tuple[Message, float, bool, Read], ...] = (
    (say("cut-off, Hz"), 400.0, False, lambda note: note.lattice.cutoff_hz),
    (say("sounding peak, dB"), 6.0, False, _sounding_db),
    (say("alignment, cents"), 40.0, True, lambda note: note.alignment_cents),
    (say("radiated at pitch, dB"), 6.0, False, _radiated_db),
    (
        say("vented 2nd over 1st, dB"),
        4.0,
        True,
        lambda note: note.venting.advantage_db if note.venting else None,
    ),
)


def character_notes(table: CharacterTable) -> list[NoteCharacter]:
    """Standard notes of the table, or all where it has none, by register and pitch."""
    own = [note for note in table.notes if note.use is Use.STANDARD] or list(table.notes)
    order = list(Register)
    return sorted(own, key=lambda n: (order.index(n.register_), note_number(n.written)))


def character_chart(
    table: CharacterTable,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart of all standard notes as SVG or PNG; DocumentsError for another suffix.

    Panels for cut-off, sounding peak, alignment, radiated share and venting, a mark a note.
    """
    return write_picture(
        path,
        lambda: character_figure(table, paper_width_mm, words),
        words("Character: {instrument}", instrument=table.instrument),
        words,
    )


def character_figure(
    table: CharacterTable, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The chart as a figure of matplotlib."""
    notes = character_notes(table)
    panels = [panel for panel in PANELS if any(panel[3](note) is not None for note in notes)]
    long = max((len(note.fingering) for note in notes), default=0)
    foot = FOOT_MM + (1.3 * min(long, 14) if long > 3 else 0)
    height = HEAD_MM + PANEL_MM * max(1, len(panels)) + foot
    figure = new_figure(paper_width_mm, height)
    title = words("Character: {instrument}", instrument=plain(table.instrument))
    said = words(
        "Cut-off: full a row of three open holes or more, hollow fewer, or the bell, small "
        "dash the periodic formula. Shaded: mean and mean step."
    )
    sheet = headed_sheet(figure, title, said)
    if not panels:
        write(sheet, paper_width_mm / 2, height / 2, words("Nothing to show"), ha="center")
        return figure
    registers = [words.tell(note.register_.words) for note in notes]
    names = [note.fingering for note in notes]
    for number, (label, least, zero, read) in enumerate(panels):
        bottom = height - HEAD_MM - (number + 1) * PANEL_MM + 5
        axes = axes_mm(figure, 17, bottom, paper_width_mm - 21, PANEL_MM - 7)
        values = [read(note) for note in notes]
        last = number == len(panels) - 1
        note_axis(axes, names, words.tell(label), limits_of(values, least, zero), named=last)
        if number == 0:
            register_names(axes, registers)
            _formula(axes, notes)
        if zero:
            axes.axhline(0, color=INK, linewidth=LINE_PT)
        _runs(axes, notes, values, registers, hollow=number == 0)
    return figure


def _runs(
    axes: Any,
    notes: Sequence[NoteCharacter],
    values: Sequence[float | None],
    registers: Sequence[str],
    *,
    hollow: bool,
) -> None:
    """Marks joined within each register, with the register's mean and mean step."""
    for register in dict.fromkeys(registers):
        places = [
            (place, value)
            for place, value in enumerate(values)
            if registers[place] == register and value is not None
        ]
        if not places:
            continue
        xs, ys = [place for place, _ in places], [value for _, value in places]
        axes.plot(xs, ys, color=BLUE, linewidth=LINE_PT, zorder=2)
        full = [not hollow or notes[place].lattice.kind == "row" for place in xs]
        counted = [y for y, is_full in zip(ys, full, strict=True) if is_full]
        if len(counted) > 1:
            mean = sum(counted) / len(counted)
            steps = [abs(after - before) for before, after in pairwise(counted)]
            step = sum(steps) / len(steps)
            axes.fill_between(
                [min(xs) - 0.4, max(xs) + 0.4], mean - step, mean + step,
                facecolor=BAND, edgecolor="none", zorder=1,
            )  # fmt: skip
        for x, y, is_full in zip(xs, ys, full, strict=True):
            axes.plot(
                [x], [y], marker="o", color=BLUE, markerfacecolor=BLUE if is_full else PAPER,
                markersize=3.8, markeredgewidth=0.8, linestyle="none", zorder=3,
            )  # fmt: skip


def _formula(axes: Any, notes: Sequence[NoteCharacter]) -> None:
    low, high = axes.get_ylim()
    for place, note in enumerate(notes):
        formula = note.lattice.formula_hz
        if formula is not None and low <= formula <= high:
            axes.plot(
                [place - 0.3, place + 0.3], [formula] * 2, color=ORANGE, linewidth=LINE_PT * 1.5
            )


def radiation_chart(
    table: CharacterTable,
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the map of radiated shares, fingerings by thirds of an octave, as SVG or PNG."""
    return write_picture(
        path,
        lambda: radiation_figure(table, paper_width_mm, words),
        words("Radiated share: {instrument}", instrument=table.instrument),
        words,
    )


def radiation_figure(
    table: CharacterTable, paper_width_mm: float = 186.0, words: Reader = ENGLISH
) -> Any:
    """The map as a figure of matplotlib."""
    import matplotlib
    from matplotlib.patches import Rectangle

    notes = character_notes(table)
    bands = [band.centre_hz for band in notes[0].bands] if notes else []
    height = 14.0 + max(4, len(notes)) * CELL_MM + 12.0
    figure = new_figure(paper_width_mm, height)
    title = words("Radiated share: {instrument}", instrument=plain(table.instrument))
    said = words(
        "Of the power that enters the bore, per cent that leaves as sound, by thirds of an "
        "octave. The rest warms the walls."
    )
    sheet = headed_sheet(figure, title, said)
    if not bands:
        write(sheet, paper_width_mm / 2, height / 2, words("Nothing to show"), ha="center")
        return figure
    axes = axes_mm(figure, 24, 12, paper_width_mm - 30, height - 26)
    axes.set_xlim(0, len(bands))
    axes.set_ylim(len(notes), 0)
    shades = matplotlib.colormaps["Blues"]
    for row, note in enumerate(notes):
        for column, band in enumerate(note.bands):
            axes.add_patch(
                Rectangle(
                    (column, row), 1, 1, facecolor=shades(0.04 + 0.9 * band.radiated),
                    edgecolor="none",
                )
            )  # fmt: skip
            write(
                axes, column + 0.5, row + 0.53, f"{100 * band.radiated:.0f}",
                fontsize=SMALL_TEXT_PT - 1, ha="center", va="center",
                color=PAPER if band.radiated > 0.55 else INK,
            )  # fmt: skip
    for side in ("top", "right", "bottom", "left"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=0, pad=1.5)
    tick_labels(
        axes.xaxis, [column + 0.5 for column in range(len(bands))],
        [words.number(band, "g") for band in bands], fontsize=SMALL_TEXT_PT,
    )  # fmt: skip
    tick_labels(
        axes.yaxis, [row + 0.5 for row in range(len(notes))],
        [short(note.fingering, 18) for note in notes], fontsize=SMALL_TEXT_PT,
    )  # fmt: skip
    axes.set_xlabel("Hz", fontsize=TEXT_PT, labelpad=2)
    return figure
