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

    ``stage`` 1 can be undone, 2 is a cut; between stages new takes are recorded. ``by_mm`` is
    signed (0 for sealing a leak); ``uncertainty_mm`` is one standard error.
    ``effects_cents`` belong to the plan's ``fingerings``, the earlier steps being done.
    """

    words: Said
    stage: int
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


class SideEffect(Entity):
    """What all steps together do to a fingering that was not recorded."""

    fingering: str
    by_cents: float


class OpenQuestion(Entity):
    """A reading that would tell more about the notes before anything is done.

    ``open_now_cents`` and ``open_after_cents`` are how far the standard notes may be from what
    is believed of them, one standard error (root mean square), without and with it.
    """

    words: Said
    item: str
    part: str
    hole: str
    station_mm: float | None
    minutes: float
    open_now_cents: float
    open_after_cents: float


class CorrectionPlan(Entity):
    """Ranked steps, and the cents of every fingering before and after them.

    ``measured_cents`` are those of the takes, ``uncertainty_cents`` one standard error of them.
    ``believed_cents`` are the instrument's own, with what the player adds taken out and the
    notes judged together; ``believed_error_cents`` is one standard error of those. The steps
    start from these, and ``after_cents`` and both ``rms`` belong to them. ``remaining`` names
    the fingerings that stay beyond the tolerance, ``beside`` those that were not recorded and
    move. ``open_questions`` are readings that would tell most before anything is done, the best
    first.
    """

    instrument: str
    aim: Aim
    fingerings: list[str]
    predicted_cents: list[float]
    measured_cents: list[float]
    uncertainty_cents: list[float]
    believed_cents: list[float]
    believed_error_cents: list[float]
    after_cents: list[float]
    rms_before_cents: float
    rms_after_cents: float
    steps: list[CorrectionStep]
    beside: list[SideEffect]
    open_questions: list[OpenQuestion] = []
    remaining: list[str]
    reason_for_stopping: Said
    model_level: Said
    climate: Said
