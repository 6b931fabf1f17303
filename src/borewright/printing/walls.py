"""Walls between any two hollows, found in space: points on one, exact distance to the other."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from borewright.model import Finding, Instrument, Part
from borewright.printing.body_walls import body_wall_findings
from borewright.printing.profiles import MaterialProfile
from borewright.printing.thin import thin
from borewright.solids import (
    Outline,
    PostPlan,
    Void,
    bearing_direction,
    engravings,
    outlines,
    voids,
)
from borewright.words import say

#: Spacing of the points on a hollow's surface (mm). A distance of d is then too large by at
#: most spacing²/(8 d) and the like: 0.01 mm for a wall of 1.2 mm.
_SPACING_MM = 0.3
_FAR_MM = 40.0


def wall_findings(
    instrument: Instrument,
    part: Part,
    material: MaterialProfile,
    posts: Sequence[PostPlan] = (),
) -> list[Finding]:
    """Walls thinner than the process minimum, each with both features and the distance.

    Hollows are tone holes, sunk seats, posts' holes, screws, text and marks cut into the
    outside, and the bore with its sockets; the body's own walls are asked too.
    The minimum is the greater of the material's wall and, between holes, the instrument's
    ``fit.wall_between_holes_mm``; under a tenon's cork it is the material's tenon wall.
    """
    found = voids(instrument, part, posts)
    findings = []
    for one, other in itertools.combinations(found, 2):
        if not _related(one, other) and _near(one, other):
            least = max(material.least_wall_mm, _least_between(instrument, one, other))
            findings += thin(part, one.words, other.words, wall_mm(one, other), least)
    _, inside = outlines(part)
    for void in found:
        if void.kind != "hole":
            wall = wall_to_bore_mm(void, inside)
            findings += thin(
                part, void.words, say("the bore or socket"), wall, material.least_wall_mm
            )
    for cut in engravings(instrument, part, posts):
        findings += thin(
            part, cut.words, say("the bore or socket under it"), cut.wall_mm, material.least_wall_mm
        )
    return findings + body_wall_findings(part, material) + _tenon_walls(part, material)


def _related(one: Void, other: Void) -> bool:
    """A hole, its undercut and its own seat belong together; two seats share only air.

    So do the thumb rest's screws. A hole and a post may have one name and yet be two.
    """
    if one.kind == other.kind == "seat":
        return True
    in_hole = ("hole", "seat")
    return one.owner == other.owner and (
        one.kind == other.kind or (one.kind in in_hole and other.kind in in_hole)
    )


def _least_between(instrument: Instrument, one: Void, other: Void) -> float:
    both_holes = one.kind == other.kind == "hole"
    return instrument.fit.wall_between_holes_mm if both_holes else 0.0


def _near(one: Void, other: Void) -> bool:
    return abs(one.station_mm - other.station_mm) < _FAR_MM


def wall_mm(one: Void, other: Void) -> float:
    """Least distance (mm) between two radial cylinders; 0 where they meet."""
    return float(min(_distance(_surface(one), other).min(), _distance(_surface(other), one).min()))


def wall_to_bore_mm(void: Void, inside: Outline) -> float:
    """Least distance (mm) from a radial cylinder to the bore or a socket; 0 where they meet."""
    points = _surface(void)
    radius = np.hypot(points[:, 0], points[:, 1])
    station = points[:, 2]
    best = math.inf
    for (r0, s0), (r1, s1) in itertools.pairwise(inside):
        along = np.array([r1 - r0, s1 - s0])
        size = float(along @ along)
        start = np.column_stack([radius - r0, station - s0])
        share = np.clip(start @ along / size, 0.0, 1.0) if size else np.zeros(len(start))
        apart = np.linalg.norm(start - share[:, None] * along, axis=1)
        if abs(s1 - s0) > 1e-9:
            level = r0 + (r1 - r0) * (station - s0) / (s1 - s0)
            between = (station >= min(s0, s1)) & (station <= max(s0, s1))
            apart = np.where(between & (radius <= level), 0.0, apart)
        best = min(best, float(apart.min()))
    return best


def _surface(void: Void) -> np.ndarray:
    """Points (n, 3) on the wall and both ends of a radial cylinder."""
    height = max(void.high_mm - void.low_mm, 1e-6)
    turns = max(24, math.ceil(2 * math.pi * void.radius_mm / _SPACING_MM))
    levels = max(2, math.ceil(height / _SPACING_MM) + 1)
    rings = max(2, math.ceil(void.radius_mm / _SPACING_MM) + 1)
    angle = np.linspace(0, 2 * math.pi, turns, endpoint=False)
    wall = np.meshgrid(angle, np.linspace(void.low_mm, void.high_mm, levels), [void.radius_mm])
    ends = np.meshgrid(angle, [void.low_mm, void.high_mm], np.linspace(0, void.radius_mm, rings))
    angle, level, radius = (
        np.concatenate([a.ravel(), b.ravel()]) for a, b in zip(wall, ends, strict=True)
    )
    x, y = bearing_direction(void.bearing_deg)
    aside = radius * np.sin(angle)
    return np.column_stack(
        [level * x - aside * y, level * y + aside * x, void.station_mm + radius * np.cos(angle)]
    )


def _distance(points: np.ndarray, void: Void) -> np.ndarray:
    """Distance (mm) of points (n, 3) to a solid radial cylinder; 0 inside."""
    x, y = bearing_direction(void.bearing_deg)
    along = points[:, 0] * x + points[:, 1] * y
    aside = np.hypot(points[:, 1] * x - points[:, 0] * y, points[:, 2] - void.station_mm)
    beyond = np.maximum(aside - void.radius_mm, 0.0)
    over = np.maximum(np.maximum(void.low_mm - along, along - void.high_mm), 0.0)
    return np.hypot(beyond, over)


def _tenon_walls(part: Part, material: MaterialProfile) -> list[Finding]:
    findings = []
    for plain, corked, tenon, low, high in (
        (
            say("the top tenon's surface"),
            say("the top tenon's surface under its cork"),
            part.tenon_top,
            -part.tenon_top.length_mm if part.tenon_top else 0.0,
            0.0,
        ),
        (
            say("the bottom tenon's surface"),
            say("the bottom tenon's surface under its cork"),
            part.tenon_bottom,
            part.length_mm,
            part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0),
        ),
    ):
        if tenon is None:
            continue
        bores = [part.bore_diameter_at(low), part.bore_diameter_at(high, -1)]
        bores += [diameter for station, diameter in part.bore if low < station < high]
        wall = (tenon.core_mm - max(bores)) / 2
        findings += thin(
            part,
            say("the bore"),
            corked if tenon.core_mm < tenon.diameter_mm else plain,
            wall,
            material.least_tenon_wall_mm,
        )
    return findings
