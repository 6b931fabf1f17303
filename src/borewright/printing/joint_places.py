"""Where a bonded joint may be: clear of holes, seats and posts, with wall inside and outside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.model import Instrument, Part, SurveyItem, SurveyRow
from borewright.printing.profiles import MaterialProfile

#: Slack of a bonded joint on diameter and depth (mm; from memory).
SLACK_MM = 0.25
FLOOR_SLACK_MM = 0.4
#: Air kept between the joint and the edge of any hole, seat or post (mm).
KEEP_OFF_MM = 1.5
#: Spacing of the places tried (mm).
_STEP_MM = 0.5


@dataclass(frozen=True)
class JointPlace:
    """Where a joint may start (mm from the part's top shoulder), its tenon and socket (mm)."""

    station_mm: float
    tenon_mm: float
    socket_mm: float


def joint_places(
    instrument: Instrument,
    part: Part,
    rows: Sequence[SurveyRow],
    length_mm: float,
    material: MaterialProfile,
) -> list[JointPlace]:
    """Every place, from the top down, where a joint of that length serves.

    ``rows`` are the survey's rows of this part. The joint's wall is shared so that tenon and
    socket are equally thick.
    """
    found = []
    for number in range(int(part.length_mm / _STEP_MM)):
        station = number * _STEP_MM
        joint = _joint(part, station, length_mm, material)
        if joint and _is_free(instrument, part, rows, station, length_mm, joint[1], material):
            found.append(JointPlace(station, *joint))
    return found


def _is_free(
    instrument: Instrument,
    part: Part,
    rows: Sequence[SurveyRow],
    station: float,
    length: float,
    socket: float,
    material: MaterialProfile,
) -> bool:
    """Whether nothing is drilled through the joint, nor a seat sunk too near to its socket."""
    low, high = station, station + length + FLOOR_SLACK_MM
    for hole in part.holes:
        reach = hole.mouth_diameter_mm / 2 + KEEP_OFF_MM
        if hole.pad:
            rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
            wall = rim - instrument.body.seat_relief_mm - socket / 2
            if wall < material.least_wall_mm:
                reach = max(reach, hole.pad.diameter_mm / 2 + KEEP_OFF_MM)
        if low - reach < hole.station_mm < high + reach:
            return False
    for row in rows:
        reach = (row.thread_mm or 0.0) / 2 + KEEP_OFF_MM
        if row.item is SurveyItem.POST and low - reach < row.station_mm < high + reach:
            return False
    if part.thumb_rest:
        half = part.thumb_rest.length_mm / 2
        if low - half < part.thumb_rest.station_mm < high + half:
            return False
    above = part.socket_top.depth_mm if part.socket_top else 0.0
    below = part.socket_bottom.depth_mm if part.socket_bottom else 0.0
    return above + KEEP_OFF_MM < low and high < part.length_mm - below - KEEP_OFF_MM


def _joint(
    part: Part, station: float, length: float, material: MaterialProfile
) -> tuple[float, float] | None:
    """Tenon and socket diameters (mm) that share the wall, or None where it is too thin."""
    low, high = station, station + length + FLOOR_SLACK_MM
    bores = [part.bore_diameter_at(s) for s in (low, high)]
    bores += [d for s, d in part.bore if low < s < high]
    outsides = [part.outside_diameter_at(s) for s in (low, high)]
    outsides += [d for s, d in part.outside if low < s < high]
    bore, outside = max(bores), min(outsides)
    middle = round((bore + outside) / 2, 1)
    tenon, socket = middle - SLACK_MM / 2, middle + SLACK_MM / 2
    walls = ((tenon - bore) / 2, (outside - socket) / 2)
    return (tenon, socket) if min(walls) >= material.least_tenon_wall_mm else None
