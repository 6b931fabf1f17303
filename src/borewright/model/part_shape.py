"""What a part consists of: bore, outside, joints and tone holes; nothing is checked yet."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from borewright.errors import RefusedValue
from borewright.model.base import Entity, Name, NotNegative, Positive
from borewright.model.body_features import ThumbRest
from borewright.model.bounds import (
    Bounded,
    GrooveDepth,
    GrooveLength,
    JointDiameter,
    RingSeatLength,
    SocketDepth,
    TenonLength,
)
from borewright.model.hole import ToneHole
from borewright.model.kinds import Clearance
from borewright.model.profile import Profile, diameter_at
from borewright.words import say


class Tenon(Entity):
    """The male end of a joint (mm); it reaches ``length_mm`` beyond the shoulder.

    ``clearance`` is its class of fit; without one it is cork where there is a groove for
    it, otherwise a slip fit.
    """

    length_mm: TenonLength
    diameter_mm: JointDiameter
    cork_length_mm: GrooveLength = 0.0
    cork_depth_mm: GrooveDepth = 0.0
    clearance: Clearance | None = None

    @property
    def core_mm(self) -> float:
        """Its diameter under the cork, where it has a groove."""
        return self.diameter_mm - (2 * self.cork_depth_mm if self.cork_length_mm else 0.0)

    @property
    def clearance_class(self) -> Clearance:
        """The class of fit given, or the one that the tenon's shape tells."""
        if self.clearance is not None:
            return self.clearance
        return Clearance.CORK if self.cork_length_mm and self.cork_depth_mm else Clearance.SLIP

    @model_validator(mode="after")
    def _groove_fits(self) -> Tenon:
        if self.cork_length_mm >= self.length_mm:
            raise RefusedValue(
                say(
                    "the cork groove ({cork_length_mm:g} mm) is as long as the tenon "
                    "({length_mm:g} mm)",
                    cork_length_mm=self.cork_length_mm,
                    length_mm=self.length_mm,
                ),
                say("Leave about 2 mm of tenon at each end."),
            )
        return self


class Socket(Entity):
    """The female end of a joint (mm), bored from the part's end to ``depth_mm``.

    A metal or fibre ring that keeps it from splitting sits on a seat turned down outside:
    ``ring_length_mm`` long, ``ring_inside_mm`` across; 0 for no ring.
    """

    depth_mm: SocketDepth
    diameter_mm: JointDiameter
    ring_length_mm: RingSeatLength = 0.0
    ring_inside_mm: Annotated[NotNegative, Bounded("ring_seat_mm")] = 0.0

    @model_validator(mode="after")
    def _ring_is_whole(self) -> Socket:
        if bool(self.ring_length_mm) != bool(self.ring_inside_mm):
            raise RefusedValue(
                say("a ring's seat needs both ring_length_mm and ring_inside_mm"),
                say("Give both, or leave both out."),
            )
        return self


class PartShape(Entity):
    """Sizes of a part (mm), as :class:`~borewright.model.part.Part` describes them."""

    name: Name
    length_mm: Positive
    bore: Profile
    outside: Profile
    tenon_top: Tenon | None = None
    tenon_bottom: Tenon | None = None
    socket_top: Socket | None = None
    socket_bottom: Socket | None = None
    thumb_rest: ThumbRest | None = None
    holes: Annotated[list[ToneHole], Field(max_length=200)] = []

    def bore_diameter_at(self, station_mm: float, side: int = 1) -> float:
        """Bore diameter (mm) at a station; at a step ``side`` -1 is above it, 1 below."""
        return diameter_at(self.bore, station_mm, side)

    def outside_diameter_at(self, station_mm: float, side: int = 1) -> float:
        """Outside diameter (mm) at a station; at a step ``side`` -1 is above it, 1 below."""
        return diameter_at(self.outside, station_mm, side)

    def tube_height_mm(self, hole: ToneHole) -> float:
        """Height (mm) of a hole's tube, from the bore wall to the outer rim, lining included."""
        wall = self.outside_diameter_at(hole.station_mm) - self.bore_diameter_at(hole.station_mm)
        return wall / 2 + hole.chimney_mm + hole.into_bore_mm

    def hole(self, name: str) -> ToneHole:
        """The hole of that name; KeyError where there is none."""
        for hole in self.holes:
            if hole.name == name:
                return hole
        raise KeyError(name)
