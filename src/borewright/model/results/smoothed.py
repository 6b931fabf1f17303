"""A smoothed bore: what kinds of lengths it is made of, and how sure that is."""

from __future__ import annotations

from enum import StrEnum

from borewright.model.base import Entity
from borewright.model.results.campaign import Interval
from borewright.words import Said


class SegmentKind(StrEnum):
    """What a length of bore is."""

    CYLINDER = "cylinder"
    CONE = "cone"
    FLARE = "flare"  # free in form


class BreakKind(StrEnum):
    """What happens between two lengths of bore."""

    BEND = "bend"  # the taper changes
    STEP = "step"  # the diameter changes at once
    FLARE_START = "flare start"


class BoreBreak(Entity):
    """Where the bore changes: station (mm) with its 95 % interval."""

    kind: BreakKind
    station_mm: Interval
    step_mm: Interval | None = None


class BoreSegment(Entity):
    """A length of bore: diameters (mm) at its two ends with 95 % intervals.

    ``taper`` is diameter per length, positive where the bore widens downwards; None for
    cylinders (it is 0) and for flares.
    """

    kind: SegmentKind
    from_mm: float
    to_mm: float
    top_diameter_mm: Interval
    bottom_diameter_mm: Interval
    taper: Interval | None = None


class Fitted(Entity):
    """One reading beside the smoothed bore (mm)."""

    station_mm: float
    diameter_mm: float
    smoothed_mm: float
    uncertainty_mm: float
    reached_from: str


class Tried(Entity):
    """A shape that was tried, in words, and its criterion; the lowest is taken."""

    shape: str
    criterion: float


class SmoothedBore(Entity):
    """A measured part, smoothed.

    ``scatter_mm`` is the standard deviation of the readings about the smoothed bore,
    ``inflation`` the factor by which the readings scatter more than their gauge should (1
    where they do not); every interval has been widened by it. ``profile`` is (station,
    diameter, low, high) in mm, straight lines within 0.005 mm.
    """

    name: str
    length_mm: float | None
    segments: list[BoreSegment]
    breaks: list[BoreBreak]
    profile: list[tuple[float, float, float, float]]
    readings: list[Fitted]
    scatter_mm: float
    inflation: float
    uncertainty_given: bool
    tried: list[Tried]
    notices: list[Said]

    @property
    def flare_start(self) -> BoreBreak | None:
        """Where the flare begins, if it begins inside the part."""
        for each in self.breaks:
            if each.kind is BreakKind.FLARE_START:
                return each
        return None

    def line(self) -> list[tuple[float, float]]:
        """The profile as (station, diameter), to 0.001 mm, as a part's bore takes it."""
        return [(round(s, 3), round(d, 3)) for s, d, _, _ in self.profile]
