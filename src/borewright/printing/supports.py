"""What carries a part while it prints: collars under shoulders, sleeves in sockets, brims.

They are bodies of our own in the part's file, so that no slicer's support is needed and none
comes into bores and tone holes. Gaps and widths are from memory; the first print tells.
"""

from __future__ import annotations

import itertools

from borewright.model import Instrument, Part
from borewright.printing.profiles import PrinterProfile
from borewright.printing.standing import SLENDER, Ceiling, Standing, above_bed, ceilings
from borewright.solids import Outline, Support, outlines
from borewright.words import Message, say

#: Air beside a tenon or a socket's wall, and under what is carried (mm).
BESIDE_MM, UNDER_MM = 0.5, 0.2
#: A brim's width and height (mm), and how near it comes to the foot: squeezed, they join.
BRIM_MM, BRIM_HIGH_MM, _APART_MM = 8.0, 0.2, 0.03
#: What a sleeve stands out under the bore (mm), for a dowel to push it by.
_LIP_MM = 1.5
#: A collar taller than this (mm) would be a part of its own.
_TALLEST_MM = 45.0

COLLAR, SLEEVE, BRIM = "collar", "sleeve", "brim"


def plan_supports(
    instrument: Instrument, part: Part, standing: Standing, printer: PrinterProfile
) -> list[Support]:
    """The bodies that carry an upright part; none where it needs none, or none would reach.

    A collar stands round a tenon under its shoulder, a sleeve in a socket under its floor, both
    with a slit to be opened by. A slender part gets a brim, of its collar where there is one.
    """
    outside, inside = outlines(part, instrument)
    profile, hollow = (above_bed(each, outside, standing.down) for each in (outside, inside))
    wide = [
        one
        for one in ceilings(part, standing.down)
        if one.width_mm > printer.widest_overhang_mm and one.height_mm < _TALLEST_MM
    ]
    found = []
    shoulder = next((one for one in wide if one.outer and _reached(profile, one)), None)
    floor = next((one for one in wide if not one.outer and _reached(hollow, one)), None)
    foot = max(
        r0 + (r1 - r0) * min(1.0, (BRIM_HIGH_MM - z0) / (z1 - z0) if z1 > z0 else 0.0)
        for (r0, z0), (r1, z1) in itertools.pairwise(profile)
        if z0 < BRIM_HIGH_MM
    )
    edge = shoulder.outer_mm if shoulder else foot
    brim = BRIM_MM if standing.height_mm / (2 * edge) > SLENDER else 0.0
    if shoulder:
        inner, top = shoulder.inner_mm + BESIDE_MM, shoulder.height_mm - UNDER_MM
        found.append(Support(name=COLLAR, outline=_collar(inner, edge, top, foot, brim)))
    elif brim:
        found.append(Support(name=BRIM, outline=_ring(foot + _APART_MM, foot + brim, BRIM_HIGH_MM)))
    if floor:
        outer, top = floor.outer_mm - BESIDE_MM, floor.height_mm - UNDER_MM
        found.append(Support(name=SLEEVE, outline=_ring(floor.inner_mm - _LIP_MM, outer, top)))
    return found


def _reached(going_up: Outline, ceiling: Ceiling) -> bool:
    """Whether the way from the bed up to a ceiling is free."""
    below = [radius for radius, height in going_up if height < ceiling.height_mm - 1e-6]
    if ceiling.outer:
        return max(below) < ceiling.inner_mm + BESIDE_MM
    return min(below) > ceiling.outer_mm - BESIDE_MM


def _ring(inner: float, outer: float, high: float) -> Outline:
    return [(inner, 0.0), (outer, 0.0), (outer, high), (inner, high)]


def _collar(inner: float, outer: float, high: float, foot: float, brim: float) -> Outline:
    if not brim:
        return _ring(inner, outer, high)
    # The brim joins the part's own foot and the collar to one foot.
    start, end = foot + _APART_MM, outer + brim
    return [
        (start, 0.0),
        (end, 0.0),
        (end, BRIM_HIGH_MM),
        (outer, BRIM_HIGH_MM),
        (outer, high),
        (inner, high),
        (inner, BRIM_HIGH_MM),
        (start, BRIM_HIGH_MM),
    ]


def support_advice(
    part: Part, standing: Standing, printer: PrinterProfile, supports: list[Support]
) -> list[Message]:
    """What carries a part, and how it comes off, in words for the person at the printer."""
    carried = {
        COLLAR: say(
            "A collar round the tenon carries the shoulder: it is in the file, with a slit. Spread "
            "it and pull it off."
        ),
        SLEEVE: say(
            "A sleeve in the socket carries its floor: it is in the file, with a slit. Push it out "
            "with a dowel through the bore, and scrape the floor clean."
        ),
    }
    names = [one.name for one in supports]
    advice = [words for name, words in carried.items() if name in names]
    if any(max(r for r, z in one.outline if z == 0) > standing.foot_mm / 2 + BRIM_MM / 2
           for one in supports):  # fmt: skip
        advice.append(
            say(
                "A brim of {brim_mm:g} mm is in the file: the part is {times:.1f} times as tall as "
                "its foot is wide. Cut it off with a knife, away from your hand.",
                brim_mm=BRIM_MM,
                times=standing.height_mm / standing.foot_mm,
            )
        )
    left = [
        one
        for one in ceilings(part, standing.down)
        if one.width_mm > printer.widest_overhang_mm
        and (COLLAR if one.outer else SLEEVE) not in names
    ]
    if left:
        worst = max(left, key=lambda one: one.width_mm)
        advice.append(
            say(
                "Support under {ceiling}, which hangs over by {width_mm:.1f} mm, and nowhere "
                "else: none in the bore and none in tone holes.",
                ceiling=worst.words,
                width_mm=worst.width_mm,
            )
        )
    else:
        advice.append(say("Keep the slicer's own support switched off: it would fill bores."))
    return advice
