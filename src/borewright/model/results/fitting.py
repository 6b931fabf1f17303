"""What a fit hands over: moves, notes out of reach with their true cause, what held things pay."""

from __future__ import annotations

from pydantic import ConfigDict, Field

from borewright.model.base import Entity
from borewright.model.results.findings import Finding
from borewright.model.results.tuning import TuningTable
from borewright.words import Said


class Move(Entity):
    """One dimension or bore feature that was free (mm), and the limit that holds it, if one does.

    ``dimension`` is its name in words, ``measure`` its key: ``station``, ``diameter``,
    ``chimney``, ``cylinder``, ``flare_start`` and so on. ``drawn`` is what the drawing has.
    """

    part: str
    hole: str
    dimension: Said
    measure: str = ""
    from_: float = Field(alias="from")
    to: float
    drawn: float | None = None
    limit: Said | None = None

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class Relaxation(Entity):
    """What one thing would bring, fitted anew: a limit relaxed, or something freed that is held.

    ``change`` says what is done; ``cents_after`` is the note, ``rms_after`` and ``worst_after``
    all standard fingerings with it.
    """

    limit: Said
    cents_after: float
    change: Said | None = None
    rms_after: float | None = None
    worst_after: float | None = None


class OutOfReach(Entity):
    """A note that stays beyond its tolerance, with what stops it; what pays most comes first."""

    fingering: str
    cents: float
    tolerance_cents: float
    relaxations: list[Relaxation]
    advice: Said


class HeldBack(Entity):
    """Something that is held and would better the tuning if it were freed (rms, worst cents).

    ``notes`` are the fingerings that gain most, with their cents before and after.
    """

    what: Said
    rms_after: float
    worst_after: float
    notes: list[tuple[str, float, float]]


class FitResult(Entity):
    """Outcome of a fit: tuning before and after, moves, and notes out of reach.

    ``held_back`` tells what would pay if it were freed, dearest first. ``hole_solutions`` tells
    how often the side holes of what was found were solved in 3-D; 0 where the fit used closed
    forms.
    """

    instrument: str
    before: TuningTable
    after: TuningTable
    moved: list[Move]
    out_of_reach: list[OutOfReach]
    held_back: list[HeldBack] = []
    findings: list[Finding] = []
    finished: bool
    rounds: int
    hole_solutions: int = 0
    seconds: float
