"""What ``acoustics`` predicts: pitches, sensitivities, error bars."""

from __future__ import annotations

import math

from pydantic import ConfigDict, Field

from borewright.model.base import Entity
from borewright.model.kinds import Register, Use
from borewright.words import Choice, Said, say


class ResonanceStatus(Choice):
    """Whether a found resonance can be trusted."""

    OK = "ok", say("ok")
    NOT_FOUND = (
        "no such resonance below the highest frequency searched",
        say("no such resonance below the highest frequency searched"),
    )
    NOT_SETTLED = (
        "the search did not settle on a resonance",
        say("the search did not settle on a resonance"),
    )
    AMBIGUOUS = (
        "several resonances crowd here; the lowest is given",
        say("several resonances crowd here; the lowest is given"),
    )
    FAINT = "a faint resonance that may not speak", say("a faint resonance that may not speak")

    @property
    def usable(self) -> bool:
        """Whether there is a frequency at all."""
        return self not in (ResonanceStatus.NOT_FOUND, ResonanceStatus.NOT_SETTLED)


class NoteResult(Entity):
    """Predicted pitch of one fingering; ``sounding_hz`` is None where no resonance was found.

    ``status`` says why the number should not be trusted, if it should not.
    """

    written: str
    register_: Register = Field(alias="register")
    fingering: str
    open_holes: tuple[str, ...]
    use: Use
    target_hz: float
    sounding_hz: float | None
    cents: float | None
    status: ResonanceStatus = ResonanceStatus.OK

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class TuningSummary(Entity):
    """Root mean square and worst deviation (cents) of the standard fingerings."""

    rms_cents: float
    worst_cents: float
    worst_note: str

    @classmethod
    def of(cls, notes: list[NoteResult]) -> TuningSummary:
        """Summary over the standard fingerings that sound; zeros where there are none."""
        counted = [
            (note.cents, note.fingering)
            for note in notes
            if note.use is Use.STANDARD and note.cents is not None
        ]
        if not counted:
            return cls(rms_cents=0.0, worst_cents=0.0, worst_note="")
        worst, name = max(counted, key=lambda pair: abs(pair[0]))
        rms = math.sqrt(sum(cents**2 for cents, _ in counted) / len(counted))
        return cls(rms_cents=rms, worst_cents=worst, worst_note=name)


class Twelfth(Entity):
    """Interval (cents) between a low note and the same fingering with the vent open.

    ``stretch_cents`` is the interval less 1901.955, the pure twelfth: positive is wide.
    """

    low: str
    high: str
    stretch_cents: float


class TuningTable(Entity):
    """Predicted pitch of every fingering, with its trace: model level and climate."""

    instrument: str
    notes: list[NoteResult]
    twelfths: list[Twelfth]
    summary: TuningSummary
    model_level: Said
    climate: Said

    def note(self, fingering: str) -> NoteResult:
        """The row of a fingering such as ``B3`` or ``B3 (sliver)``; KeyError if absent."""
        for note in self.notes:
            if note.fingering == fingering:
                return note
        raise KeyError(fingering)


class SensitivityMap(Entity):
    """Cents per 0.1 mm of every dimension, for every fingering.

    ``cents_per_tenth_mm[i][j]`` belongs to ``fingerings[i]`` and ``dimensions[j]``.
    """

    instrument: str
    fingerings: list[str]
    dimensions: list[Said]
    cents_per_tenth_mm: list[list[float]]
    model_level: Said
    climate: Said

    @property
    def columns(self) -> dict[str, int]:
        """Where each dimension stands, by its name in English: ``R1 diameter``."""
        return {str(name): column for column, name in enumerate(self.dimensions)}


class ErrorBar(Entity):
    """Standard deviation (cents) of one note's predicted pitch, and what it is made of.

    Where the prediction is known to stand too high, by ``departure_cents``, the bar stands round
    the prediction less that.
    """

    fingering: str
    total_cents: float
    dimensions_cents: float
    climate_cents: float
    player_cents: float
    model_cents: float
    departure_cents: float = 0.0


class ErrorBars(Entity):
    """Error bars of all fingerings, one standard deviation each."""

    instrument: str
    bars: list[ErrorBar]
    method: Said
    model_level: Said


class WarmUpPoint(Entity):
    """Mean cents by register after some minutes of playing."""

    minutes: float
    reed_end_c: float
    mean_cents: dict[str, float]


class ParameterEffect(Entity):
    """Mean cents per unit of one parameter, by register."""

    parameter: Said
    unit: str
    cents_per_unit: dict[str, float]
