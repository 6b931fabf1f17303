"""What the owner frees for a fit, and the process limits that bodies must keep."""

from __future__ import annotations

from pydantic import field_validator

from borewright.errors import RefusedValue
from borewright.model.base import Entity, Finite, NotNegative, Positive
from borewright.model.kinds import Register
from borewright.words import say

#: Dimensions a fit may free, as ``PATTERN.dimension``; PATTERN is a part, a hole or ``*``.
FREE_DIMENSIONS = (
    "station",
    "diameter",
    "chimney",
    "length",
    "bore_station",
    "bore_diameter",
    "undercut_diameter",
)


class FitWishes(Entity):
    """Free dimensions, their limits, and weights (mm, cents).

    ``free`` lists words like ``hole.station``, ``hole.diameter``, ``L3.chimney``,
    ``barrel.length`` or ``bell.bore_diameter``: a part, a hole or ``hole`` for all holes,
    a dot, and the dimension. Limits not given by the keywork come from here.
    ``largest_vent_mm`` holds for lined vents (register tubes). ``weights`` scale the cents of
    a register, ``alternate_weight`` those of alternates; ``evenness_weight`` counts the step
    between neighbouring notes; ``keep_close`` draws dimensions to where they started.
    """

    free: list[str] = ["hole.station", "hole.diameter"]
    finger_hole_window_mm: NotNegative = 3.0
    unkeyed_pad_window_mm: NotNegative = 1.0
    smallest_hole_mm: Positive = 2.5
    largest_finger_hole_mm: Positive = 9.6
    largest_vent_mm: Positive = 3.4
    pad_overlap_mm: Positive = 1.0
    chimney_wall_mm: Positive = 1.2
    wall_between_holes_mm: Positive = 1.5
    lowest_chimney_mm: Finite = -2.5
    highest_chimney_mm: Positive = 3.0
    chimney_window_mm: NotNegative = 0.6
    length_window_mm: NotNegative = 3.0
    bore_window_mm: NotNegative = 0.3
    bore_station_window_mm: NotNegative = 10.0
    weights: dict[Register, NotNegative] = {}
    alternate_weight: NotNegative = 0.4
    evenness_weight: NotNegative = 0.2
    tolerance_cents: Positive = 10.0
    alternate_tolerance_cents: Positive = 20.0
    keep_close: NotNegative = 0.3

    @field_validator("free")
    @classmethod
    def _known_dimensions(cls, free: list[str]) -> list[str]:
        for wish in free:
            owner, dot, dimension = wish.rpartition(".")
            if not dot or not owner or dimension not in FREE_DIMENSIONS:
                raise RefusedValue(
                    say("'{wish}' frees nothing that is known", wish=wish),
                    say(
                        "Write a part or hole (or 'hole' for all holes), a dot, and one of: "
                        "{dimensions}.",
                        dimensions=", ".join(FREE_DIMENSIONS),
                    ),
                )
        return free
