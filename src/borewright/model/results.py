"""Small typed results that rooms hand to each other, to the doors and to documents.

They know their units, print well and turn into JSON with ``model_dump(mode="json",
by_alias=True)``, the same way everywhere.
"""

from __future__ import annotations

import math

from pydantic import ConfigDict, Field

from borewright.model.base import Entity
from borewright.model.kinds import Register, Severity, Use
from borewright.words import Said, Where


class NoteResult(Entity):
    """Predicted pitch of one fingering; ``sounding_hz`` is None where no resonance was found.

    ``status`` is "ok" or says in words why the number should not be trusted.
    """

    written: str
    register_: Register = Field(alias="register")
    fingering: str
    open_holes: tuple[str, ...]
    use: Use
    target_hz: float
    sounding_hz: float | None
    cents: float | None
    status: str = "ok"

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
    model_level: str
    climate: str

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
    dimensions: list[str]
    cents_per_tenth_mm: list[list[float]]
    model_level: str
    climate: str


class ErrorBar(Entity):
    """Standard deviation (cents) of one note's predicted pitch, and what it is made of."""

    fingering: str
    total_cents: float
    dimensions_cents: float
    climate_cents: float
    player_cents: float
    model_cents: float


class ErrorBars(Entity):
    """Error bars of all fingerings, one standard deviation each."""

    instrument: str
    bars: list[ErrorBar]
    method: str
    model_level: str


class WarmUpPoint(Entity):
    """Mean cents by register after some minutes of playing."""

    minutes: float
    reed_end_c: float
    mean_cents: dict[str, float]


class ParameterEffect(Entity):
    """Mean cents per unit of one parameter, by register."""

    parameter: str
    unit: str
    cents_per_unit: dict[str, float]


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


class Finding(Entity):
    """Something the checks noticed: where, what, and what to do."""

    severity: Severity
    place: Where
    what: Said
    remedy: Said


class SolidPart(Entity):
    """One exported body (mm, mm³)."""

    part: str
    step: str
    stl: str
    three_mf: str = Field(alias="3mf")
    volume_mm3: float
    watertight: bool
    valid: bool
    bounding_box_mm: tuple[float, float, float]

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class SolidsReport(Entity):
    """All exported bodies, and the file in which they stand together."""

    parts: list[SolidPart]
    assembly: str = ""


FitResult.model_rebuild()
