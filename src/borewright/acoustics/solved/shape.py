"""What a side hole looks like to the 3-D solution: one frozen record of its sizes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

#: Bores that widen by less than this (mm a mm) are solved as cylinders: lengths change with
#: the slope's square only, here by 2e-5 mm of series and 2e-4 mm of shunt length.
FLAT_SLOPE = 1e-2


class HoleCover(StrEnum):
    """What is above a hole: nothing, a pad or a finger."""

    NONE = "none"
    PAD = "pad"
    FINGER = "finger"


@dataclass(frozen=True)
class HoleShape:
    """Sizes of one side hole and what surrounds it (mm; slopes are pure numbers).

    The hole's axis is perpendicular to the bore's. The **rim plane**, which ends the hole's
    tube, is ``bore_radius_mm + height_mm`` from the bore's axis.

    Parameters
    ----------
    bore_radius_mm
        Bore at the hole's centre.
    radius_mm
        The hole itself.
    height_mm
        From the bore's wall on the hole's centre line to the rim plane, without lining.
    bore_slope
        dr/dx of the bore; 0 is a cylinder.
    undercut_radius_mm, undercut_depth_mm
        Mouth and depth of an undercut: as wide as the mouth up to the bore's wall on the
        centre line (or the lining's end), then a cone. Both 0: none.
    undercut_straight_mm
        How far beyond that it keeps the mouth's width before the cone begins. 0: a conical
        undercut; as much as its depth: a cylindrical one, which ends in a ledge.
    body_radius_mm
        Curvature of the outside, whose crown is ``chimney_mm`` below the rim plane.
        ``None``: an infinite flat baffle there.
    chimney_mm
        How far the rim stands beyond the outside; negative: a seat sunk in a counterbore.
    chimney_wall_mm
        Wall of the chimney, or flat land of a seat. 0: drilled straight through, the rim
        follows the body's curve.
    counterbore_radius_mm, seat_relief_mm
        Of a sunk seat, otherwise 0: its counterbore, and how far the floor beside the land
        lies below the rim plane.
    cover
        What lies above the hole when open and what closes it.
    pad_radius_mm, lift_mm, pad_thickness_mm
        A rigid disc parallel to the rim plane, its face ``lift_mm`` above it when open.
        A pad that closes lies in the rim plane.
    flesh_mm
        How deep a closing finger bulges into the hole, at the centre (from memory: about half
        a millimetre for playing pressure on a 7 to 9 mm hole).
    into_bore_mm, lining_radius_mm
        How far a lining tube stands into the bore, and its outer radius. 0: none.
    """

    bore_radius_mm: float
    radius_mm: float
    height_mm: float
    bore_slope: float = 0.0
    undercut_radius_mm: float = 0.0
    undercut_depth_mm: float = 0.0
    body_radius_mm: float | None = None
    chimney_mm: float = 0.0
    chimney_wall_mm: float = 0.0
    counterbore_radius_mm: float = 0.0
    seat_relief_mm: float = 0.0
    cover: HoleCover = HoleCover.NONE
    pad_radius_mm: float = 0.0
    lift_mm: float = 0.0
    pad_thickness_mm: float = 2.0
    flesh_mm: float = 0.5
    into_bore_mm: float = 0.0
    lining_radius_mm: float = 0.0
    undercut_straight_mm: float = 0.0

    @property
    def rim_mm(self) -> float:
        """Distance (mm) of the rim plane from the bore's axis."""
        return self.bore_radius_mm + self.height_mm

    @property
    def crown_mm(self) -> float:
        """Distance (mm) of the outside from the bore's axis, on the hole's centre line."""
        return self.rim_mm - self.chimney_mm

    @property
    def inner_end_mm(self) -> float:
        """Distance (mm) of the tube's inner end from the bore's axis, on the centre line."""
        return self.bore_radius_mm - self.into_bore_mm

    @property
    def mouth_radius_mm(self) -> float:
        """Radius (mm) of the tube's inner end."""
        return self.undercut_radius_mm or self.radius_mm

    @property
    def reach_mm(self) -> float:
        """How far (mm) from its axis the hole disturbs the bore's wall or air."""
        return max(self.mouth_radius_mm, self.lining_radius_mm)

    @property
    def is_conical(self) -> bool:
        """Whether the bore's slope counts; a cylinder is symmetric about the hole's plane too."""
        return abs(self.bore_slope) >= FLAT_SLOPE

    @property
    def is_drilled(self) -> bool:
        """Whether the rim follows a curved outside."""
        return (
            self.body_radius_mm is not None and self.chimney_mm == 0 and self.chimney_wall_mm == 0
        )
