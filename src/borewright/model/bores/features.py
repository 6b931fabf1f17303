"""What makers name in a bore: throat taper, cylinders, where the flare starts, bell.

A barrel is what stands above the first part with tone holes, a bell what stands below the
last one. The throat is the narrowing top of the first joint with holes; the flare is the
widening bottom of the last one. Common practice.
"""

from __future__ import annotations

import itertools
from typing import NamedTuple

from borewright.model.base import Entity
from borewright.model.instrument import Instrument
from borewright.model.part import Part

#: From this taper on (mm of diameter per mm) the top of a joint counts as its throat.
NARROWS = 0.001
#: From this taper on the bottom of a joint counts as its flare.
WIDENS = 0.004


class Roles(NamedTuple):
    """Indices of the parts: above the joints, the joints, below them."""

    barrels: tuple[int, ...]
    joints: tuple[int, ...]
    bells: tuple[int, ...]


def roles(instrument: Instrument) -> Roles:
    """Which parts are barrels, joints and bells; a body without holes is all joints."""
    count = len(instrument.parts)
    bored = [number for number, part in enumerate(instrument.parts) if part.holes]
    if not bored:
        return Roles((), tuple(range(count)), ())
    first, last = bored[0], bored[-1]
    return Roles(tuple(range(first)), tuple(range(first, last + 1)), tuple(range(last + 1, count)))


def throat_end(part: Part) -> float:
    """Station (mm) where a joint stops narrowing from its top; its first if it never does."""
    end = part.bore[0][0]
    for (s0, d0), (s1, d1) in itertools.pairwise(part.bore):
        if d0 - d1 < NARROWS * (s1 - s0) or s1 == s0:
            break
        end = s1
    return end


def flare_start(part: Part) -> float:
    """Station (mm) from which a joint widens to its bottom; its last if it does not."""
    start = part.bore[-1][0]
    for (s0, d0), (s1, d1) in reversed(list(itertools.pairwise(part.bore))):
        if d1 - d0 < WIDENS * (s1 - s0) or s1 == s0:
            break
        start = s0
    return start


class BoreFeatures(Entity):
    """Features of an instrument's bore (mm); None where it has none of the kind.

    Lengths and stations of joints are those of their own parts; ``cylinders`` are diameters at
    the throat's end (or the joint's top) and at the flare's start (or the joint's bottom).
    """

    barrel_length: float | None
    barrel_top: float | None
    barrel_bottom: float | None
    throat_length: float
    throat_widening: float
    cylinders: list[tuple[str, float, float]]
    flare_part: str
    flare_start: float
    flare_growth: float
    bell_length: float | None
    bell_top: float | None
    rim: float | None


def bore_features(instrument: Instrument) -> BoreFeatures:
    """The features of an instrument's bore."""
    found = roles(instrument)
    parts = instrument.parts
    barrel = parts[found.barrels[0]] if found.barrels else None
    bell = parts[found.bells[-1]] if found.bells else None
    first, last = parts[found.joints[0]], parts[found.joints[-1]]
    end, start = throat_end(first), flare_start(last)
    cylinders = []
    for number in found.joints:
        part = parts[number]
        top = end if part is first else part.bore[0][0]
        bottom = start if part is last else part.bore[-1][0]
        cylinders.append(
            (part.name, part.bore_diameter_at(top, 1), part.bore_diameter_at(bottom, -1))
        )
    return BoreFeatures(
        barrel_length=barrel.length_mm if barrel else None,
        barrel_top=barrel.bore[0][1] if barrel else None,
        barrel_bottom=barrel.bore[-1][1] if barrel else None,
        throat_length=end - first.bore[0][0],
        throat_widening=first.bore[0][1] - first.bore_diameter_at(end, -1),
        cylinders=cylinders,
        flare_part=last.name,
        flare_start=start,
        flare_growth=last.bore[-1][1] - last.bore_diameter_at(start, 1),
        bell_length=bell.length_mm if bell else None,
        bell_top=bell.bore[0][1] if bell else None,
        rim=bell.bore[-1][1] if bell else None,
    )
