"""Holes that would spoil each other, a joint or the bore: found before the kernel cuts them."""

from __future__ import annotations

import math

import numpy as np

from borewright.errors import SolidsError
from borewright.model import Part
from borewright.solids._plan import HolePlan
from borewright.solids._profiles import (
    bore_limits_mm,
    inside_outline,
    outside_outline,
    radius_range,
)
from borewright.solids.axes import bearing_direction
from borewright.words import Place, say

#: Points round a tube's wall, and how far (mm) above a rim we look for what stands on it.
_TURNS = 72
_JUST_ABOVE_MM = 0.05


def check_conflicts(part: Part, plans: list[HolePlan]) -> None:
    """Raise SolidsError where building one feature would change another's dimensions."""
    for plan in plans:
        _check_ends(part, plan)
        _check_seat(part, plan)
        _check_lining(part, plan)
    walls = {plan.hole.name: _tube_wall(part, plan) for plan in plans}
    for plan in plans:
        for other in plans:
            if other is not plan:
                _check_pair(part, plan, other, walls[plan.hole.name])


def _place(part: Part, plan: HolePlan) -> Place:
    return say("part '{part}'", part=part.name), say("hole '{hole}'", hole=plan.hole.name)


def _check_ends(part: Part, plan: HolePlan) -> None:
    hole = plan.hole
    half = max(hole.diameter_mm, hole.undercut.diameter_mm if hole.undercut else 0.0) / 2
    low, high = bore_limits_mm(part)
    if hole.station_mm - half < low or hole.station_mm + half > high:
        raise SolidsError(
            say(
                "the hole at station {station_mm:g} mm ({wide_mm:g} mm wide at the bore) runs "
                "beyond the bore, which goes from {low_mm:g} to {high_mm:g} mm between sockets "
                "and ends",
                station_mm=hole.station_mm,
                wide_mm=2 * half,
                low_mm=low,
                high_mm=high,
            ),
            place=_place(part, plan),
            remedy=say("Move the hole or make the socket shallower."),
        )
    reach = plan.boss_radius_mm
    if not reach <= hole.station_mm <= part.length_mm - reach:
        raise SolidsError(
            say(
                "the ring of wall around the hole ({across_mm:.2f} mm across) at station "
                "{station_mm:g} mm would stand over the joint at the part's end",
                across_mm=2 * reach,
                station_mm=hole.station_mm,
            ),
            place=_place(part, plan),
            remedy=say(
                "Keep its centre at least {reach_mm:.2f} mm from the ends, "
                "or use a smaller hole or wall.",
                reach_mm=reach,
            ),
        )
    body = radius_range(outside_outline(part), hole.station_mm - reach, hole.station_mm + reach)[0]
    if reach >= body:
        raise SolidsError(
            say(
                "the hole with its wall ({across_mm:.2f} mm) is wider than the body "
                "({body_mm:g} mm)",
                across_mm=2 * reach,
                body_mm=2 * body,
            ),
            place=_place(part, plan),
            remedy=say("Use a smaller hole, a thinner chimney wall or a wider body."),
        )


def _check_seat(part: Part, plan: HolePlan) -> None:
    if plan.seat is None:
        return
    reach, station = plan.seat_radius_mm, plan.hole.station_mm
    inner = radius_range(inside_outline(part), station - reach, station + reach)[1]
    if inner >= plan.seat_floor_mm:
        raise SolidsError(
            say(
                "the seat's counterbore ({across_mm:g} mm across, floor {floor_mm:.2f} mm "
                "from the axis) breaks into the bore or socket, which reaches {inner_mm:.2f} mm "
                "there",
                across_mm=2 * reach,
                floor_mm=plan.seat_floor_mm,
                inner_mm=inner,
            ),
            place=_place(part, plan),
            remedy=say(
                "Raise chimney_mm above {chimney_mm:g}, use a smaller pad, or move the hole.",
                chimney_mm=plan.hole.chimney_mm,
            ),
        )


def _check_lining(part: Part, plan: HolePlan) -> None:
    if plan.lining is None:
        return
    radius, end = plan.lining[1][0], plan.lining[2][1]
    station = plan.hole.station_mm
    inner = radius_range(inside_outline(part), station - radius, station + radius)
    if radius >= inner[0] or end <= inner[1]:
        raise SolidsError(
            say(
                "the lining tube ({outside_mm:.2f} mm outside) does not fit: the bore is "
                "{bore_mm:.2f} mm and the wall too thin to hold it",
                outside_mm=2 * radius,
                bore_mm=2 * inner[0],
            ),
            place=_place(part, plan),
            remedy=say("Use a smaller hole, a thinner wall, or set into_bore_mm = 0."),
        )


def _check_pair(part: Part, plan: HolePlan, other: HolePlan, wall: np.ndarray) -> None:
    along, aside = _seen_from(other, wall)
    mouth_half = max(other.air[1][0], other.hole.diameter_mm / 2)
    in_tube = aside < np.where(along < other.inner_end_mm, mouth_half, other.hole.diameter_mm / 2)
    if np.any(in_tube & (along > other.mouth_mm)):
        raise SolidsError(
            say("the hole breaks into hole '{hole}'", hole=other.hole.name),
            place=_place(part, plan),
            remedy=say(
                "Move them apart along the part or round it, or make them smaller; "
                "1.5 mm of wall between holes is usual (from memory)."
            ),
        )
    floor = np.where(
        aside < other.hole.diameter_mm / 2 + other.land_mm, other.rim_mm, other.seat_floor_mm
    )
    if other.seat is not None and np.any((aside < other.seat_radius_mm) & (along > floor)):
        raise SolidsError(
            say(
                "the seat of hole '{hole}' ({across_mm:g} mm across) "
                "would cut this hole's tube shorter",
                hole=other.hole.name,
                across_mm=2 * other.seat_radius_mm,
            ),
            place=_place(part, plan),
            remedy=say(
                "Move them apart, use a smaller pad, or raise the seat's chimney_mm "
                "above {chimney_mm:g}.",
                chimney_mm=other.hole.chimney_mm,
            ),
        )

    # A seat of its own clears what stands above its rim; without one, a neighbour's chimney
    # would raise the rim on that side.
    above = wall[-_TURNS:] + _JUST_ABOVE_MM * np.array(
        [*bearing_direction(plan.hole.bearing_deg), 0]
    )
    along, aside = _seen_from(other, above)
    if plan.seat is None and np.any((aside < other.boss_radius_mm) & (along < other.rim_mm)):
        raise SolidsError(
            say(
                "the chimney of hole '{hole}' ({across_mm:.2f} mm across) "
                "would stand on this hole's rim and lengthen its tube",
                hole=other.hole.name,
                across_mm=2 * other.boss_radius_mm,
            ),
            place=_place(part, plan),
            remedy=say(
                "Move them apart, or lower the chimney_mm of '{hole}' ({chimney_mm:g}).",
                hole=other.hole.name,
                chimney_mm=other.hole.chimney_mm,
            ),
        )


def _tube_wall(part: Part, plan: HolePlan) -> np.ndarray:
    """Points on the wall of a hole's tube, shape (n, 3), mm: ring by ring, the rim last."""
    hole = plan.hole
    angles = np.linspace(0, 2 * math.pi, _TURNS, endpoint=False)
    distances = np.linspace(plan.mouth_mm, plan.rim_mm, 25)
    angle, distance = (grid.ravel() for grid in np.meshgrid(angles, distances))
    # An undercut is as wide as its mouth up to the bore's wall on the centre line.
    radius = np.where(distance <= plan.inner_end_mm, plan.air[1][0], hole.diameter_mm / 2)
    if plan.boss is None:
        # The rim follows the body's curve: nothing of the tube is above the surface.
        body = plan.rim_mm - min(hole.chimney_mm, 0.0)
        distance = np.minimum(distance, np.sqrt(body**2 - (radius * np.sin(angle)) ** 2))
    x, y = bearing_direction(hole.bearing_deg)
    out, side = np.array([x, y, 0.0]), np.array([-y, x, 0.0])
    return np.asarray(
        np.outer(distance, out)
        + np.outer(radius * np.sin(angle), side)
        + np.outer(hole.station_mm + radius * np.cos(angle), [0.0, 0.0, 1.0])
    )


def _seen_from(plan: HolePlan, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Distance along a hole's axis and aside from it (mm) for points of shape (n, 3)."""
    x, y = bearing_direction(plan.hole.bearing_deg)
    along = points[:, 0] * x + points[:, 1] * y
    across = points[:, 1] * x - points[:, 0] * y
    return along, np.hypot(across, points[:, 2] - plan.hole.station_mm)
