"""Bores and bells that were tried: features, what each comes to after its holes were fitted."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.words import Said


class BoreFeature(Entity):
    """What is varied: a part's bore, its ends or its length, from the drawing by so much (mm).

    ``measure`` is ``bore`` (all diameters of the part), ``top`` or ``bottom`` (that end's, the
    others in proportion to their distance from the other end) or ``length``.
    """

    part: str
    measure: str
    from_mm: float
    to_mm: float

    @property
    def name(self) -> str:
        """As a table names it: ``bell.length``."""
        return f"{self.part}.{self.measure}"


class TriedBore(Entity):
    """One design: changes (mm) by feature, and its aims after the holes were fitted.

    ``rms_cents`` and ``worst_cents`` are of the standard fingerings, ``strength_step_db`` and
    ``cutoff_step_hz`` the mean steps from one of them to the next: of the height of the sounding
    resonance, and of the open holes' cut-off. ``faults`` are those of the body; ``best`` whether
    no other design without faults is at least as good in every aim (Pareto).
    """

    number: int
    changes_mm: list[float]
    rms_cents: float
    worst_cents: float
    worst_note: str
    strength_step_db: float
    cutoff_step_hz: float
    faults: int
    best: bool = False

    @property
    def aims(self) -> tuple[float, float, float]:
        """What is to be small."""
        return self.rms_cents, self.strength_step_db, self.cutoff_step_hz


class BoreSearchResult(Entity):
    """All designs in the order in which they were tried; the first is the drawing.

    ``emulator_errors`` are those of what chose the later ones, by leaving each out (root mean
    square of each aim, in its unit): every figure shown is the engine's own.
    """

    instrument: str
    features: list[BoreFeature]
    designs: list[TriedBore]
    emulator_errors: tuple[float, float, float]
    model_level: Said
