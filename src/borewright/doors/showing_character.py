"""Character tables and differences as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from borewright.doors.columns import columns, signed
from borewright.model import (
    CharacterTable,
    Differences,
    Evenness,
    NoteCharacter,
    Register,
    Use,
)


def character_lines(table: CharacterTable, pictures: Sequence[Path] = ()) -> Iterator[str]:
    """A line a fingering by register, venting, evenness, balance and trace."""
    yield table.instrument
    yield ""
    ordered = [note for register in Register for note in table.notes if note.register_ is register]
    heading, *lines = _note_lines(ordered)
    yield heading
    previous = None
    for note, line in zip(ordered, lines, strict=True):
        if note.register_ is not previous:
            previous = note.register_
            yield previous.value
        yield line
    yield ""
    yield from _venting_lines(ordered)
    if not table.evenness:  # a note alone: there is room for its peaks
        for note in ordered:
            yield from _peak_lines(note)
    if table.evenness:
        yield "evenness (mean step from note to note; smaller is more even)"
        yield from columns(
            ("figure", "registers", "mean", "mean step", "worst step", "between"),
            [_evenness_row(row) for row in table.evenness],
            right=(2, 3, 4),
        )
        yield ""
    yield "words are common practice, not measured judgements; docs/character.md defines all"
    yield (
        f"energy balance: closed to {100 * table.balance_error:.3f} % "
        f"up to {table.highest_hz:.0f} Hz"
    )
    yield f"model: {table.model_level}; air: {table.climate}"
    yield from (f"picture: {path}" for path in pictures)


def _note_lines(notes: Sequence[NoteCharacter]) -> list[str]:
    rows = []
    for note in notes:
        peak = note.peak()
        marks = {"row": "", "short row": "*", "bell": " bell"}[note.lattice.kind]
        rows.append(
            (
                note.fingering if note.use is Use.STANDARD else f"{note.fingering} ({note.use})",
                "-" if peak is None else f"{peak.height_db:.1f}",
                "-" if peak is None or peak.quality is None else f"{peak.quality:.0f}",
                _or_dash(note.alignment_cents, 0, sign=True),
                _or_dash(note.lattice.cutoff_hz, 0) + marks,
                _or_dash(note.lattice.formula_hz, 0),
                _or_dash(
                    None if note.radiated_at_pitch is None else 100 * note.radiated_at_pitch, 1
                ),
                "; ".join(map(str, note.words)),
            )
        )
    headings = ("note", "peak dB", "Q", "aligned", "cut-off Hz", "formula", "radiated %", "words")
    return columns(headings, rows, right=(1, 2, 3, 4, 5, 6))


def _or_dash(value: float | None, digits: int, *, sign: bool = False) -> str:
    if value is None:
        return "-"
    return signed(value, digits) if sign else f"{value:.{digits}f}"


def _venting_lines(notes: Sequence[NoteCharacter]) -> Iterator[str]:
    rows = [
        (
            f"{note.venting.low} to {note.venting.high}",
            note.venting.vent,
            signed(note.venting.first_shift_cents, 0),
            signed(-note.venting.first_loss_db),
            signed(note.venting.second_shift_cents, 0),
            signed(-note.venting.second_loss_db),
            signed(note.venting.advantage_db),
            signed(note.venting.misalignment_cents, 0),
        )
        for note in notes
        if note.venting
    ]
    if rows:
        yield "venting: what the open vent does to the first and second peak"
        yield from columns(
            ("notes", "vent", "1st cents", "1st dB", "2nd cents", "2nd dB", "2nd over 1st dB",
             "out of line"),
            rows,
            right=(2, 3, 4, 5, 6, 7),
        )  # fmt: skip
        yield ""


def _peak_lines(note: NoteCharacter) -> Iterator[str]:
    rows = [
        (
            f"{peak.frequency_hz:.1f}",
            f"{peak.height_db:.1f}",
            _or_dash(peak.width_hz, 1),
            _or_dash(peak.quality, 0),
            "sounds" if peak.number == note.sounding_peak else str(peak.harmonic or "-"),
            _or_dash(peak.harmonic_cents, 0, sign=True),
        )
        for peak in note.peaks
    ]
    yield f"{note.fingering}: impedance peaks"
    headings = ("Hz", "dB", "width Hz", "Q", "harmonic", "cents from it")
    yield from columns(headings, rows, right=(0, 1, 2, 3, 4, 5))
    yield ""


def _evenness_row(row: Evenness) -> tuple[str, ...]:
    digits = 0 if row.unit == "Hz" else 2
    return (
        f"{row.quantity}, {row.unit}",
        " + ".join(row.registers),
        f"{row.mean:.{digits}f}",
        f"{row.mean_step:.{digits}f}",
        f"{row.worst_step:.{digits}f}",
        " to ".join(row.worst_between),
    )


def difference_lines(
    found: Differences, pictures: Sequence[Path] = (), most: int = 12
) -> Iterator[str]:
    """Sentences, registers, the notes that differ most, twelfths."""
    yield f"first:  {found.first}"
    yield f"second: {found.second}"
    yield ""
    yield from map(str, found.sentences)
    yield ""
    names = list(found.units)
    headings = ("register", *(f"{name}, {found.units[name]}" for name in names))
    right = tuple(range(1, len(headings)))
    yield "second less first, mean of the standard notes"
    rows = [
        (row.register_.value, *(_figure(found, row.differences, name) for name in names))
        for row in found.registers
    ]
    yield from columns(headings, rows, right=right)
    yield ""
    yield "notes that differ most, the most first"
    ranked = sorted(found.notes, key=lambda note: -note.size)[:most]
    rows = [
        (note.fingering, *(_figure(found, note.differences, name) for name in names))
        for note in ranked
    ]
    yield from columns(("note", *headings[1:]), rows, right=right)
    if found.twelfths:
        yield ""
        yield "twelfths, cents wider in the second"
        rows = [(each.low, each.high, signed(each.stretch_cents)) for each in found.twelfths]
        yield from columns(("low", "high", "cents"), rows, right=(2,))
    for words, missing in (("first", found.only_first), ("second", found.only_second)):
        if missing:
            yield f"only in the {words}: {', '.join(missing)}"
    yield ""
    yield "steps a player may plausibly notice are common practice; docs/character.md"
    yield from (f"picture: {path}" for path in pictures)


def _figure(found: Differences, differences: dict[str, float], name: str) -> str:
    if name not in differences:
        return "-"
    return signed(differences[name], 0 if found.units[name] == "Hz" else 1)
