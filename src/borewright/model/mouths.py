"""How far apart two tone holes are where they meet the bore."""

from __future__ import annotations

import math


def gap_mm(
    along_mm: float, turn_rad: float, bore_radius: float, first: float, second: float
) -> float:
    """Gap (mm) between the mouths of two radial holes, on the bore's surface rolled out flat.

    A hole of radius r meets a bore of radius R within ± R·asin(r/R) round it, though only ± r
    along it: the mouth is an oval on the rolled-out surface. The gap of two convex shapes is
    the largest, over all directions, of the distance between their centres less the reach of
    both; where it is negative they overlap (the separating-axis rule of plane geometry).

    Parameters
    ----------
    along_mm
        Distance of the centres along the bore.
    turn_rad
        Angle between the holes, 0 to pi.
    bore_radius
        Radius of the bore (mm).
    first, second
        Radii of the mouths (mm), at most the bore's.
    """
    along, round_it = abs(along_mm), turn_rad * bore_radius

    def apart(direction: float) -> float:
        centres = along * math.cos(direction) + round_it * math.sin(direction)
        return centres - sum(_reach(direction, bore_radius, r) for r in (first, second))

    # Round or straight along are the usual answers; the ends are therefore taken exactly.
    steps = 12
    angles = [step * math.pi / 2 / steps for step in range(steps + 1)]
    best = max(angles, key=apart)
    low, high = max(best - angles[1], 0.0), min(best + angles[1], math.pi / 2)
    while high - low > 1e-7:
        third = (high - low) / 3
        if apart(low + third) < apart(high - third):
            low += third
        else:
            high -= third
    return max(apart(best), apart(low), apart(high))


def _reach(direction: float, bore_radius: float, radius: float) -> float:
    """How far (mm) a mouth reaches from its centre, as a shadow on a line in a direction.

    The rim is (r cos t, R asin((r/R) sin t)); the t that reaches furthest solves a quadratic
    in sin² t.
    """
    ratio = min(radius / bore_radius, 1.0)
    root = math.sqrt(max(1 - (ratio * math.sin(2 * direction)) ** 2, 0.0))
    sine = math.sqrt(min(2 * math.sin(direction) ** 2 / (1 + root), 1.0))
    return radius * math.cos(direction) * math.sqrt(1 - sine**2) + (
        bore_radius * math.sin(direction) * math.asin(ratio * sine)
    )
