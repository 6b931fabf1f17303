"""What a diagnosis says: causes with their probabilities, and what would decide between them."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.results.campaign import Interval
from borewright.words import Message, Said, say

#: Fractions that people say, with the probability from which each serves.
_ODDS = (
    (0.975, 99, 100),
    (0.925, 19, 20),
    (0.85, 9, 10),
    (0.775, 4, 5),
    (0.71, 3, 4),
    (0.58, 2, 3),
    (0.42, 1, 2),
    (0.29, 1, 3),
    (0.225, 1, 4),
    (0.15, 1, 5),
    (0.07, 1, 10),
    (0.03, 1, 20),
)


def odds_words(probability: float) -> Message:
    """A probability as a person says it: ``4 in 5``."""
    for least, share, of in _ODDS:
        if probability >= least:
            return say("{share} in {of}", share=share, of=of)
    return say("hardly")


class Cause(Entity):
    """One possible cause.

    ``probability`` is that it is among what is wrong; several may be at once. ``amount`` is how
    far the size (or figure) is off in all, if this is a cause, with its 95 % interval.
    ``most_cents`` on ``most_note`` is what that amount does where it does most.
    """

    words: Said
    kind: str
    part: str
    hole: str
    probability: float
    odds: Said
    amount: Interval
    unit: str
    most_note: str
    most_cents: float


class NextReading(Entity):
    """A reading that would help to decide: its minutes, and what it brings.

    ``right_now`` and ``right_after`` are how often the cause named first is a true one, before
    the reading and after it; ``bits`` is what it tells in all.
    """

    words: Said
    item: str
    part: str
    hole: str
    station_mm: float | None
    minutes: float
    right_now: float
    right_after: float
    bits: float


class Diagnosis(Entity):
    """What is wrong with an instrument, as far as takes and readings tell.

    ``nothing`` is the probability that nothing is, beyond the usual scatter. ``player_cents`` is
    the player's own pitch. ``contradictions`` are observations that do not go with the rest.
    """

    instrument: str
    notes: int
    readings: int
    nothing: float
    causes: list[Cause]
    player_cents: Interval
    contradictions: list[Said]
    next_readings: list[NextReading]
    model_level: Said
    climate: Said
