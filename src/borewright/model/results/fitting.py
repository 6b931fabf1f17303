"""What ``fit`` finds: what it moved, and what stays out of reach."""

from __future__ import annotations

from pydantic import ConfigDict, Field

from borewright.model.base import Entity
from borewright.model.results.findings import Finding
from borewright.model.results.tuning import TuningTable


class Move(Entity):
    """One dimension that a fit changed (mm), and the limit that holds it, if one does."""

    part: str
    hole: str
    dimension: str
    from_: float = Field(alias="from")
    to: float
    limit: str = ""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class Relaxation(Entity):
    """What relaxing one limit by 1 mm would bring to a note (cents, re-solved)."""

    limit: str
    cents_after: float


class OutOfReach(Entity):
    """A note that stays beyond its tolerance, with what stops it."""

    fingering: str
    cents: float
    tolerance_cents: float
    relaxations: list[Relaxation]
    advice: str


class FitResult(Entity):
    """Outcome of a fit: tuning before and after, moves, and notes out of reach.

    ``hole_solutions`` tells how often the side holes of what was found were solved in 3-D; 0
    where the fit used closed forms.
    """

    instrument: str
    before: TuningTable
    after: TuningTable
    moved: list[Move]
    out_of_reach: list[OutOfReach]
    findings: list[Finding] = []
    finished: bool
    rounds: int
    hole_solutions: int = 0
    seconds: float
