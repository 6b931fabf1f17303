"""The picture of one note: its impedance peaks beside its harmonics, and where its power goes."""

from __future__ import annotations

from collections.abc import Sequence
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
    MUTED,
    ORANGE,
    PLUM,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.documents._names import plain
from borewright.documents._words import signed
from borewright.model import NoteCharacter
from borewright.words import ENGLISH, Reader, joined

_PANEL_MM = 58.0
_HEAD_MM = 11.0


def note_chart(
    note: NoteCharacter,
    frequency_hz: Sequence[float],
    impedance_db: Sequence[float],
    radiated_holes: Sequence[float],
    radiated_end: Sequence[float],
    path: Path | str,
    *,
    paper_width_mm: float = 186.0,
    words: Reader = ENGLISH,
) -> Path:
    """Write the chart as SVG or PNG, by the suffix of ``path``; DocumentsError for another.

    Parameters
    ----------
    note
        Its row of the character table.
    frequency_hz, impedance_db, radiated_holes, radiated_end
        Curves [K]: impedance over the bore's characteristic impedance, and shares of the
        entering power.
    path
        The file.
    paper_width_mm
        Width of the sheet.
    words
        Who reads it.
    """

    def build() -> Any:
        height = _HEAD_MM + 2 * _PANEL_MM + 4
        figure = new_figure(paper_width_mm, height)
        title = f"{plain(note.fingering)}, {words.tell(note.register_.words)}"
        said = words("{said} (common practice).", said=joined(note.words, "; "))
        headed_sheet(figure, title, said)
        upper = _axes(figure, paper_width_mm, _PANEL_MM + 12, frequency_hz, words("impedance, dB"))
        _impedance(upper, note, frequency_hz, impedance_db, words)
        lower = _axes(figure, paper_width_mm, 12, frequency_hz, words("share of power, %"))
        _shares(lower, frequency_hz, radiated_holes, radiated_end, words)
        lower.set_xlabel("Hz", fontsize=TEXT_PT, labelpad=2)
        return figure

    return write_picture(path, build, words("Character: {note}", note=note.fingering), words)


def _axes(
    figure: Any, width: float, bottom: float, frequency_hz: Sequence[float], label: str
) -> Any:
    axes = axes_mm(figure, 15, bottom, width - 19, _PANEL_MM - 14)
    axes.set_xlim(0, max(frequency_hz))
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=2, width=FINE_PT, labelsize=SMALL_TEXT_PT)
    axes.set_ylabel(label, fontsize=TEXT_PT)
    return axes


def _impedance(
    axes: Any,
    note: NoteCharacter,
    frequency_hz: Sequence[float],
    impedance_db: Sequence[float],
    words: Reader,
) -> None:
    low, high = min(impedance_db), max(impedance_db)
    axes.set_ylim(low - 3, high + 7)
    harmonic = 1
    while note.sounding_hz and harmonic * note.sounding_hz <= max(frequency_hz):
        place = harmonic * note.sounding_hz
        axes.axvline(place, color=HAIR, linewidth=LINE_PT, zorder=0)
        write(
            axes, place, high + 5.2, str(harmonic), fontsize=SMALL_TEXT_PT, ha="center",
            va="center", color=MUTED,
        )  # fmt: skip
        harmonic += 1
    axes.plot(frequency_hz, impedance_db, color=BLUE, linewidth=BOLD_PT)
    for peak in note.peaks:
        sounds = peak.number == note.sounding_peak
        axes.plot(
            [peak.frequency_hz], [peak.height_db], marker="o", markersize=4,
            color=ORANGE if sounds else INK, linestyle="none",
        )  # fmt: skip
        if peak.harmonic_cents is not None and peak.height_db > 0:
            write(
                axes, peak.frequency_hz, peak.height_db + 2.2, signed(peak.harmonic_cents, 0),
                fontsize=SMALL_TEXT_PT, ha="center", va="center",
            )  # fmt: skip
    if note.lattice.cutoff_hz:
        axes.axvline(note.lattice.cutoff_hz, color=PLUM, linewidth=LINE_PT, linestyle=(0, (4, 2)))
        write(
            axes, note.lattice.cutoff_hz + 15, low, words("cut-off"), fontsize=SMALL_TEXT_PT,
            color=PLUM,
        )  # fmt: skip


def _shares(
    axes: Any,
    frequency_hz: Sequence[float],
    holes: Sequence[float],
    end: Sequence[float],
    words: Reader,
) -> None:
    by_holes = [100 * share for share in holes]
    both = [100 * (one + other) for one, other in zip(holes, end, strict=True)]
    axes.set_ylim(0, 100)
    axes.fill_between(
        frequency_hz, 0, by_holes, facecolor=BLUE, alpha=0.55, linewidth=0, label=words("holes")
    )
    axes.fill_between(
        frequency_hz,
        by_holes,
        both,
        facecolor=ORANGE,
        alpha=0.55,
        linewidth=0,
        label=words("bottom end"),
    )
    axes.fill_between(
        frequency_hz,
        both,
        100,
        facecolor=HAIR,
        alpha=0.6,
        linewidth=0,
        label=words("lost to the walls"),
    )
    axes.legend(loc="upper left", fontsize=SMALL_TEXT_PT, framealpha=0.9, edgecolor="none", ncols=3)
