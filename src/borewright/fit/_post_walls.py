"""Wall that a widening bore leaves under the holes of the posts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.fit.clearance import inside_radius_mm
from borewright.fit.spacing_class import ROUNDING_MM, Spacing
from borewright.model import Dimension, Instrument, KeyworkSurvey, Part, PostHole, dimensions
from borewright.model.post_holes import taken_diameter_mm
from borewright.words import say

#: Body left under a post's hole, over the bore (mm; from memory).
UNDER_POST_MM = 2.0
#: Only where less than this is left (mm) is the limit worth keeping in mind.
_NEAR_MM = 4.0
#: Places along a shank's floor at which the bore under it is looked up.
_UNDER = 9


@dataclass(frozen=True)
class PostWall(Spacing):
    """constant less the bore's radius at a station between two bore points.

    ``points`` are columns of upper station, upper diameter, lower station (or length) and lower
    diameter; ``beyond`` is how far (mm) the lower point lies beyond its column's value.
    """

    station: float = 0.0
    points: tuple[int, int, int, int] = (0, 0, 0, 0)
    beyond: float = 0.0

    def evaluate(self, values: np.ndarray) -> tuple[float, np.ndarray]:
        """Gap (mm) and its gradient in all dimensions."""
        s0, d0, s1, d1 = (float(values[column]) for column in self.points)
        run = s1 + self.beyond - s0
        share = (self.station - s0) / run
        grown = d1 - d0
        gradient = np.zeros_like(values)
        gradient[self.points[0]] = grown * (1 - share) / run / 2
        gradient[self.points[1]] = -(1 - share) / 2
        gradient[self.points[2]] = grown * share / run / 2
        gradient[self.points[3]] = -share / 2
        return self.constant - (d0 + grown * share) / 2, gradient


def post_walls(instrument: Instrument, survey: KeyworkSurvey | None) -> list[Spacing]:
    """A limit for every post that stands near the bore."""
    if instrument.body.post_hole is PostHole.NONE or survey is None:
        return []
    index = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    found: list[Spacing] = []
    for post in survey.posts():
        part = instrument.part(post.part)
        radius = taken_diameter_mm(instrument.body, post.thread_mm or 0.0) / 2
        floor = part.outside_diameter_at(post.station_mm) / 2 - instrument.body.post_depth_mm
        # A bore round its axis is nearest under the middle of the shank's floor or, where it
        # widens, under the floor's edge along the body.
        under = post.station_mm + radius * np.linspace(-1.0, 1.0, _UNDER)
        wall = floor - float(inside_radius_mm(part, under).max())
        number = _piece(part, post.station_mm)
        if wall > _NEAR_MM or number is None:
            continue
        last = part.bore[number + 1][0] - part.length_mm
        below = (
            index[Dimension(part.name, "length")]
            if last > -1e-9
            else index[Dimension(part.name, "bore_station", index=number + 1)]
        )
        found.append(
            PostWall(
                words=say("wall under post '{post}'", post=post.name),
                terms=(),
                radii=(),
                constant=part.bore_diameter_at(post.station_mm) / 2
                + wall
                - UNDER_POST_MM
                - ROUNDING_MM,
                wall=0.0,
                relax_mm=0.0,
                station=post.station_mm,
                points=(
                    index[Dimension(part.name, "bore_station", index=number)],
                    index[Dimension(part.name, "bore_diameter", index=number)],
                    below,
                    index[Dimension(part.name, "bore_diameter", index=number + 1)],
                ),
                beyond=max(last, 0.0),
            )
        )
    return found


def _piece(part: Part, station: float) -> int | None:
    """The straight piece of the bore at a station, by its upper point."""
    for number in range(len(part.bore) - 1):
        if part.bore[number][0] <= station < part.bore[number + 1][0]:
            return number
    return None
