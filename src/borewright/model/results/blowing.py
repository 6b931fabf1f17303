"""Results of blowing: when a fingering speaks, at which pitch, and with which sound."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.kinds import Register
from borewright.words import Choice, Said, say


class Speaking(Choice):
    """How the wanted register of a fingering comes to sound in the model."""

    BY_ITSELF = "speaks", say("speaks")
    PREPARED = "speaks when prepared", say("speaks when prepared")
    HELPED = "speaks with help", say("speaks with help")
    OTHER = "another register speaks", say("another register speaks")
    SILENT = "does not speak", say("does not speak")


class Threshold(Entity):
    """Where steady blowing turns into sound, one resonance taken by itself.

    ``pressure`` is the mouth pressure over the closing pressure; None where no pressure below
    closing makes this resonance sound.
    """

    resonance: int
    pressure: float | None
    hz: float | None


class Tone(Entity):
    """The steady tone at one way of blowing.

    ``hz`` is None where the wanted register does not hold. Harmonics, from the first, are
    levels in dB: inside re 1 closing pressure (root mean square), radiated as sound pressure
    level at the listener.
    """

    pressure: float
    embouchure: float
    hz: float | None
    cents_from_target: float | None = None
    inside_db: tuple[float, ...] = ()
    radiated_db: tuple[float, ...] = ()
    beats: bool = False


class BlownNote(Entity):
    """One fingering, blown."""

    fingering: str
    written: str
    register_: Register
    resonance: int
    target_hz: float
    resonance_hz: float | None
    thresholds: tuple[Threshold, ...]
    speaking: Speaking
    from_rest: int | None  # number of the resonance that speaks from rest, None: silence
    tones: tuple[Tone, ...]
    drift_cents: float | None  # strongest less softest blowing
    fit_error: float  # root mean square of the modal fit's relative error

    @property
    def onset(self) -> Threshold | None:
        """The threshold of the wanted resonance."""
        wanted = [each for each in self.thresholds if each.resonance == self.resonance]
        return wanted[0] if wanted else None

    @property
    def easiest(self) -> int | None:
        """Number of the resonance with the lowest threshold."""
        reached = [each for each in self.thresholds if each.pressure is not None]
        return min(reached, key=lambda each: each.pressure or 0.0).resonance if reached else None


class BlowingTable(Entity):
    """Every fingering blown; ``player`` says with what, in words."""

    instrument: str
    notes: list[BlownNote]
    pressure: float
    embouchure: float
    closing_kpa: float
    distance_m: float
    player: Said
    model_level: Said
    climate: Said
