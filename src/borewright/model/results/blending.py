"""What a blend made, and what its re-fit cost."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.bores.blending import Fractions
from borewright.model.results.findings import Finding
from borewright.model.results.fitting import OutOfReach
from borewright.model.results.tuning import TuningTable
from borewright.words import Said


class FeatureRow(Entity):
    """One feature of both parents and of the blend, with its unit (mm)."""

    feature: Said
    first: float
    second: float
    blend: float


class HoleMove(Entity):
    """One measure of a hole (mm): in both parents, as blended, and after the re-fit."""

    measure: str
    first: float
    second: float
    blended: float
    refitted: float

    @property
    def by_mm(self) -> float:
        """What the re-fit asked of it."""
        return self.refitted - self.blended


class PayingHole(Entity):
    """A hole that the re-fit moved; ``steps`` counts moderate steps (root of the squares).

    A moderate step is 1 mm of station, 0.5 mm of diameter or of chimney.
    """

    part: str
    hole: str
    steps: float
    moves: list[HoleMove]
    limit: Said


class BlendResult(Entity):
    """A blend of two instruments before and after its holes were fitted again.

    ``refitted`` is None, and ``paying`` empty, where no re-fit was asked for. Holes in
    ``paying`` come with the dearest first.
    """

    first: str
    second: str
    fractions: Fractions
    features: list[FeatureRow]
    first_table: TuningTable
    second_table: TuningTable
    blended: TuningTable
    refitted: TuningTable | None
    paying: list[PayingHole]
    out_of_reach: list[OutOfReach]
    findings: list[Finding]
    finished: bool
    notices: list[Said]
