"""What a play test yields: takes with their notes, in records that other rooms may show.

Frequencies in Hz, intervals in cents, times in seconds unless a name says milliseconds;
levels in dB below digital full scale.
"""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.words import Choice, Said, Text, say


class NoteStatus(Choice):
    """How a found note stands to the planned order."""

    OK = "ok", say("ok")
    REPEATED = "repeated", say("repeated")
    OUT_OF_ORDER = "out of order", say("out of order")
    WRONG_REGISTER = "wrong register", say("wrong register")
    UNPLANNED = "unplanned", say("unplanned")

    @property
    def counts(self) -> bool:
        """Whether the note's pitch says something about its fingering."""
        return self in (NoteStatus.OK, NoteStatus.REPEATED, NoteStatus.OUT_OF_ORDER)


class ToneFigures(Entity):
    """Tone descriptors of one note; ``playing.tone`` holds their published definitions."""

    centroid_hz: float
    odd_even_db: float
    slope_db_per_octave: float
    attack_ms: float


class FoundNote(Entity):
    """One steady note of a recording.

    ``cents`` is against the pitch standard; ``spread_cents`` the standard deviation of the
    pitch about its trend and vibrato, ``uncertainty_cents`` the standard error of ``cents``
    from that spread alone. ``start_cents`` is how far the first 60 ms lie from the steady
    pitch, ``settle_ms`` how long it took to settle.
    """

    take: int
    name: str
    status: NoteStatus
    start_s: float
    end_s: float
    steady_start_s: float
    steady_end_s: float
    hz: float
    target_hz: float
    cents: float
    spread_cents: float
    uncertainty_cents: float
    start_cents: float
    settle_ms: float
    drift_cents_per_s: float
    vibrato_hz: float
    vibrato_cents: float
    level_db: float
    tone: ToneFigures | None = None


class PitchTrack(Entity):
    """Pitch (Hz, 0 where there is none) and level (dB) at rising times (s)."""

    times_s: list[float]
    hz: list[float]
    level_db: list[float]


class Take(Entity):
    """One recording and the notes found in it; ``takes`` counts rounds of the planned order."""

    file: str
    sample_rate: int
    channels: int
    seconds: float
    temperature_c: float
    a4_hz: float
    takes: int
    notes: list[FoundNote]
    missing: list[Text]
    notices: list[Said]
