"""What a play test advises: ranked steps for one instrument, or for the next print."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.words import Choice, Said, say


class Aim(Choice):
    """Whether the finished instrument is reworked or the next one printed differently."""

    REWORK = "rework", say("rework")
    NEXT_PRINT = "next print", say("next print")


class Leak(Entity):
    """A leak of an as-built instrument: its hole, its size (mm), and what is known of its place."""

    hole: str
    part: str
    diameter_mm: float
    place: Said
    place_known: bool


class AppliedReading(Entity):
    """One gauge reading that changed a dimension (mm)."""

    what: Said
    from_mm: float
    to_mm: float


class CorrectionStep(Entity):
    """One step: what to do, how far it may go, and what it does to every note.

    ``by_mm`` is signed (0 for sealing a leak); ``uncertainty_mm`` is one standard error.
    ``effects_cents`` belong to the plan's ``fingerings``, the earlier steps being done.
    """

    words: Said
    kind: str
    part: str
    hole: str
    by_mm: float
    uncertainty_mm: float
    limit_low_mm: float
    limit_high_mm: float
    rms_before_cents: float
    rms_after_cents: float
    effects_cents: list[float]


class CorrectionPlan(Entity):
    """Ranked steps, and the cents of every fingering before and after them.

    ``uncertainty_cents`` is one standard error of the measured cents, the scatter below which
    nothing is advised. ``remaining`` names the fingerings that stay beyond the tolerance.
    """

    instrument: str
    aim: Aim
    fingerings: list[str]
    predicted_cents: list[float]
    measured_cents: list[float]
    uncertainty_cents: list[float]
    after_cents: list[float]
    rms_before_cents: float
    rms_after_cents: float
    steps: list[CorrectionStep]
    remaining: list[str]
    reason_for_stopping: Said
    model_level: Said
    climate: Said
