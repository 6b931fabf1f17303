"""What a study of a batch tells: how many will do as they are, what spoils the others."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.words import Said


class Share(Entity):
    """A share of counted builds with its 95 % interval (score interval, E. B. Wilson, 1927)."""

    count: int
    of: int
    low: float
    high: float

    @property
    def value(self) -> float:
        """The share itself, 0 to 1; 0 of nothing is 0."""
        return self.count / self.of if self.of else 0.0


class NoteYield(Entity):
    """One counted fingering: where the design has it, its scatter, and how often it is off.

    ``design_cents`` counts from what deviations are judged against; ``off`` is the share of all
    builds in which this note is outside the tolerance.
    """

    fingering: str
    design_cents: float
    scatter_cents: float
    off: float


class WhatIf(Entity):
    """The same builds with some scatters changed.

    ``gained`` is the share of builds that turn good less those that turn bad, ``sure`` half its
    95 % interval: the same builds are compared, so it is surer than two yields would be.
    """

    share: Share
    gained: float
    sure: float


class Culprit(Entity):
    """A kind of dimension, or a single one: its share of the variance, and what it spoils.

    ``together`` tells the scatter that all dimensions of the kind share, as a printer or a lot
    has it, from that of each alone. ``variance_share`` is of the mean variance of all counted
    notes (first order). ``perfect`` is the yield if this one had no scatter.
    """

    what: Said
    measure: str
    dimension: str = ""
    together: bool = False
    scatter_mm: float
    variance_share: float
    perfect: WhatIf


class Allotted(Entity):
    """What one kind of dimension may scatter (mm, one standard deviation) for a wanted yield."""

    measure: str
    what: Said
    now_common_mm: float
    now_each_mm: float
    common_mm: float
    each_mm: float


class Allotment(Entity):
    """Scatters by kind that give a wanted yield at least cost, and the yield they give."""

    wanted: float
    reached: bool
    kinds: list[Allotted]
    share: Share


class BatchOutlook(Entity):
    """How many of a batch will do as they are: its mean, and the range of 90 % of batches."""

    instruments: int
    mean: float
    low: int
    high: int


class YieldResult(Entity):
    """A batch's yield and all that was learnt on the way.

    ``first_order`` is the yield that the derivatives alone foretell for the same builds,
    ``first_order_rms_cents`` how far their cents are off those of the engine.
    ``precision_cents`` is the largest difference of ``checked`` builds that were solved anew by
    the counting sweep in double precision; None where none was checked, or where one of both
    lost a note that the other has.
    """

    instrument: str
    digest: str
    within_cents: float
    against_design: bool
    barrel_mm: float
    seed: int
    good: Share
    beyond: Share
    beyond_cents: float
    lost: int
    notes_off: float
    notes: list[NoteYield]
    design_off: list[str]
    kinds: list[Culprit]
    singles: list[Culprit]
    telling: list[str]
    telling_share: float
    outlook: BatchOutlook
    allotment: Allotment | None
    first_order: Share
    first_order_rms_cents: float
    precision_cents: float | None
    checked: int
    by_sweep: int
    curve: list[tuple[float, float]]
    model_level: Said
    climate: Said


class WayYield(Entity):
    """Another way of making: the same builds by it.

    ``notes_off`` and ``beyond`` are means over all builds: notes outside the tolerance that hands
    can put right, and the share that nobody can. ``checked_cents`` is how far builds solved anew
    in this way lie off those moved along the derivatives (root mean square), None where it was
    not asked.
    """

    name: str
    what: list[Said]
    what_if: WhatIf
    notes_off: float
    beyond: float
    checked_cents: float | None = None


class BatchDesign(Entity):
    """One design as a batch: its nominal tuning, and the share that will do (engine)."""

    rms_cents: float
    worst_cents: float
    worst_note: str
    share: Share


class BatchFitResult(Entity):
    """The design whose nominal is best, and the one whose batch is.

    ``gained`` compares the same builds of both, drawn anew: not those that chose the weights.
    ``weights`` are those of fingerings that led to it, by name, where they differ from 1;
    ``rounds`` the yields on the way, by derivatives. ``better`` is whether the batch's design
    gains more than its own uncertainty; otherwise the nominal one stays.
    """

    instrument: str
    within_cents: float
    builds: int
    nominal: BatchDesign
    batch: BatchDesign
    gained: float
    sure: float
    better: bool
    weights: dict[str, float]
    rounds: list[float]
    model_level: Said
