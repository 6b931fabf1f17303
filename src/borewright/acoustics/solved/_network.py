"""T-network lengths from conductances: pure arithmetic, no mesh."""

from __future__ import annotations

import math

import numpy as np

from borewright.acoustics.solved._potential import Conductances
from borewright.acoustics.solved.bore_section import BoreSection
from borewright.acoustics.solved.shape import HoleShape


def open_lengths(
    shape: HoleShape, section: BoreSection, solved: Conductances
) -> tuple[float, float]:
    """Series and shunt length (mm) of a hole with a way out.

    The impedance matrix of a T is its shunt off the diagonal; each diagonal element is that
    plus one side of the bore plus half the series impedance.
    """
    impedance = np.linalg.inv(solved.ends)
    shunt = float(impedance[0, 1])
    through = float(impedance[0, 0] + impedance[1, 1]) - 2.0 * shunt
    bare = section.upper.inertance + section.lower.inertance
    return (through - bare) * _bore_area(shape), shunt * math.pi * shape.radius_mm**2


def closed_lengths(
    shape: HoleShape, section: BoreSection, solved: Conductances, displaced: float
) -> tuple[float, float, float]:
    """Series length, shunt inertance length (mm) and the hole's volume (mm³), closed.

    At low frequency all air is compressed alike: a uniform source, taken up at the ends. The
    kinetic energy of that flow in three dimensions is compared with the T network's, whose
    bore sides fill themselves, less the volume ``displaced`` (mm³) by a lining at the hole's
    station, and whose shunt branch carries the hole's volume.
    """
    upper, lower = section.upper, section.lower
    through = 1.0 / float(solved.ends[0, 0])
    series = through - upper.inertance - lower.inertance
    added = solved.volume - upper.volume - lower.volume
    # Let half of what the hole takes come from either side: then nothing passes through the
    # junction, whose place, not quite the hole's axis in a cone, does not matter. Shifting a
    # flow from one end to the other adds its square times the impedance it goes through.
    half = added / 2
    energy = solved.filling + (upper.volume + half - solved.upper_flow) ** 2 * through
    sides = 2 * half**2 * series / 2
    for side in (upper, lower):
        first, second = side.moments()
        sides += half**2 * side.inertance + 2 * half * first + second
    volume = added + displaced
    shunt = (energy - sides) / volume**2
    return series * _bore_area(shape), shunt * math.pi * shape.radius_mm**2, volume


def _bore_area(shape: HoleShape) -> float:
    return math.pi * shape.bore_radius_mm**2
