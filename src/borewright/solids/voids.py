"""Every hollow of a part as simple shapes, for whoever checks the walls between them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from borewright.model import Instrument, Part
from borewright.solids._attachments import MARK_LENGTH_MM, mark_spots, rest_floor_mm, screws
from borewright.solids._marking import place_text
from borewright.solids._profiles import inside_outline, outside_outline, radius_range
from borewright.solids.body import plan_holes
from borewright.solids.posts import PostPlan
from borewright.words import Message, say

Outline = list[tuple[float, float]]


@dataclass(frozen=True)
class Void:
    """A radial cylinder of air in a part (mm, degrees).

    It runs from ``low_mm`` to ``high_mm`` from the bore's axis. ``owner`` is the name of the
    hole or post, and empty for a screw, which is the thumb rest's.
    """

    kind: Literal["hole", "seat", "post", "screw"]
    owner: str
    station_mm: float
    bearing_deg: float
    radius_mm: float
    low_mm: float
    high_mm: float

    @property
    def words(self) -> Message:
        """What it is, with its owner's name."""
        if self.kind == "hole":
            return say("hole '{hole}'", hole=self.owner)
        if self.kind == "seat":
            return say("seat of hole '{hole}'", hole=self.owner)
        if self.kind == "post":
            return say("post '{post}'", post=self.owner)
        return say("screw of the thumb rest")


@dataclass(frozen=True)
class Engraving:
    """Text or an alignment mark cut into the outside (mm): its extent, and what it leaves.

    ``wall_mm`` is the least wall from the floor of the cut to the bore or socket under it.
    """

    words: Message
    first_mm: float
    last_mm: float
    wall_mm: float


def outlines(part: Part, instrument: Instrument | None = None) -> tuple[Outline, Outline]:
    """Outside and inside of a part as (radius, station) points in mm, from top to bottom.

    With an instrument, its ``body`` table's edges and fillets are in the outlines.
    """
    features = instrument.body if instrument else None
    return outside_outline(part, features), inside_outline(part, features)


def voids(instrument: Instrument, part: Part, posts: Sequence[PostPlan] = ()) -> list[Void]:
    """Tone holes, sunk seats, posts' holes and the thumb rest's screws of one part."""
    found = []
    for plan in plan_holes(instrument, part):
        hole = plan.hole
        place = (hole.name, hole.station_mm, hole.bearing_deg)
        wide = max(hole.mouth_diameter_mm, hole.diameter_mm) / 2
        if hole.undercut:
            low, knee = plan.mouth_mm, plan.inner_end_mm + hole.undercut.depth_mm
            found.append(Void("hole", *place, wide, low, knee))
        found.append(Void("hole", *place, hole.diameter_mm / 2, plan.mouth_mm, plan.rim_mm))
        if plan.seat:
            radius = plan.seat_radius_mm
            high = part.outside_diameter_at(hole.station_mm) / 2
            found.append(Void("seat", *place, radius, plan.seat_floor_mm, high))
    for post in posts:
        if post.part == part.name and post.hole_mm:
            high = part.outside_diameter_at(post.station_mm) / 2
            place = (post.name, post.station_mm, post.bearing_deg)
            found.append(Void("post", *place, post.hole_mm / 2, post.floor_mm, high))
    if part.thumb_rest:
        floor = rest_floor_mm(part)
        low = floor - part.thumb_rest.screw_depth_mm
        for spot in screws(part):
            place = ("", spot.station_mm, spot.bearing_deg)
            found.append(Void("screw", *place, part.thumb_rest.screw_diameter_mm / 2, low, floor))
    return found


def engravings(
    instrument: Instrument, part: Part, posts: Sequence[PostPlan] = ()
) -> list[Engraving]:
    """Everything cut into a part's outside to be read, with the wall left under it."""
    outside, inside = outlines(part)
    found = []

    def cut(words: Message, first: float, length: float, pieces: int) -> None:
        """Wall piece by piece: text follows a straight outside, a mark is cut on one level."""
        edges = np.linspace(first + 0.01, first + length - 0.01, pieces + 1)
        walls = [
            radius_range(outside, low, high)[0] - radius_range(inside, low, high)[1]
            for low, high in itertools.pairwise(edges)
        ]
        wall = min(walls) - instrument.body.mark_depth_mm
        found.append(Engraving(words, first, first + length, wall))

    for spot in mark_spots(part, instrument.body):
        first = max(spot.station_mm - MARK_LENGTH_MM / 2, 0.0)
        cut(say("the alignment mark"), first, MARK_LENGTH_MM, 1)
    own = [post for post in posts if post.part == part.name]
    text = place_text(instrument, part, plan_holes(instrument, part), own)
    if text:
        words = say("the text '{text}'", text=text.text)
        cut(words, text.station_mm, text.width_mm, math.ceil(text.width_mm))
    return found
