"""Figures and sentences in a craftsman's words."""

from __future__ import annotations

import math
from collections.abc import Sequence

from borewright.documents._names import plain
from borewright.model import Instrument, NoteResult, Register, TuningTable, Use, note_number
from borewright.words import ENGLISH, Message, Reader, Text, joined, say, say_many

LEVELS = say(
    "closed forms: published formulas for tubes, holes, radiation and losses, computed in an "
    "instant; side holes in 3-D: the same chain, with each side hole's shape solved as a solid "
    "body of air; whole resonator in 3-D: the whole air column solved as one body; slow, kept as "
    "a reference. Each checks the one before it."
)


def signed(value: float, digits: int = 1, words: Reader = ENGLISH) -> str:
    """A figure with its sign, ``+3.1`` or ``−3.1``; plain where it rounds to nothing."""
    rounded = round(value, digits) or 0.0
    return words.number(rounded, f"+.{digits}f" if rounded else f".{digits}f").replace("-", "−")


def figure(value: float | None, digits: int = 1, words: Reader = ENGLISH) -> str:
    """A figure, a dash where there is none."""
    known = value is not None and math.isfinite(value)
    return words.number(value, f".{digits}f") if known and value is not None else "–"


def sharp_or_flat(cents: float) -> Message:
    """``3.1 cents sharp``, ``3.1 cents flat`` or ``in tune``."""
    if round(abs(cents), 1) == 0:
        return say("in tune")
    if cents > 0:
        return say("{cents:.1f} cents sharp", cents=cents)
    return say("{cents:.1f} cents flat", cents=-cents)


def standard_notes(table: TuningTable) -> list[NoteResult]:
    """Standard fingerings, from the lowest written note upwards."""
    notes = [note for note in table.notes if note.use is Use.STANDARD]
    return sorted(notes, key=lambda note: note_number(note.written))


def summary_sentences(
    before: TuningTable | None, after: TuningTable, tolerance_cents: float
) -> list[Message]:
    """What a fit achieved: reach, worst note, root mean square, and the notes kept apart."""
    notes = standard_notes(after)
    sounding = [note for note in notes if note.cents is not None]
    when = say("After the fit") if before else say("As it stands")
    sentences = []
    if not sounding:
        sentences.append(
            say("No standard fingering gave a pitch, so nothing can be said of tuning.")
        )
    else:
        sentences += _reach(sounding, when, tolerance_cents)
        over = {"count": len(sounding), "rms_cents": after.summary.rms_cents}
        sentences.append(
            say(
                "Root mean square over the {count} standard fingerings that sound: "
                "{rms_cents:.1f} cents, before the fit {before_cents:.1f}.",
                **over,
                before_cents=before.summary.rms_cents,
            )
            if before
            else say(
                "Root mean square over the {count} standard fingerings that sound: "
                "{rms_cents:.1f} cents.",
                **over,
            )
        )
    silent = [plain(note.fingering) for note in notes if note.cents is None]
    if silent:
        sentences.append(say("No resonance was found for {notes}.", notes=joined(silent, ", ")))
    sentences += [_apart(note) for note in after.notes if note.use is Use.APART]
    return sentences


def _reach(sounding: Sequence[NoteResult], when: Message, tolerance: float) -> list[Message]:
    span = {"when": when, "first": sounding[0].written, "last": sounding[-1].written}
    inside = [note for note in sounding if abs(note.cents or 0.0) <= tolerance]
    worst = max(sounding, key=lambda note: abs(note.cents or 0.0))
    named = {"note": plain(worst.fingering), "off": sharp_or_flat(worst.cents or 0.0)}
    if len(inside) == len(sounding):
        most = max(abs(note.cents or 0.0) for note in sounding)
        return [
            say(
                "{when} every standard note from {first} to {last} lies within {most_cents:.1f} "
                "cents of its target.",
                **span,
                # Rounded up, so that the sentence never promises more than the table shows.
                most_cents=math.ceil(round(most * 10, 6)) / 10,
            ),
            say("The furthest is {note}, {off}.", **named),
        ]
    return [
        say(
            "{when} {inside} of {count} standard notes from {first} to {last} lie within "
            "±{tolerance_cents:g} cents of their target.",
            **span,
            inside=len(inside),
            count=len(sounding),
            tolerance_cents=tolerance,
        ),
        say("The worst is {note}, {off}.", **named),
    ]


def _apart(note: NoteResult) -> Message:
    """A note kept apart, with its register where that tells it apart (throat Bb4)."""
    name: Text = plain(note.fingering)
    if note.register_ is Register.THROAT:
        name = say("throat {note}", note=plain(note.fingering))
    off = say("no resonance found") if note.cents is None else sharp_or_flat(note.cents)
    return say("Kept apart from the fit: {note}, {off}.", note=name, off=off)


def climate_words(instrument: Instrument) -> Message:
    """The playing climate in a line."""
    climate = instrument.climate
    return say(
        "room {room_c:g} °C, air at the reed {reed_end_c:g} °C, humidity {humidity:.0f} %, carbon "
        "dioxide {carbon_dioxide:g} %, pressure {pressure_hpa:g} hPa",
        room_c=climate.room_c,
        reed_end_c=climate.reed_end_c,
        humidity=climate.relative_humidity * 100,
        carbon_dioxide=climate.carbon_dioxide * 100,
        pressure_hpa=climate.pressure_hpa,
    )


def pitch_words(instrument: Instrument) -> Message:
    """Pitch standard and transposition in a line."""
    pitch = instrument.pitch
    shift = pitch.written_to_sounding_semitones
    sounding = say("sounds as written")
    if shift < 0:
        sounding = say_many(
            "sounds {count} semitone below written",
            "sounds {count} semitones below written",
            -shift,
        )
    elif shift > 0:
        sounding = say_many(
            "sounds {count} semitone above written", "sounds {count} semitones above written", shift
        )
    return say(
        "A4 = {a4_hz:g} Hz, {sounding}, {temperament}",
        a4_hz=pitch.a4_hz,
        sounding=sounding,
        temperament=say("its own temperament")
        if pitch.temperament_cents
        else say("equal temperament"),
    )
