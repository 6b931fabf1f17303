"""The whole instrument in place: bodies, pads as discs and posts as pins, for the picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from borewright.model import Instrument, Rest
from borewright.solids._plan import rod
from borewright.solids.posts import PostPlan
from borewright.words import Message, say

if TYPE_CHECKING:
    from build123d import Compound, Solid

    from borewright.keywork import Mechanism

#: Thickness of a pad with its cup (mm), and a post's pin above its base, for show.
PAD_THICKNESS_MM = 3.0
POST_HEIGHT_MM = 6.0
POST_PIN_MM = 3.5


@dataclass(frozen=True)
class Pin:
    """A radial cylinder on the assembled instrument (mm, degrees): a pad's disc or a post.

    ``name`` is that of the pad's hole, or the post's own.
    """

    name: str
    kind: Literal["pad", "post"]
    station_mm: float
    bearing_deg: float
    radius_mm: float
    low_mm: float
    high_mm: float

    @property
    def words(self) -> Message:
        """What it is, with its name."""
        if self.kind == "pad":
            return say("pad {hole}", hole=self.name)
        return say("post {post}", post=self.name)


def pads_and_posts(instrument: Instrument, posts: Sequence[PostPlan] = ()) -> list[Pin]:
    """Pads as they rest, and posts; stations from the top of the first part.

    A post is a pin on its base; its shank in the body does not show.
    """
    pins = []
    for part, hole, station in instrument.placed_holes():
        if hole.pad:
            rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
            low = rim + (hole.pad.lift_mm if hole.pad.rest is Rest.OPEN else 0.0)
            pins.append(
                Pin(
                    hole.name,
                    "pad",
                    station,
                    hole.bearing_deg,
                    hole.pad.diameter_mm / 2,
                    low,
                    low + PAD_THICKNESS_MM,
                )
            )
    for post in posts:
        station = instrument.offset_mm(post.part) + post.station_mm
        pins.append(
            Pin(
                post.name,
                "post",
                station,
                post.bearing_deg,
                POST_PIN_MM / 2,
                post.base_mm,
                post.base_mm + POST_HEIGHT_MM,
            )
        )
    return pins


def assembled(
    instrument: Instrument,
    bodies: Mapping[str, Solid],
    posts: Sequence[PostPlan] = (),
    keys: Mechanism | None = None,
) -> Compound:
    """Bodies (by part name) and keys as one labelled assembly, z from the top.

    Where no keys are given, pads stand as discs and posts as pins.
    """
    from build123d import Compound, Pos

    from borewright.solids import _kernel

    children = []
    for part in instrument.parts:
        placed = bodies[part.name].moved(Pos(0, 0, instrument.offset_mm(part.name)))
        placed.label = part.name
        children.append(placed)
    if keys is not None:
        from borewright.solids.keys import key_solids

        return Compound(label=instrument.name, children=[*children, *key_solids(keys)])
    for pin in pads_and_posts(instrument, posts):
        solid = _kernel.round_tool(rod(pin.radius_mm, pin.low_mm, pin.high_mm), pin)
        solid.label = str(pin.words)
        children.append(solid)
    return Compound(label=instrument.name, children=children)
