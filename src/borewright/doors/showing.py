"""Results as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from borewright.doors.columns import columns, figure, signed, told
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
from borewright.words import Reader, Said

#: Departures below this are not worth a column (cents).
_SHOWN_CENTS = 0.05


def summary_words(words: Reader, summary: TuningSummary) -> str:
    """``rms 3.2 cents, worst -9.0 at B4``."""
    if not summary.worst_note:
        return words("no standard fingering sounds")
    return words(
        "rms {rms:.1f} cents, worst {worst} at {note}",
        rms=summary.rms_cents,
        worst=signed(words, summary.worst_cents),
        note=summary.worst_note,
    )


def trace_words(words: Reader, result: TuningTable | SensitivityMap) -> str:
    """Which model and which air the figures belong to."""
    return words("model: {level}; air: {climate}", level=result.model_level, climate=result.climate)


def register_words(words: Reader, name: str) -> str:
    """A register by its name in results."""
    return told(words, Register(name)) if name in set(Register) else name


def tuning_lines(
    words: Reader, instrument: Instrument, table: TuningTable, bars: ErrorBars | None = None
) -> Iterator[str]:
    """A tuning table by register, then twelfths, error bars, summary and trace."""
    yield words.tell(title(instrument))
    yield _pitch_words(words, instrument)
    by_register = [
        note for register in Register for note in table.notes if note.register_ is register
    ]
    heading, *lines = _note_lines(words, by_register)
    yield ""
    yield heading
    previous = None
    for note, line in zip(by_register, lines, strict=True):
        if note.register_ is not previous:
            previous = note.register_
            yield told(words, previous)
        yield line
    if table.twelfths:
        yield ""
        yield words("twelfths, cents from pure (positive is wide)")
        rows = [(each.low, each.high, signed(words, each.stretch_cents)) for each in table.twelfths]
        yield from columns((words("low"), words("high"), words("cents")), rows, right=(2,))
    if bars is not None:
        yield ""
        yield from error_bar_lines(words, bars)
    yield ""
    summary = summary_words(words, table.summary)
    yield words("standard fingerings: {summary}", summary=summary)
    silent = [note.fingering for note in table.notes if note.cents is None]
    if silent:
        yield words("no pitch was found for: {notes}", notes=", ".join(silent))
    yield trace_words(words, table)


def error_bar_lines(words: Reader, bars: ErrorBars) -> Iterator[str]:
    """One standard deviation of every note in cents, and the parts it is made of."""
    yield words(
        "error bars: one standard deviation in cents, and what makes it (in squares they add up)"
    )
    rows: list[tuple[str, ...]] = [
        (
            bar.fingering,
            figure(words, bar.total_cents),
            figure(words, bar.dimensions_cents),
            figure(words, bar.climate_cents),
            figure(words, bar.player_cents),
            figure(words, bar.model_cents),
            signed(words, bar.departure_cents),
        )
        for bar in bars.bars
    ]
    if not any(abs(bar.departure_cents) >= _SHOWN_CENTS for bar in bars.bars):
        rows = [row[:-1] for row in rows]
    headings = (
        words("note"),
        words("total"),
        words("sizes"),
        words("climate"),
        words("player"),
        words("model"),
        words("known"),
    )
    shown = len(rows[0]) if rows else len(headings)
    yield from columns(headings[:shown], rows, right=tuple(range(1, shown)))
    if shown == len(headings):
        yield words(
            "known: what the prediction is known to stand too high by; the bar stands round the "
            "pitch less that"
        )


def _pitch_words(words: Reader, instrument: Instrument) -> str:
    shift = instrument.pitch.written_to_sounding_semitones
    sounding = words("as written")
    if shift < 0:
        sounding = words.many(
            "{count} semitone below written", "{count} semitones below written", -shift
        )
    if shift > 0:
        sounding = words.many(
            "{count} semitone above written", "{count} semitones above written", shift
        )
    return words(
        "A4 = {a4:g} Hz, sounding {sounding}", a4=instrument.pitch.a4_hz, sounding=sounding
    )


def _note_lines(words: Reader, notes: list[NoteResult]) -> list[str]:
    rows = [
        (
            note.fingering,
            figure(words, note.target_hz, 2),
            figure(words, note.sounding_hz, 2),
            signed(words, note.cents),
            told(words, note.status)
            if note.use is Use.STANDARD
            else f"{told(words, note.status)} ({told(words, note.use)})",
        )
        for note in notes
    ]
    headings = (
        words("note"),
        words("target Hz"),
        words("sounding Hz"),
        words("cents"),
        words("status"),
    )
    return columns(headings, rows, right=(1, 2, 3))


def sensitivity_lines(words: Reader, sensitivity: SensitivityMap, most: int = 4) -> Iterator[str]:
    """The most effective dimensions of every note, the strongest first, a line a note."""
    yield words(
        "{instrument}: cents for +0.1 mm, the most effective dimensions first",
        instrument=sensitivity.instrument,
    )
    yield ""
    rows = []
    for fingering, ranked in _ranked(sensitivity):
        first = [f"{told(words, name)} {signed(words, cents, 2)}" for name, cents in ranked[:most]]
        rows.append((fingering, "; ".join(first) or words("nothing moves it")))
    yield from columns((words("note"), words("dimensions")), rows)
    yield ""
    yield trace_words(words, sensitivity)


def note_sensitivity_lines(words: Reader, sensitivity: SensitivityMap) -> Iterator[str]:
    """Every dimension that moves the notes given, the strongest first, a line a dimension."""
    yield words("{instrument}: cents for +0.1 mm", instrument=sensitivity.instrument)
    for fingering, ranked in _ranked(sensitivity):
        yield ""
        rows = [(told(words, name), signed(words, cents, 2)) for name, cents in ranked]
        yield from columns((fingering, words("cents")), rows, right=(1,))
    yield ""
    yield trace_words(words, sensitivity)


def _ranked(sensitivity: SensitivityMap) -> Iterator[tuple[str, list[tuple[Said, float]]]]:
    """Every fingering with the dimensions that move it by 0.005 cents or more."""
    for fingering, values in zip(
        sensitivity.fingerings, sensitivity.cents_per_tenth_mm, strict=True
    ):
        pairs = zip(sensitivity.dimensions, values, strict=True)
        moving = [pair for pair in pairs if abs(pair[1]) >= 0.005]
        yield fingering, sorted(moving, key=lambda pair: -abs(pair[1]))


def ending_lines(words: Reader, after: list[Finding], heading: str, saved: Path) -> Iterator[str]:
    """Faults that are left, under their heading, and where the outcome was saved."""
    left = [finding for finding in after if finding.severity == "fault"]
    if left:
        yield ""
        yield heading
        yield from finding_lines(words, left)
    yield ""
    yield words("saved   {path}", path=saved)


def finding_lines(words: Reader, findings: list[Finding]) -> Iterator[str]:
    """One line a finding: severity, place, what, remedy."""
    for finding in findings:
        place, what = words.place(finding.place), words.tell(finding.what).rstrip(".")
        severity = told(words, finding.severity)
        yield f"  {severity}  {place}: {what}. {words.tell(finding.remedy)}"


def check_lines(words: Reader, instrument_file: str, findings: list[Finding]) -> Iterator[str]:
    """All findings, and how many."""
    yield from finding_lines(words, findings)
    faults = sum(finding.severity == "fault" for finding in findings)
    notices = len(findings) - faults
    first = words.many("{count} fault", "{count} faults", faults) if faults else words("no faults")
    second = (
        words.many("{count} notice", "{count} notices", notices) if notices else words("no notices")
    )
    yield f"{instrument_file}: {first}, {second}"


def closed_words(words: Reader, closed: bool) -> str:
    """Whether a body's surface is closed."""
    return words("closed") if closed else words("NOT CLOSED: do not print")


def solids_lines(words: Reader, report: SolidsReport) -> Iterator[str]:
    """A line a part, and its files."""
    rows = [
        (
            part.part,
            figure(words, part.volume_mm3 / 1000),
            " x ".join(figure(words, side) for side in part.bounding_box_mm),
            closed_words(words, part.watertight and part.valid),
            f"{part.step}, .stl, .3mf",
        )
        for part in report.parts
    ]
    headings = (words("part"), "cm3", words("size mm"), words("surface"), words("files"))
    yield from columns(headings, rows, right=(1,))
    if report.assembly:
        yield words("assembly: {file}", file=report.assembly)
