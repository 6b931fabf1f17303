"""Character tables and differences as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from borewright.doors.columns import columns, figure, signed, told
from borewright.doors.showing import register_words
from borewright.model import (
    CharacterTable,
    Differences,
    Evenness,
    LatticeKind,
    NoteCharacter,
    Register,
    Use,
)
from borewright.words import Reader


def character_lines(
    words: Reader, table: CharacterTable, pictures: Sequence[Path] = ()
) -> Iterator[str]:
    """A line a fingering by register, venting, evenness, balance and trace."""
    yield table.instrument
    yield ""
    ordered = [note for register in Register for note in table.notes if note.register_ is register]
    heading, *lines = _note_lines(words, ordered)
    yield heading
    previous = None
    for note, line in zip(ordered, lines, strict=True):
        if note.register_ is not previous:
            previous = note.register_
            yield told(words, previous)
        yield line
    yield ""
    yield from _venting_lines(words, ordered)
    if not table.evenness:  # a note alone: there is room for its peaks
        for note in ordered:
            yield from _peak_lines(words, note)
    if table.evenness:
        yield words("evenness (mean step from note to note; smaller is more even)")
        headings = (
            words("figure"),
            words("registers"),
            words("mean"),
            words("mean step"),
            words("worst step"),
            words("between"),
        )
        rows = [_evenness_row(words, row) for row in table.evenness]
        yield from columns(headings, rows, right=(2, 3, 4))
        yield ""
    yield words("words are common practice, not measured judgements; docs/character.md defines all")
    yield words(
        "energy balance: closed to {error_percent:.3f} % up to {highest_hz:.0f} Hz",
        error_percent=100 * table.balance_error,
        highest_hz=table.highest_hz,
    )
    yield words("model: {level}; air: {climate}", level=table.model_level, climate=table.climate)
    yield from _picture_lines(words, pictures)


def _note_lines(words: Reader, notes: Sequence[NoteCharacter]) -> list[str]:
    marks = {LatticeKind.ROW: "", LatticeKind.SHORT_ROW: "*", LatticeKind.BELL: " " + words("bell")}
    rows = []
    for note in notes:
        peak = note.peak()
        share = note.radiated_at_pitch
        rows.append(
            (
                note.fingering
                if note.use is Use.STANDARD
                else f"{note.fingering} ({told(words, note.use)})",
                figure(words, peak.height_db if peak else None),
                figure(words, peak.quality if peak else None, 0),
                signed(words, note.alignment_cents, 0),
                figure(words, note.lattice.cutoff_hz, 0) + marks[note.lattice.kind],
                figure(words, note.lattice.formula_hz, 0),
                figure(words, None if share is None else 100 * share),
                "; ".join(told(words, each) for each in note.words),
            )
        )
    headings = (
        words("note"),
        words("peak dB"),
        "Q",
        words("aligned"),
        words("cut-off Hz"),
        words("formula"),
        words("radiated %"),
        words("words"),
    )
    return columns(headings, rows, right=(1, 2, 3, 4, 5, 6))


def _venting_lines(words: Reader, notes: Sequence[NoteCharacter]) -> Iterator[str]:
    rows = [
        (
            words("{low} to {high}", low=note.venting.low, high=note.venting.high),
            note.venting.vent,
            signed(words, note.venting.first_shift_cents, 0),
            signed(words, -note.venting.first_loss_db),
            signed(words, note.venting.second_shift_cents, 0),
            signed(words, -note.venting.second_loss_db),
            signed(words, note.venting.advantage_db),
            signed(words, note.venting.misalignment_cents, 0),
        )
        for note in notes
        if note.venting
    ]
    if rows:
        yield words("venting: what the open vent does to the first and second peak")
        headings = (
            words("notes"),
            words("vent"),
            words("1st cents"),
            words("1st dB"),
            words("2nd cents"),
            words("2nd dB"),
            words("2nd over 1st dB"),
            words("out of line"),
        )
        yield from columns(headings, rows, right=(2, 3, 4, 5, 6, 7))
        yield ""


def _peak_lines(words: Reader, note: NoteCharacter) -> Iterator[str]:
    rows = [
        (
            figure(words, peak.frequency_hz),
            figure(words, peak.height_db),
            figure(words, peak.width_hz),
            figure(words, peak.quality, 0),
            words("sounds") if peak.number == note.sounding_peak else str(peak.harmonic or "-"),
            signed(words, peak.harmonic_cents, 0),
        )
        for peak in note.peaks
    ]
    yield words("{note}: impedance peaks", note=note.fingering)
    headings = ("Hz", "dB", words("width Hz"), "Q", words("harmonic"), words("cents from it"))
    yield from columns(headings, rows, right=(0, 1, 2, 3, 4, 5))
    yield ""


def _evenness_row(words: Reader, row: Evenness) -> tuple[str, ...]:
    digits = 0 if row.unit == "Hz" else 2
    first, last = row.worst_between
    return (
        f"{told(words, row.quantity)}, {told(words, row.unit)}",
        " + ".join(register_words(words, each) for each in row.registers),
        figure(words, row.mean, digits),
        figure(words, row.mean_step, digits),
        figure(words, row.worst_step, digits),
        words("{low} to {high}", low=first, high=last),
    )


def difference_lines(
    words: Reader, found: Differences, pictures: Sequence[Path] = (), most: int = 12
) -> Iterator[str]:
    """Sentences, registers, the notes that differ most, twelfths."""
    yield words("first:  {instrument}", instrument=found.first)
    yield words("second: {instrument}", instrument=found.second)
    yield ""
    yield from (told(words, sentence) for sentence in found.sentences)
    yield ""
    names = list(found.units)
    of = [f"{told(words, name)}, {told(words, found.units[name])}" for name in names]
    right = range(1, len(names) + 1)
    yield words("second less first, mean of the standard notes")
    rows = [
        (told(words, row.register_), *_figures(words, found, row.differences))
        for row in found.registers
    ]
    yield from columns((words("register"), *of), rows, right=right)
    yield ""
    yield words("notes that differ most, the most first")
    ranked = sorted(found.notes, key=lambda note: -note.size)[:most]
    rows = [(note.fingering, *_figures(words, found, note.differences)) for note in ranked]
    yield from columns((words("note"), *of), rows, right=right)
    if found.twelfths:
        yield ""
        yield words("twelfths, cents wider in the second")
        rows = [(each.low, each.high, signed(words, each.stretch_cents)) for each in found.twelfths]
        yield from columns((words("low"), words("high"), words("cents")), rows, right=(2,))
    if found.only_first:
        yield words("only in the first: {notes}", notes=", ".join(found.only_first))
    if found.only_second:
        yield words("only in the second: {notes}", notes=", ".join(found.only_second))
    yield ""
    yield words("steps a player may plausibly notice are common practice; docs/character.md")
    yield from _picture_lines(words, pictures)


def _figures(words: Reader, found: Differences, differences: dict[str, float]) -> list[str]:
    return [
        signed(words, differences.get(name), 0 if unit == "Hz" else 1)
        for name, unit in found.units.items()
    ]


def _picture_lines(words: Reader, pictures: Sequence[Path]) -> Iterator[str]:
    yield from (words("picture: {path}", path=path) for path in pictures)
