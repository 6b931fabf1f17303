"""What a set of parts costs in mass, filament and hours, with the method stated."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from borewright.errors import PrintingError
from borewright.model import SolidPart
from borewright.model.base import Entity
from borewright.printing.profiles import MaterialProfile, PrinterProfile
from borewright.words import Joined, Said, joined, say, say_many

#: Common filament diameter (mm).
FILAMENT_MM = 1.75
#: Share of the time in which the nozzle really lays material at its set speed: corners,
#: travel and cooling take the rest (from memory; measure your own printer).
BUSY_SHARE = 0.6

_MASS = say(
    "Mass is the body's volume by the solid itself, printed full (no infill pattern), "
    "times the material's density."
)
_UNCOUNTED = say("Supports and brims are not counted.")
METHOD = joined(
    [
        _MASS,
        say(
            "Time is that volume over nozzle width × layer height × speed × {share:g} (the share "
            "of time in which the nozzle lays material, from memory), plus a pause for every "
            "layer and one warming-up a part.",
            share=BUSY_SHARE,
        ),
        _UNCOUNTED,
        say(
            "Expect the time to be off by a third either way until you have timed your own printer."
        ),
    ]
)
#: Shares outside these are slips of the pen: no nozzle lays more than always.
_LEAST_SHARE, _MOST_SHARE = 0.05, 1.5


@dataclass(frozen=True)
class TimeLine:
    """The share of time in which a printer's nozzle lays material, and how sure that is.

    ``miss`` is the typical share by which the finished prints' own hours are missed (root mean
    square), None from fewer than two of them.
    """

    share: float
    prints: int
    miss: float | None


def time_line(printer: PrinterProfile) -> TimeLine:
    """The share from the printer's finished prints by least squares; from memory without any.

    Raises PrintingError where the hours cannot be those of the bodies.
    """
    if not printer.finished:
        return TimeLine(BUSY_SHARE, 0, None)
    laying = [
        one.volume_cm3 * 1000 / _rate(printer, one.layer_mm or printer.layer_mm)
        for one in printer.finished
    ]
    left = [
        3600 * one.hours - _pauses_s(printer, one.height_mm, one.layer_mm or printer.layer_mm)
        for one in printer.finished
    ]
    slowness = sum(x * y for x, y in zip(laying, left, strict=True)) / sum(x * x for x in laying)
    if not 1 / _MOST_SHARE <= slowness <= 1 / _LEAST_SHARE:
        raise PrintingError(
            say(
                "the hours of {count} finished prints cannot be those of their bodies at "
                "{speed:g} mm/s",
                count=len(laying),
                speed=printer.speed_mm_s,
            ),
            place=(say("printer '{printer}'", printer=printer.name), "finished"),
            remedy=say("Check volume_cm3, height_mm and hours, and the printer's speed_mm_s."),
        )
    misses = [
        (slowness * x - y) / (3600 * one.hours)
        for x, y, one in zip(laying, left, printer.finished, strict=True)
    ]
    miss = math.sqrt(sum(each**2 for each in misses) / (len(misses) - 1)) if misses[1:] else None
    return TimeLine(1 / slowness, len(laying), miss)


def _rate(printer: PrinterProfile, layer_mm: float) -> float:
    """What the nozzle lays while it lays (mm³/s)."""
    return printer.nozzle_mm * layer_mm * printer.speed_mm_s


def _pauses_s(printer: PrinterProfile, height_mm: float, layer_mm: float) -> float:
    """Layer changes and warming-up (s)."""
    return math.ceil(height_mm / layer_mm) * printer.layer_change_s + printer.warm_up_min * 60


def _method(line: TimeLine) -> Joined:
    if not line.prints:
        return METHOD
    told: list[Said] = [
        _MASS,
        say_many(
            "Time is calibrated by {count} finished print: its nozzle lays material {share:.0%} of "
            "the time.",
            "Time is calibrated by {count} finished prints: the nozzle lays material {share:.0%} "
            "of the time.",
            line.prints,
            share=line.share,
        ),
        _UNCOUNTED,
    ]
    if line.miss is not None:
        told.append(
            say("Their own hours are missed by {miss:.0%}, one standard deviation.", miss=line.miss)
        )
    return joined(told)


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
    parts: Sequence[SolidPart],
    printer: PrinterProfile,
    material: MaterialProfile,
    layers_mm: Mapping[str, float] | None = None,
) -> Estimate:
    """Mass, filament, time and cost of exported parts, printed full and upright.

    ``layers_mm`` are parts that are printed in other layers than the printer's usual ones.
    """
    layers = layers_mm or {}
    line = time_line(printer)
    rows = [
        _one(part, printer, material, line.share, layers.get(part.part, printer.layer_mm))
        for part in parts
    ]
    return Estimate(
        printer=printer.name,
        material=material.name,
        parts=rows,
        mass_g=sum(row.mass_g for row in rows),
        filament_m=sum(row.filament_m for row in rows),
        hours=sum(row.hours for row in rows),
        cost=sum(row.cost for row in rows),
        method=_method(line),
    )


def _one(
    part: SolidPart,
    printer: PrinterProfile,
    material: MaterialProfile,
    share: float,
    layer_mm: float,
) -> PartEstimate:
    mass = part.volume_mm3 / 1000 * material.density_g_cm3
    filament = part.volume_mm3 / (math.pi * FILAMENT_MM**2 / 4) / 1000
    seconds = part.volume_mm3 / (_rate(printer, layer_mm) * share)
    seconds += _pauses_s(printer, part.bounding_box_mm[2], layer_mm)
    hours = seconds / 3600
    return PartEstimate(
        part=part.part,
        volume_mm3=part.volume_mm3,
        mass_g=mass,
        filament_m=filament,
        hours=hours,
        cost=mass / 1000 * material.price_per_kg + hours * printer.price_per_hour,
    )
