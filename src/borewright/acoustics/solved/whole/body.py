"""A resonator as the 3-D reference sees it: bore, outside and holes on one axis (mm)."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from borewright.acoustics.request import masks_of
from borewright.acoustics.solved.from_model import shape_of
from borewright.acoustics.solved.shape import HoleShape
from borewright.acoustics.solved.shape_checks import check_shape
from borewright.errors import AcousticsError
from borewright.model import BottomEnd, Instrument
from borewright.words import say

Outline = tuple[tuple[float, float], ...]

#: Thickness (mm) of what closes the bore, beyond its end.
LID_MM = 3.0
#: A corner that turns by less (rad) is a smooth flare to the air.
_SHARP = 0.35
_CLOSE_MM = 1e-6


@dataclass(frozen=True)
class PlacedHole:
    """One hole: its shape, distance (mm) from the top of the bore, bearing (rad), state."""

    name: str
    shape: HoleShape
    station_mm: float
    bearing: float
    is_open: bool


@dataclass(frozen=True)
class Body:
    """Bore and outside as lists of (distance from the top of the bore, radius), and holes."""

    bore: Outline
    outside: Outline
    holes: tuple[PlacedHole, ...]
    bottom_is_closed: bool = False

    @property
    def length_mm(self) -> float:
        """Length of the bore."""
        return self.bore[-1][0]

    @property
    def ends_mm(self) -> tuple[float, float]:
        """Where the body begins and ends, lids included."""
        return self.outside[0][0], self.outside[-1][0]

    @property
    def middle_mm(self) -> float:
        """Middle of the body, the centre of the outer sphere."""
        return sum(self.ends_mm) / 2

    @property
    def top_radius_mm(self) -> float:
        """Radius of the bore at its top."""
        return self.bore[0][1]

    @property
    def narrowest_mm(self) -> float:
        """Least radius of the bore."""
        return min(radius for _, radius in self.bore)

    @property
    def widest_mm(self) -> float:
        """Greatest radius of the outside."""
        return max(radius for _, radius in self.outside)

    @property
    def is_round(self) -> bool:
        """Whether there is nothing but bore and outside."""
        return not self.holes

    def far_radius_mm(self, outer_end: float) -> float:
        """Radius (mm) of the outer boundary: ``outer_end`` times half the body's length."""
        start, end = self.ends_mm
        half = (end - start) / 2
        return outer_end * max(math.hypot(half, self.widest_mm), 3 * self.widest_mm)

    def air_side(self) -> list[tuple[float, float]]:
        """The body's outline in a half plane, from the axis at the top round to the axis."""
        start = self.ends_mm[0]
        back = reversed(self.outside)
        if self.bottom_is_closed:
            raise AcousticsError(
                say("air that is closed on all sides has no outside"),
                place="bottom_end",
                remedy=say("Open a hole."),
            )
        points = [(0.0, 0.0), *self.bore, *back, (start, 0.0)]
        return [
            point
            for before, point in zip([(math.inf, 0.0), *points], points, strict=False)
            if math.dist(before, point) > _CLOSE_MM
        ]

    def sharp_corners(self) -> list[tuple[float, float]]:
        """Corners of the outline that stick out into the air."""
        points = self.air_side()
        corners = []
        for before, point, after in zip(points, points[1:], points[2:], strict=False):
            one = (point[0] - before[0], point[1] - before[1])
            two = (after[0] - point[0], after[1] - point[1])
            # The air is on the right hand, walking along the outline: left turns stick out.
            turn = math.atan2(one[0] * two[1] - one[1] * two[0], one[0] * two[0] + one[1] * two[1])
            if turn > _SHARP:
                corners.append(point)
        return corners


def body_length_mm(instrument: Instrument) -> float:
    """Length (mm) of an instrument's bore, the mouthpiece's and joints drawn apart included."""
    above = instrument.mouthpiece.bore_length_mm if instrument.mouthpiece else 0.0
    return instrument.length_mm + sum(instrument.joint_gaps_mm()) + above


@cache
def _assembled() -> Callable[..., Any]:
    from borewright.acoustics.compilation import compiled
    from borewright.acoustics.geometry import slices_and_holes

    return compiled(slices_and_holes, static_argnums=(0,))


def body_of(instrument: Instrument, open_holes: Sequence[str]) -> Body:
    """The body of an instrument with some holes open, all others closed.

    The bore is the engine's own, joints and mouthpiece's bore included; the outside is the
    parts', without what is turned or fused on (rings, posts, marks).

    Raises
    ------
    AcousticsError
        For an unknown hole, a bottom end that is no real one, a hole that cannot be, or a
        bore that comes through the outside.
    """
    from borewright.acoustics.structure import numbers_of, structure_of

    is_open = masks_of(instrument, [open_holes])[0]
    if instrument.bottom_end not in (BottomEnd.RADIATING, BottomEnd.CLOSED):
        raise AcousticsError(
            say(
                "bottom_end is '{bottom_end}', which no real instrument has",
                bottom_end=instrument.bottom_end.value,
            ),
            place=(say("'{instrument}'", instrument=instrument.name), "bottom_end"),
            remedy=say("The reference solves 'radiating' and 'closed'."),
        )
    structure = structure_of(instrument)
    slices, _, ends, _ = _assembled()(structure, numbers_of(instrument))
    above = 1e3 * float(ends.above)
    length, top, bottom = (
        1e3 * np.asarray(column)
        for column in (slices.length, slices.radius_top, slices.radius_bottom)
    )
    bore: list[tuple[float, float]] = []
    x = 0.0
    for run, first, second in zip(length, top, bottom, strict=True):
        if run > _CLOSE_MM:
            bore += [(x, float(first)), (x + float(run), float(second))]
            x += float(run)
    outside: list[tuple[float, float]] = []
    offset = above
    apart = {}
    drawn = 0.0
    for part, gap in zip(instrument.parts, instrument.joint_gaps_mm(), strict=True):
        outside += [
            (offset + min(max(station, 0.0), part.length_mm), diameter / 2)
            for station, diameter in part.outside
        ]
        # The tenon that shows in a joint drawn apart is taken as thick as the parts beside it.
        offset += part.length_mm + gap
        apart[part.name] = drawn
        drawn += gap
    closed = instrument.bottom_end is BottomEnd.CLOSED
    outside = [(-LID_MM, outside[0][1]), *outside]
    if closed:
        outside.append((outside[-1][0] + LID_MM, outside[-1][1]))
    holes = []
    for (part, hole, station), opened in zip(instrument.placed_holes(), is_open, strict=True):
        shape = shape_of(instrument, hole.name)
        check_shape(shape, "open" if opened else "closed", place=f"hole '{hole.name}'")
        bearing = math.radians(hole.bearing_deg)
        along = above + station + apart[part.name]
        holes.append(PlacedHole(hole.name, shape, along, bearing, bool(opened)))
    body = Body(_simplified(bore), _simplified(outside), tuple(holes), closed)
    _check_wall(body, instrument.name)
    return body


def _simplified(points: list[tuple[float, float]]) -> Outline:
    """Without repeated points and points on a straight line between their neighbours."""
    kept: list[tuple[float, float]] = []
    for point in points:
        if kept and math.dist(kept[-1], point) < _CLOSE_MM:
            continue
        while len(kept) > 1 and _bend_mm(kept[-2], kept[-1], point) < _CLOSE_MM:
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _bend_mm(
    before: tuple[float, float], point: tuple[float, float], after: tuple[float, float]
) -> float:
    """How far (mm) a point is from the straight line between its neighbours."""
    one = (after[0] - before[0], after[1] - before[1])
    two = (point[0] - before[0], point[1] - before[1])
    return abs(one[0] * two[1] - one[1] * two[0]) / math.hypot(*one)


def radius_at(outline: Outline, x: float) -> float:
    """Radius (mm) of an outline at a station; the wider one at a step."""
    return max(_radii(outline, min(max(x, outline[0][0]), outline[-1][0])))


def _check_wall(body: Body, name: str) -> None:
    stations = sorted({x for x, _ in itertools.chain(body.bore, body.outside)})
    for x in stations:
        if 0 <= x <= body.length_mm and max(_radii(body.bore, x)) >= min(_radii(body.outside, x)):
            raise AcousticsError(
                say(
                    "the bore comes through the outside {station_mm:.1f} mm below its top",
                    station_mm=x,
                ),
                place=say("'{name}'", name=name),
                remedy=say("Give the body a wall of a millimetre at least."),
            )


def _radii(outline: Outline, x: float) -> list[float]:
    """Radii at a station, both of a step."""
    found = []
    for (x0, r0), (x1, r1) in itertools.pairwise(outline):
        if x0 - _CLOSE_MM <= x <= x1 + _CLOSE_MM:
            run = x1 - x0
            found += [r0, r1] if run < _CLOSE_MM else [r0 + (r1 - r0) * (x - x0) / run]
    return found
