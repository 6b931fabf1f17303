"""A diagnosis as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import signed, told
from borewright.model.results.causes import Cause, Diagnosis, odds_words
from borewright.words import Reader


def diagnosis_lines(words: Reader, found: Diagnosis) -> Iterator[str]:
    """Causes, the likeliest first; what contradicts; which reading would decide."""
    yield words(
        "{instrument}: {notes} notes, {readings} readings",
        instrument=found.instrument,
        notes=found.notes,
        readings=found.readings,
    )
    for number, cause in enumerate(found.causes, start=1):
        yield f"{number}. {cause_line(words, cause)}"
    yield words(
        "nothing beyond the usual scatter: {odds}", odds=told(words, odds_words(found.nothing))
    )
    player = found.player_cents
    yield words(
        "the player's own pitch: {cents} cents ({low} to {high})",
        cents=signed(words, player.value, 0),
        low=signed(words, player.low, 0),
        high=signed(words, player.high, 0),
    )
    yield from (
        words("contradiction: {what}", what=told(words, each)) for each in found.contradictions
    )
    yield words("What would decide most:")
    for reading in found.next_readings:
        yield words(
            "  {reading}, {minutes:.0f} min: the first cause would be right {after}, now {now}",
            reading=told(words, reading.words),
            minutes=reading.minutes,
            after=told(words, odds_words(reading.right_after)),
            now=told(words, odds_words(reading.right_now)),
        )
    yield words("model: {level}; air: {climate}", level=found.model_level, climate=found.climate)


def cause_line(words: Reader, cause: Cause) -> str:
    """``R1 too small: 4 in 5, by -0.38 mm (-0.47 to -0.28), on F#3 -12 cents``."""
    digits = 2 if cause.unit == "mm" else 0
    return words(
        "{cause}: {odds}; by {value} {unit} ({low} to {high}), most on {note}: {cents} cents",
        cause=told(words, cause.words),
        odds=told(words, cause.odds),
        value=signed(words, cause.amount.value, digits),
        unit=cause.unit,
        low=signed(words, cause.amount.low, digits),
        high=signed(words, cause.amount.high, digits),
        note=cause.most_note,
        cents=signed(words, cause.most_cents),
    )
