"""Results as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, signed
from borewright.model import (
    ErrorBars,
    Finding,
    Instrument,
    NoteResult,
    Register,
    SensitivityMap,
    SolidsReport,
    TuningSummary,
    TuningTable,
    Use,
)
from borewright.tasks.naming import title
from borewright.words import ENGLISH


def summary_words(summary: TuningSummary) -> str:
    """``rms 3.2 cents, worst -9.0 at B4``."""
    if not summary.worst_note:
        return "no standard fingering sounds"
    return (
        f"rms {summary.rms_cents:.1f} cents, "
        f"worst {signed(summary.worst_cents)} at {summary.worst_note}"
    )


def trace_words(result: TuningTable | SensitivityMap) -> str:
    """Which model and which air the figures belong to."""
    return f"model: {result.model_level}; air: {result.climate}"


def tuning_lines(
    instrument: Instrument, table: TuningTable, bars: ErrorBars | None = None
) -> Iterator[str]:
    """A tuning table by register, then twelfths, error bars, summary and trace."""
    yield title(instrument)
    yield _pitch_words(instrument)
    by_register = [
        note for register in Register for note in table.notes if note.register_ is register
    ]
    heading, *lines = _note_lines(by_register)
    yield ""
    yield heading
    previous = None
    for note, line in zip(by_register, lines, strict=True):
        if note.register_ is not previous:
            previous = note.register_
            yield previous.value
        yield line
    if table.twelfths:
        yield ""
        yield "twelfths, cents from pure (positive is wide)"
        rows = [(each.low, each.high, signed(each.stretch_cents)) for each in table.twelfths]
        yield from columns(("low", "high", "cents"), rows, right=(2,))
    if bars is not None:
        yield ""
        yield from error_bar_lines(bars)
    yield ""
    yield f"standard fingerings: {summary_words(table.summary)}"
    silent = [note.fingering for note in table.notes if note.cents is None]
    if silent:
        yield f"no pitch was found for: {', '.join(silent)}"
    yield trace_words(table)


def error_bar_lines(bars: ErrorBars) -> Iterator[str]:
    """One standard deviation of every note in cents, and the parts it is made of."""
    yield "error bars: one standard deviation in cents, and what makes it (in squares they add up)"
    rows = [
        (
            bar.fingering,
            f"{bar.total_cents:.1f}",
            f"{bar.dimensions_cents:.1f}",
            f"{bar.climate_cents:.1f}",
            f"{bar.player_cents:.1f}",
            f"{bar.model_cents:.1f}",
        )
        for bar in bars.bars
    ]
    headings = ("note", "total", "sizes", "climate", "player", "model")
    yield from columns(headings, rows, right=(1, 2, 3, 4, 5))


def _pitch_words(instrument: Instrument) -> str:
    shift = instrument.pitch.written_to_sounding_semitones
    words = "as written"
    if shift:
        words = f"{_count(abs(shift), 'semitone')} {'below' if shift < 0 else 'above'} written"
    return f"A4 = {instrument.pitch.a4_hz:g} Hz, sounding {words}"


def _note_lines(notes: list[NoteResult]) -> list[str]:
    rows = [
        (
            note.fingering,
            f"{note.target_hz:.2f}",
            "-" if note.sounding_hz is None else f"{note.sounding_hz:.2f}",
            "-" if note.cents is None else signed(note.cents),
            note.status if note.use is Use.STANDARD else f"{note.status} ({note.use})",
        )
        for note in notes
    ]
    headings = ("note", "target Hz", "sounding Hz", "cents", "status")
    return columns(headings, rows, right=(1, 2, 3))


def sensitivity_lines(sensitivity: SensitivityMap, most: int = 4) -> Iterator[str]:
    """The most effective dimensions of every note, the strongest first, a line a note."""
    yield f"{sensitivity.instrument}: cents for +0.1 mm, the most effective dimensions first"
    yield ""
    rows = []
    for fingering, ranked in _ranked(sensitivity):
        words = [f"{name} {signed(cents, 2)}" for name, cents in ranked[:most]]
        rows.append((fingering, ", ".join(words) or "nothing moves it"))
    yield from columns(("note", "dimensions"), rows)
    yield ""
    yield trace_words(sensitivity)


def note_sensitivity_lines(sensitivity: SensitivityMap) -> Iterator[str]:
    """Every dimension that moves the notes given, the strongest first, a line a dimension."""
    yield f"{sensitivity.instrument}: cents for +0.1 mm"
    for fingering, ranked in _ranked(sensitivity):
        yield ""
        rows = [(name, signed(cents, 2)) for name, cents in ranked]
        yield from columns((fingering, "cents"), rows, right=(1,))
    yield ""
    yield trace_words(sensitivity)


def _ranked(sensitivity: SensitivityMap) -> Iterator[tuple[str, list[tuple[str, float]]]]:
    """Every fingering with the dimensions that move it by 0.005 cents or more."""
    for fingering, values in zip(
        sensitivity.fingerings, sensitivity.cents_per_tenth_mm, strict=True
    ):
        pairs = zip(sensitivity.dimensions, values, strict=True)
        moving = [pair for pair in pairs if abs(pair[1]) >= 0.005]
        yield fingering, sorted(moving, key=lambda pair: -abs(pair[1]))


def finding_lines(findings: list[Finding]) -> Iterator[str]:
    """One line a finding: severity, place, what, remedy."""
    for finding in findings:
        place, what = ENGLISH.place(finding.place), str(finding.what).rstrip(".")
        yield f"  {finding.severity}  {place}: {what}. {finding.remedy}"


def check_lines(instrument_file: str, findings: list[Finding]) -> Iterator[str]:
    """All findings, and how many."""
    yield from finding_lines(findings)
    faults = sum(finding.severity == "fault" for finding in findings)
    yield (
        f"{instrument_file}: {_count(faults, 'fault')}, {_count(len(findings) - faults, 'notice')}"
    )


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'' if number == 1 else 's'}"


def solids_lines(report: SolidsReport) -> Iterator[str]:
    """A line a part, and its files."""
    rows = [
        (
            part.part,
            f"{part.volume_mm3 / 1000:.1f}",
            " x ".join(f"{side:.1f}" for side in part.bounding_box_mm),
            "closed" if part.watertight and part.valid else "NOT CLOSED: do not print",
            f"{part.step}, .stl, .3mf",
        )
        for part in report.parts
    ]
    yield from columns(("part", "cm3", "size mm", "surface", "files"), rows, right=(1,))
    if report.assembly:
        yield f"assembly: {report.assembly}"
