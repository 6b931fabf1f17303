"""Limits that tie dimensions together: walls between holes, ends, posts, order of stations.

Each is a gap (mm) that must not become negative, with its derivatives. Where a formula is safe but
too careful, the true distance is measured where the holes stand now; a fit measures again where
it ends (:mod:`borewright.fit.fitting`), and ``fit.checks`` measures the finished body.
"""

from __future__ import annotations

import itertools
import math

from borewright.fit._hole_ranges import HOLE_TO_BORE
from borewright.fit._post_walls import post_walls
from borewright.fit.bore_limits import bore_limits
from borewright.fit.clearance import distance_mm, hole_surface
from borewright.fit.spacing_class import ROUNDING_MM, Spacing
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
from borewright.words import say

#: Holes further apart than this along the body never meet (mm).
_NEAR_MM = 45.0
#: Air all round between a chimney and its ring (mm; from memory).
_RING_AIR_MM = 0.4
#: Of a hole's tube this much (mm) stays straight above its undercut, a bore that grows by 0.3 mm
#: counted in; from memory.
_ABOVE_UNDERCUT_MM = 1.2
#: A wall of this much (mm) by the safe formula is not measured more closely.
_AMPLE_MM = 4.0


def spacings(instrument: Instrument, survey: KeyworkSurvey | None) -> list[Spacing]:
    """All spacing limits of an instrument."""
    return [
        *hole_spacings(instrument, survey),
        *bore_limits(instrument),
        *post_walls(instrument, survey),
    ]


def hole_spacings(instrument: Instrument, survey: KeyworkSurvey | None) -> list[Spacing]:
    """Those of the holes: walls between them and to ends and posts, air in their rings."""
    index = {d: column for column, d in enumerate(dimensions(instrument))}
    found: list[Spacing] = []
    for part in instrument.parts:
        for one, other in itertools.combinations(part.holes, 2):
            if abs(one.station_mm - other.station_mm) < _NEAR_MM:
                found += _between(instrument, index, part, one, other)
        for hole in part.holes:
            found += _ends(instrument, index, part, hole)
            found += _posts(instrument, survey, index, part, hole)
            found += _in_ring(instrument, survey, index, part, hole)
            found += _undercut(index, part, hole)
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
    found = [
        Spacing(
            words=say("wall between {upper} and {lower}", upper=upper.name, lower=lower.name),
            terms=terms,
            radii=((_mouth(index, part, one), 0.5), (_mouth(index, part, other), 0.5)),
            constant=0.0,
            wall=instrument.fit.wall_between_holes_mm + ROUNDING_MM,
            chord=_hole_chord(part, upper, lower, angle),
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
                    words=say("pads of {upper} and {lower}", upper=upper.name, lower=lower.name),
                    terms=terms,
                    radii=(),
                    constant=0.0,
                    wall=touch + ROUNDING_MM,
                    chord=chord,
                    holes=(one.name, other.name),
                )
            )
    return found


def _hole_chord(part: Part, upper: ToneHole, lower: ToneHole, angle: float) -> float:
    """How far (mm) across the body two holes are, so that the wall between them comes out.

    Safe without looking closer: a hole's edge meets the bore nearer to the axis than the bore's
    own radius, and there the holes are nearest. Where that leaves little wall, the true wall is
    measured in space, and the chord is what gives that wall where the holes stand now.
    """
    bore = min(part.bore_diameter_at(hole.station_mm) for hole in (upper, lower)) / 2
    widest = max(hole.mouth_diameter_mm for hole in (upper, lower)) / 2 + 0.25
    reach = math.sqrt(max(bore**2 - widest**2, 0.0))
    safe = 2 * reach * math.sin(angle / 2)
    along = lower.station_mm - upper.station_mm
    radii = (upper.mouth_diameter_mm + lower.mouth_diameter_mm) / 2
    if math.hypot(along, safe) - radii > _AMPLE_MM:
        return safe
    wall = distance_mm(hole_surface(part, upper), hole_surface(part, lower), enough_mm=_AMPLE_MM)
    return math.sqrt(max((wall + radii) ** 2 - along**2, safe**2))


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
            words=say("wall from {hole} to the socket above", hole=hole.name)
            if above
            else say("wall from {hole} to the shoulder above", hole=hole.name),
            terms=((station, 1.0),),
            radii=((mouth, 0.5),),
            constant=-above,
            wall=wall,
            holes=(hole.name,),
        ),
        Spacing(
            words=say("wall from {hole} to the socket below", hole=hole.name)
            if below
            else say("wall from {hole} to the shoulder below", hole=hole.name),
            terms=((length, 1.0), (station, -1.0)),
            radii=((mouth, 0.5),),
            constant=-below,
            wall=wall,
            holes=(hole.name,),
        ),
    ]


def _in_ring(
    instrument: Instrument,
    survey: KeyworkSurvey | None,
    index: dict[Dimension, int],
    part: Part,
    hole: ToneHole,
) -> list[Spacing]:
    """A chimney keeps air all round inside a ring that was measured where it stands."""
    row = survey.for_hole(hole.name) if survey else None
    if row is None or row.ring_inside_mm is None or row.seat_from_axis_mm is None:
        return []
    turn = math.radians(hole.bearing_deg - row.bearing_deg)
    aside = row.seat_from_axis_mm * math.sin(turn)
    chimney = instrument.fit.chimney_wall_mm + _RING_AIR_MM + ROUNDING_MM
    room = row.ring_inside_mm / 2 - chimney
    # Off its middle both ways: sqrt(along² + aside²) is at most |along| + |aside|.
    return [
        Spacing(
            words=say("air between the chimney of {hole} and its ring", hole=hole.name),
            terms=((_column(index, part, hole, "station"), sign),),
            radii=((_column(index, part, hole, "diameter"), 0.5),),
            constant=room - sign * row.station_mm - abs(aside),
            wall=0.0,
            holes=(hole.name,),
        )
        for sign in (1.0, -1.0)
    ]


def _undercut(index: dict[Dimension, int], part: Part, hole: ToneHole) -> list[Spacing]:
    """An undercut leaves a straight tube above it and is narrower than the bore, or as drawn."""
    if hole.undercut is None:
        return []
    straight = part.tube_height_mm(hole) - hole.undercut.depth_mm
    room = HOLE_TO_BORE * part.bore_diameter_at(hole.station_mm) - hole.mouth_diameter_mm
    chimney, mouth = (_column(index, part, hole, m) for m in ("chimney", "undercut_diameter"))
    return [
        Spacing(
            words=say("tube of {hole} above its undercut", hole=hole.name),
            terms=((chimney, 1.0),),
            radii=(),
            constant=max(straight - _ABOVE_UNDERCUT_MM, 0.0) - hole.chimney_mm,
            wall=0.0,
            holes=(hole.name,),
        ),
        Spacing(
            words=say("bore below the undercut of {hole}", hole=hole.name),
            terms=((mouth, -1.0),),
            radii=(),
            constant=max(room, 0.0) + hole.mouth_diameter_mm,
            wall=0.0,
            holes=(hole.name,),
            relax_mm=0.0,
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
                words=say("wall between {hole} and post {post}", hole=hole.name, post=post.name),
                terms=((_column(index, part, hole, "station"), sign),),
                radii=((_column(index, part, hole, "diameter"), 0.5),),
                constant=-sign * post.station_mm,
                wall=instrument.fit.wall_between_holes_mm + ROUNDING_MM + radius,
                chord=2 * reach * math.sin(angle / 2),
                holes=(hole.name,),
            )
        )
    return found
