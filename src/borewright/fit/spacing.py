"""Limits that tie dimensions together: walls between holes, ends, posts, order of stations.

Each is a gap (mm) that must not become negative, with its derivatives. They are written to
be safe: a gap here is never larger than the true distance. ``fit.checks`` measures the
finished body by another method.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field

import numpy as np

from borewright.model import (
    Dimension,
    Instrument,
    KeyworkSurvey,
    Part,
    PostHole,
    ToneHole,
    dimensions,
)
from borewright.model.post_holes import taken_diameter_mm

#: Kept beyond every limit (mm), so that rounding the schedule to 0.01 mm cannot break it.
ROUNDING_MM = 0.02
#: Holes further apart than this along the body never meet (mm).
_NEAR_MM = 45.0
_LEAST_STATION_STEP_MM = 2.0


@dataclass(frozen=True)
class Spacing:
    """sqrt(along² + chord²) less radii and wall, or a sum of dimensions where chord is None.

    ``terms`` hold (column, factor) of the distance along the axis, ``radii`` those of what is
    taken off.
    """

    words: str
    terms: tuple[tuple[int, float], ...]
    radii: tuple[tuple[int, float], ...]
    constant: float
    wall: float
    chord: float | None = None
    holes: tuple[str, ...] = field(default=())

    def evaluate(self, values: np.ndarray) -> tuple[float, np.ndarray]:
        """Gap (mm) and its gradient in all dimensions."""
        along = self.constant + sum(factor * values[column] for column, factor in self.terms)
        taken = sum(factor * values[column] for column, factor in self.radii)
        gradient = np.zeros_like(values)
        for column, factor in self.radii:
            gradient[column] -= factor
        distance, slope = along, 1.0
        if self.chord is not None:
            distance = math.hypot(along, self.chord)
            slope = along / distance if distance else 0.0
        for column, factor in self.terms:
            gradient[column] += slope * factor
        return distance - taken - self.wall, gradient


def spacings(instrument: Instrument, survey: KeyworkSurvey | None) -> list[Spacing]:
    """All spacing limits of an instrument."""
    index = {d: column for column, d in enumerate(dimensions(instrument))}
    found: list[Spacing] = []
    for part in instrument.parts:
        for one, other in itertools.combinations(part.holes, 2):
            if abs(one.station_mm - other.station_mm) < _NEAR_MM:
                found += _between(instrument, index, part, one, other)
        for hole in part.holes:
            found += _ends(instrument, index, part, hole)
            found += _posts(instrument, survey, index, part, hole)
        found += _station_order(index, part)
    return found


def _column(index: dict[Dimension, int], part: Part, hole: ToneHole, measure: str) -> int:
    return index[Dimension(part.name, measure, hole=hole.name)]


def _mouth(index: dict[Dimension, int], part: Part, hole: ToneHole) -> int:
    return _column(index, part, hole, "undercut_diameter" if hole.undercut else "diameter")


def _between(
    instrument: Instrument,
    index: dict[Dimension, int],
    part: Part,
    one: ToneHole,
    other: ToneHole,
) -> list[Spacing]:
    """Wall between two holes, at the bore where they come closest, and pads that would touch."""
    upper, lower = sorted((one, other), key=lambda hole: hole.station_mm)
    angle = math.radians(abs(one.bearing_deg - other.bearing_deg))
    angle = min(angle, 2 * math.pi - angle)
    terms = (
        (_column(index, part, lower, "station"), 1.0),
        (_column(index, part, upper, "station"), -1.0),
    )
    bore = min(part.bore_diameter_at(hole.station_mm) for hole in (one, other)) / 2
    # A hole's edge meets the bore nearer to the axis than the bore's own radius.
    widest = max(hole.mouth_diameter_mm for hole in (one, other)) / 2 + 0.25
    reach = math.sqrt(max(bore**2 - widest**2, 0.0))
    found = [
        Spacing(
            words=f"wall between {upper.name} and {lower.name}",
            terms=terms,
            radii=((_mouth(index, part, one), 0.5), (_mouth(index, part, other), 0.5)),
            constant=0.0,
            wall=instrument.fit.wall_between_holes_mm + ROUNDING_MM,
            chord=2 * reach * math.sin(angle / 2),
            holes=(one.name, other.name),
        )
    ]
    if one.pad and other.pad:
        seat = min(
            part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm for hole in (one, other)
        )
        chord = 2 * seat * math.sin(angle / 2)
        touch = (one.pad.diameter_mm + other.pad.diameter_mm) / 2
        if math.hypot(one.station_mm - other.station_mm, chord) < touch + 4:
            found.append(
                Spacing(
                    words=f"pads of {upper.name} and {lower.name}",
                    terms=terms,
                    radii=(),
                    constant=0.0,
                    wall=touch + ROUNDING_MM,
                    chord=chord,
                    holes=(one.name, other.name),
                )
            )
    return found


def _ends(
    instrument: Instrument, index: dict[Dimension, int], part: Part, hole: ToneHole
) -> list[Spacing]:
    """A hole stays clear of shoulders and of sockets."""
    station = _column(index, part, hole, "station")
    mouth = _mouth(index, part, hole)
    wall = instrument.fit.wall_between_holes_mm + ROUNDING_MM
    above = part.socket_top.depth_mm if part.socket_top else 0.0
    below = part.socket_bottom.depth_mm if part.socket_bottom else 0.0
    length = index[Dimension(part.name, "length")]
    return [
        Spacing(
            words=f"wall from {hole.name} to the {'socket' if above else 'shoulder'} above",
            terms=((station, 1.0),),
            radii=((mouth, 0.5),),
            constant=-above,
            wall=wall,
            holes=(hole.name,),
        ),
        Spacing(
            words=f"wall from {hole.name} to the {'socket' if below else 'shoulder'} below",
            terms=((length, 1.0), (station, -1.0)),
            radii=((mouth, 0.5),),
            constant=-below,
            wall=wall,
            holes=(hole.name,),
        ),
    ]


def _posts(
    instrument: Instrument,
    survey: KeyworkSurvey | None,
    index: dict[Dimension, int],
    part: Part,
    hole: ToneHole,
) -> list[Spacing]:
    """A hole stays clear of the holes of the posts."""
    if instrument.body.post_hole is PostHole.NONE:
        return []
    found = []
    for post in survey.posts() if survey else []:
        if post.part != part.name or abs(post.station_mm - hole.station_mm) > _NEAR_MM:
            continue
        angle = math.radians(abs(post.bearing_deg - hole.bearing_deg))
        angle = min(angle, 2 * math.pi - angle)
        # The post's floor is where a skewed hole comes closest to it.
        reach = part.outside_diameter_at(post.station_mm) / 2 - instrument.body.post_depth_mm
        radius = taken_diameter_mm(instrument.body, post.thread_mm or 0.0) / 2
        widest = max(hole.diameter_mm / 2, radius) + 0.25
        reach = math.sqrt(max(reach**2 - widest**2, 0.0))
        sign = 1.0 if hole.station_mm >= post.station_mm else -1.0
        found.append(
            Spacing(
                words=f"wall between {hole.name} and post {post.name}",
                terms=((_column(index, part, hole, "station"), sign),),
                radii=((_column(index, part, hole, "diameter"), 0.5),),
                constant=-sign * post.station_mm,
                wall=instrument.fit.wall_between_holes_mm + ROUNDING_MM + radius,
                chord=2 * reach * math.sin(angle / 2),
                holes=(hole.name,),
            )
        )
    return found


def _station_order(index: dict[Dimension, int], part: Part) -> list[Spacing]:
    """Bore points keep their order."""
    found = []
    for number, ((s0, _), (s1, _)) in enumerate(itertools.pairwise(part.bore)):
        if s1 - s0 < 1e-9:
            continue
        columns = [
            index[Dimension(part.name, "bore_station", index=number + shift)] for shift in (0, 1)
        ]
        found.append(
            Spacing(
                words=f"order of the bore points {number + 1} and {number + 2} of {part.name}",
                terms=((columns[1], 1.0), (columns[0], -1.0)),
                radii=(),
                constant=0.0,
                wall=min(_LEAST_STATION_STEP_MM, s1 - s0),
            )
        )
    return found
