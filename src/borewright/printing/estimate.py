"""What a set of parts costs in mass, filament and hours, with the method stated."""

from __future__ import annotations

import math
from collections.abc import Sequence

from borewright.model import SolidPart
from borewright.model.base import Entity
from borewright.printing.profiles import MaterialProfile, PrinterProfile
from borewright.words import Said, joined, say

#: Common filament diameter (mm).
FILAMENT_MM = 1.75
#: Share of the time in which the nozzle really lays material at its set speed: corners,
#: travel and cooling take the rest (from memory; measure your own printer).
BUSY_SHARE = 0.6

METHOD = joined(
    [
        say(
            "Mass is the body's volume by the solid itself, printed full (no infill pattern), "
            "times the material's density."
        ),
        say(
            "Time is that volume over nozzle width × layer height × speed × {share:g} (the share "
            "of time in which the nozzle lays material, from memory), plus a pause for every "
            "layer and one warming-up a part.",
            share=BUSY_SHARE,
        ),
        say("Supports and brims are not counted."),
        say(
            "Expect the time to be off by a third either way until you have timed your own printer."
        ),
    ]
)


class PartEstimate(Entity):
    """One part: volume (mm³), mass (g), filament (m), time (h), cost (the profile's money)."""

    part: str
    volume_mm3: float
    mass_g: float
    filament_m: float
    hours: float
    cost: float


class Estimate(Entity):
    """All parts, their sums, and how it was reckoned."""

    printer: str
    material: str
    parts: list[PartEstimate]
    mass_g: float
    filament_m: float
    hours: float
    cost: float
    method: Said = METHOD


def estimate(
    parts: Sequence[SolidPart], printer: PrinterProfile, material: MaterialProfile
) -> Estimate:
    """Mass, filament, time and cost of exported parts, printed full and upright."""
    rows = [_one(part, printer, material) for part in parts]
    return Estimate(
        printer=printer.name,
        material=material.name,
        parts=rows,
        mass_g=sum(row.mass_g for row in rows),
        filament_m=sum(row.filament_m for row in rows),
        hours=sum(row.hours for row in rows),
        cost=sum(row.cost for row in rows),
    )


def _one(part: SolidPart, printer: PrinterProfile, material: MaterialProfile) -> PartEstimate:
    mass = part.volume_mm3 / 1000 * material.density_g_cm3
    filament = part.volume_mm3 / (math.pi * FILAMENT_MM**2 / 4) / 1000
    flow = printer.nozzle_mm * printer.layer_mm * printer.speed_mm_s * BUSY_SHARE
    layers = math.ceil(part.bounding_box_mm[2] / printer.layer_mm)
    seconds = part.volume_mm3 / flow + layers * printer.layer_change_s
    hours = seconds / 3600 + printer.warm_up_min / 60
    return PartEstimate(
        part=part.part,
        volume_mm3=part.volume_mm3,
        mass_g=mass,
        filament_m=filament,
        hours=hours,
        cost=mass / 1000 * material.price_per_kg + hours * printer.price_per_hour,
    )
