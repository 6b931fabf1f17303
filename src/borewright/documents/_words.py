"""Figures and sentences in a craftsman's words."""

from __future__ import annotations

import math
from collections.abc import Sequence

from borewright.documents._names import plain
from borewright.model import Instrument, NoteResult, Register, TuningTable, Use, note_number

LEVELS = (
    (
        "closed forms",
        "published formulas for tubes, holes, radiation and losses, computed in an instant",
    ),
    (
        "side holes in 3-D",
        "the same chain, with each side hole's shape solved as a solid body of air",
    ),
    (
        "whole resonator in 3-D",
        "the whole air column solved as one body; slow, kept as a reference",
    ),
)


def signed(value: float, digits: int = 1) -> str:
    """A figure with its sign, ``+3.1`` or ``−3.1``; plain where it rounds to nothing."""
    text = f"{abs(value):.{digits}f}"
    if float(text) == 0:
        return text
    return ("+" if value > 0 else "−") + text


def figure(value: float | None, digits: int = 1) -> str:
    """A figure, a dash where there is none."""
    return "–" if value is None or not math.isfinite(value) else f"{value:.{digits}f}"


def sharp_or_flat(cents: float) -> str:
    """``3.1 cents sharp``, ``3.1 cents flat`` or ``in tune``."""
    text = f"{abs(cents):.1f}"
    if float(text) == 0:
        return "in tune"
    return f"{text} cents {'sharp' if cents > 0 else 'flat'}"


def standard_notes(table: TuningTable) -> list[NoteResult]:
    """Standard fingerings, from the lowest written note upwards."""
    notes = [note for note in table.notes if note.use is Use.STANDARD]
    return sorted(notes, key=lambda note: note_number(note.written))


def summary_sentences(
    before: TuningTable | None, after: TuningTable, tolerance_cents: float
) -> list[str]:
    """What a fit achieved: reach, worst note, root mean square, and the notes kept apart."""
    notes = standard_notes(after)
    sounding = [note for note in notes if note.cents is not None]
    when = "After the fit" if before else "As it stands"
    sentences = []
    if not sounding:
        sentences.append("No standard fingering gave a pitch, so nothing can be said of tuning.")
    else:
        sentences += _reach(sounding, when, tolerance_cents)
        rms = f"Root mean square over the {len(sounding)} standard fingerings that sound: "
        rms += f"{after.summary.rms_cents:.1f} cents"
        rms += f", before the fit {before.summary.rms_cents:.1f}." if before else "."
        sentences.append(rms)
    silent = [note.fingering for note in notes if note.cents is None]
    if silent:
        sentences.append(f"No resonance was found for {', '.join(map(plain, silent))}.")
    for note in after.notes:
        if note.use is Use.APART:
            words = "no resonance found" if note.cents is None else sharp_or_flat(note.cents)
            sentences.append(f"Kept apart from the fit: {apart_name(note)}, {words}.")
    return sentences


def _reach(sounding: Sequence[NoteResult], when: str, tolerance: float) -> list[str]:
    span = f"from {sounding[0].written} to {sounding[-1].written}"
    inside = [note for note in sounding if abs(note.cents or 0.0) <= tolerance]
    worst = max(sounding, key=lambda note: abs(note.cents or 0.0))
    worst_words = f"{plain(worst.fingering)}, {sharp_or_flat(worst.cents or 0.0)}"
    if len(inside) == len(sounding):
        most = max(abs(note.cents or 0.0) for note in sounding)
        # Rounded up, so that the sentence never promises more than the table shows.
        most_words = f"{math.ceil(round(most * 10, 6)) / 10:.1f}"
        return [
            f"{when} every standard note {span} lies within {most_words} cents of its target.",
            f"The furthest is {worst_words}.",
        ]
    return [
        f"{when} {len(inside)} of {len(sounding)} standard notes {span} lie within "
        f"±{tolerance:g} cents of their target.",
        f"The worst is {worst_words}.",
    ]


def apart_name(note: NoteResult) -> str:
    """The fingering's name, with its register where that tells it apart (throat Bb4)."""
    name = plain(note.fingering)
    return f"{note.register_.value} {name}" if note.register_ is Register.THROAT else name


def climate_words(instrument: Instrument) -> str:
    """The playing climate in a line."""
    climate = instrument.climate
    return (
        f"room {climate.room_c:g} °C, air at the reed {climate.reed_end_c:g} °C, humidity "
        f"{climate.relative_humidity * 100:.0f} %, carbon dioxide "
        f"{climate.carbon_dioxide * 100:g} %, pressure {climate.pressure_hpa:g} hPa"
    )


def pitch_words(instrument: Instrument) -> str:
    """Pitch standard and transposition in a line."""
    pitch = instrument.pitch
    shift = pitch.written_to_sounding_semitones
    if shift:
        way = "below" if shift < 0 else "above"
        sounding = f"sounds {abs(shift)} semitone{'s' if abs(shift) != 1 else ''} {way} written"
    else:
        sounding = "sounds as written"
    temperament = "its own temperament" if pitch.temperament_cents else "equal temperament"
    return f"A4 = {pitch.a4_hz:g} Hz, {sounding}, {temperament}"
