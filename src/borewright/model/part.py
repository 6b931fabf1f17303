"""A part of the instrument, checked when it is made."""

from __future__ import annotations

from pydantic import model_validator

from borewright.errors import RefusedValue
from borewright.model.part_checks import (
    check_ends,
    check_hole,
    check_overlaps,
    check_profile,
    check_units,
    check_walls,
)
from borewright.model.part_shape import PartShape, Socket, Tenon
from borewright.model.profile import Profile, diameter_at
from borewright.model.relations import check_joints
from borewright.words import say

__all__ = ["Part", "Profile", "Socket", "Tenon", "diameter_at"]


class Part(PartShape):
    """One body part, measured on the bench from its top shoulder (mm).

    ``bore`` and ``outside`` are lists of (station, diameter) joined by straight lines; a
    repeated station is a step. Both cover the body from 0 to ``length_mm`` at least; the
    bore of a tenon may be listed with stations outside that range, otherwise the last
    diameter goes on through it.
    """

    @model_validator(mode="after")
    def _sound(self) -> Part:
        check_units(self)
        check_profile("bore", self.bore, self.length_mm)
        check_profile("outside", self.outside, self.length_mm)
        check_walls(self)
        check_ends(self)
        check_joints(self)
        seen: set[str] = set()
        for hole in self.holes:
            if hole.name in seen:
                raise RefusedValue(
                    say("the hole name '{hole}' appears twice", hole=hole.name),
                    say("Give each hole its own."),
                )
            seen.add(hole.name)
            check_hole(self, hole)
        check_overlaps(self)
        return self
