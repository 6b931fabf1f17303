"""Where posts stand on a body, and what is drilled and flattened for them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from borewright.model import (
    Instrument,
    KeyworkSurvey,
    Part,
    PostBase,
    PostHole,
    SurveyRow,
)
from borewright.model.post_holes import clearance_diameter_mm
from borewright.solids._profiles import outside_outline, radius_range


@dataclass(frozen=True)
class PostPlan:
    """One post's hole and base (mm, degrees).

    Distances are from the bore's axis: ``floor_mm`` of the hole, ``base_mm`` of the flat or
    boss on which the post's shoulder rests. ``hole_mm`` 0 means that nothing is drilled.
    """

    name: str
    part: str
    station_mm: float
    bearing_deg: float
    thread_mm: float
    hole_mm: float
    floor_mm: float
    base: PostBase
    base_mm: float
    base_across_mm: float


def pilot_diameter_mm(thread_mm: float, pitch_mm: float | None, under_mm: float) -> float:
    """Diameter (mm) of a post's pilot hole.

    With a known pitch it is the thread's diameter less the pitch, the rule behind the
    tapping drills of ISO 2306 for metric threads; without one, less ``under_mm``.
    """
    return thread_mm - (pitch_mm if pitch_mm else under_mm)


def plan_posts(instrument: Instrument, survey: KeyworkSurvey | None) -> list[PostPlan]:
    """A plan for every post of a survey, by the instrument's ``body`` table.

    Raises KeyError where a post stands on a part that the instrument does not have;
    ``survey.check_against`` tells that better, and first.
    """
    if survey is None:
        return []
    return [_plan(instrument, instrument.part(row.part), row) for row in survey.posts()]


def _plan(instrument: Instrument, part: Part, row: SurveyRow) -> PostPlan:
    body = instrument.body
    thread = row.thread_mm or 0.0
    diameter = {
        PostHole.PILOT: pilot_diameter_mm(thread, row.thread_pitch_mm, body.pilot_under_mm),
        PostHole.INSERT: thread + body.insert_over_mm,
        PostHole.BONDED: clearance_diameter_mm(thread),
        PostHole.NONE: 0.0,
    }[body.post_hole]
    half = body.post_base_mm / 2
    outside = outside_outline(part)
    lowest, highest = radius_range(outside, row.station_mm - half, row.station_mm + half)
    base = part.outside_diameter_at(row.station_mm) / 2
    if body.post_base is PostBase.FLAT:
        base = math.sqrt(max(lowest**2 - half**2, 0.0))
    elif body.post_base is PostBase.BOSS:
        base = highest + body.post_boss_height_mm
    return PostPlan(
        name=row.name,
        part=part.name,
        station_mm=row.station_mm,
        bearing_deg=row.bearing_deg,
        thread_mm=thread,
        hole_mm=diameter,
        floor_mm=part.outside_diameter_at(row.station_mm) / 2 - body.post_depth_mm,
        base=body.post_base,
        base_mm=base,
        base_across_mm=body.post_base_mm,
    )
