"""What many takes say: offsets with intervals, scatter by its sources, comparisons."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.words import Choice, Said, Text, say


class Interval(Entity):
    """An estimate with its 95 % interval."""

    value: float
    low: float
    high: float


class Scatter(Entity):
    """Standard deviations (cents) of what varies; None where the takes cannot tell.

    ``take`` is what all notes of a take share, ``note`` what each note adds.
    """

    player: float | None
    day: float | None
    take: float
    note: float


class InstrumentOffset(Entity):
    """Mean cents of an instrument over its notes, and its difference from the first one."""

    instrument: str
    mean_cents: Interval
    difference_cents: Interval | None


class CampaignResult(Entity):
    """Instrument, player, day and repeat told apart."""

    offsets: list[InstrumentOffset]
    mouthpieces: dict[str, Interval]
    scatter: Scatter
    takes: int
    players: int
    notes: int
    notices: list[Said]


class ParameterEstimate(Entity):
    """One fitted parameter with its 95 % interval."""

    name: str
    unit: str
    start: float
    value: Interval


#: What is compared, by the key of the table of notes.
_QUANTITIES = {
    "cents": say("pitch"),
    "centroid_hz": say("centroid of the sound"),
    "odd_even_db": say("odd over even harmonics"),
    "slope_db_per_octave": say("slope of the harmonics"),
    "attack_ms": say("attack"),
}


class Difference(Entity):
    """One quantity compared: B less A, its 95 % interval, and the probability by chance."""

    quantity: str
    unit: str
    words: Said
    value: Interval
    p_value: float
    different: bool

    @property
    def called(self) -> Text:
        """What a reader is told of the quantity; a note by its name."""
        return _QUANTITIES.get(self.quantity, self.quantity)


class Verdict(Choice):
    """What a comparison could tell."""

    DIFFERENT = "different", say("different")
    NOT_DIFFERENT = "not different", say("not different")
    CANNOT_TELL = "cannot tell", say("cannot tell")


class Comparison(Entity):
    """Paired comparison of two things under test, with a plain sentence."""

    first: str
    second: str
    pairs: int
    differences: list[Difference]
    notes: list[Difference]
    verdict: Verdict
    sentence: Said
    pairs_advised: int
    scatter_of_pairs_cents: float
    notices: list[Said]
