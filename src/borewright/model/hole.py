"""Tone holes and what covers them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from borewright.errors import RefusedValue
from borewright.model.base import Entity, Finite, HoleName, NotNegative
from borewright.model.bounds import (
    Bounded,
    Chimney,
    HoleDiameter,
    PadDiameter,
    PadLift,
    UndercutDepth,
)
from borewright.model.kinds import Cover, Rest
from borewright.words import say

#: Room beside a pad in its counterbore, on the radius (mm; from memory).
PAD_CLEARANCE_MM = 0.5
#: Width of the flat around a sunk finger hole, enough for a finger's ball (mm; from memory).
FINGER_FLAT_MM = 2.5
#: How much wider (mm) a counterbore is than the ring that carries the rim, or a lip is left.
_BESIDE_RING_MM = 0.1


class Pad(Entity):
    """A pad over a tone hole (mm)."""

    diameter_mm: PadDiameter
    lift_mm: PadLift
    rest: Rest


class Undercut(Entity):
    """A hole widened at the bore: a cone from ``diameter_mm`` at the bore, ``depth_mm`` deep."""

    diameter_mm: HoleDiameter
    depth_mm: UndercutDepth


class ToneHole(Entity):
    """A side hole of a part (mm, degrees).

    ``station_mm`` is measured from the part's top shoulder to the hole's centre;
    ``bearing_deg`` runs round the axis, 0 at the front, positive towards the player's left
    seen from the top. ``chimney_mm`` is how far the rim stands beyond the body's outside
    (negative: a seat sunk in a counterbore). ``into_bore_mm`` is how far a lining tube
    stands into the bore (register vents). Tube height is derived, never typed.
    """

    name: HoleName
    station_mm: Finite
    diameter_mm: HoleDiameter
    bearing_deg: Annotated[Finite, Field(ge=-180, le=180)] = 0.0
    chimney_mm: Chimney = 0.0
    into_bore_mm: Annotated[NotNegative, Bounded("into_bore_mm")] = 0.0
    cover: Cover = Cover.FINGER
    pad: Pad | None = None
    undercut: Undercut | None = None

    @model_validator(mode="after")
    def _cover_and_pad_agree(self) -> ToneHole:
        if self.cover is Cover.PAD and self.pad is None:
            raise RefusedValue(
                say("cover is 'pad' but the pad is missing"),
                say("Add pad = {{ diameter_mm = …, lift_mm = …, rest = 'open' or 'closed' }}."),
            )
        if self.cover is not Cover.PAD and self.pad is not None:
            raise RefusedValue(
                say("a pad is given but cover is '{cover}'", cover=self.cover.value),
                say("Set cover = 'pad' or remove the pad."),
            )
        if self.pad is not None and self.pad.diameter_mm <= self.diameter_mm:
            raise RefusedValue(
                say(
                    "the pad ({pad_mm:g} mm) does not cover the hole ({hole_mm:g} mm)",
                    pad_mm=self.pad.diameter_mm,
                    hole_mm=self.diameter_mm,
                ),
                say("A pad is 3 to 5 mm larger than its hole."),
            )
        if self.pad is not None and self.pad.lift_mm == 0:
            raise RefusedValue(
                say("the pad's lift is 0, so the hole could never open"),
                say("Give the lift when open, about a third of the hole's diameter or more."),
            )
        if self.undercut is not None and self.undercut.diameter_mm < self.diameter_mm:
            raise RefusedValue(
                say(
                    "the undercut ({undercut_mm:g} mm at the bore) is narrower than the hole "
                    "({hole_mm:g} mm)",
                    undercut_mm=self.undercut.diameter_mm,
                    hole_mm=self.diameter_mm,
                ),
                say("An undercut widens the hole at the bore."),
            )
        return self

    @property
    def mouth_diameter_mm(self) -> float:
        """Diameter (mm) where the hole meets the bore: the undercut's, if there is one."""
        return self.undercut.diameter_mm if self.undercut else self.diameter_mm

    def seat_radius_mm(self, wall_mm: float) -> float:
        """Radius (mm) of the counterbore of a sunk seat whose rim has the wall ``wall_mm``."""
        if self.pad:
            wanted = self.pad.diameter_mm / 2 + PAD_CLEARANCE_MM
        else:
            wanted = self.diameter_mm / 2 + FINGER_FLAT_MM
        return max(wanted, self.diameter_mm / 2 + wall_mm + _BESIDE_RING_MM)
