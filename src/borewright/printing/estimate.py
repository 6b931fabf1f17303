"""What a set of parts costs in mass, filament and hours, with the method stated."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from borewright.errors import PrintingError
from borewright.model import SolidPart
from borewright.model.base import Entity
from borewright.printing.profiles import MaterialProfile, PrinterProfile
from borewright.solids import Support, support_volume_mm3
from borewright.words import Joined, Said, joined, say, say_many

#: Common filament diameter (mm).
FILAMENT_MM = 1.75
#: Share of the time in which the nozzle lays material at its set speed: corners and travel take
#: the rest. From four bodies in three layer heights as a general slicer reckons them (the manual
#: has the table); a printer of one's own is told by its finished prints.
BUSY_SHARE = 0.86
#: A laid bead is so many nozzles wide, as general slicers lay it.
_BEAD_NOZZLES = 1.125

_MASS = say(
    "Mass is the body's volume by the solid itself, printed full (no infill pattern), "
    "times the material's density."
)
_UNCOUNTED = say("Collars, sleeves and brims of the files are counted, in mass and time.")
METHOD = joined(
    [
        _MASS,
        say(
            "Time is that volume over the bead's section × speed × {share:g} (the share of time "
            "in which the nozzle lays material, from what a general slicer reckons), plus a pause "
            "for every layer and one warming-up a part.",
            share=BUSY_SHARE,
        ),
        _UNCOUNTED,
        say("Slicers and this differ by up to a fifth, printers from both by more: time your own."),
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
    """What the nozzle lays while it lays (mm³/s): beads with round sides, side by side."""
    bead = _BEAD_NOZZLES * printer.nozzle_mm - layer_mm * (1 - math.pi / 4)
    return bead * layer_mm * printer.speed_mm_s


def time_factor(printer: PrinterProfile, other: PrinterProfile) -> float:
    """How much longer the other printer lays the same body, pauses between layers apart."""
    return _rate(printer, printer.layer_mm) / _rate(other, other.layer_mm)


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
    """One part: volume (mm³), mass (g), filament (m), time (h), cost (the profile's money).

    ``support_mm3`` is what is printed with it and taken off; all but ``volume_mm3`` count it in.
    """

    part: str
    volume_mm3: float
    support_mm3: float
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
    supports: Mapping[str, Sequence[Support]] | None = None,
) -> Estimate:
    """Mass, filament, time and cost of exported parts, printed full and upright.

    ``layers_mm`` are parts that are printed in other layers than the printer's usual ones;
    ``supports`` are printed with them and taken off.
    """
    line = time_line(printer)
    rows = []
    for part in parts:
        layer = (layers_mm or {}).get(part.part, printer.layer_mm)
        carried = sum(support_volume_mm3(one) for one in (supports or {}).get(part.part, []))
        rows.append(_one(part, carried, printer, material, line.share, layer))
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
    support_mm3: float,
    printer: PrinterProfile,
    material: MaterialProfile,
    share: float,
    layer_mm: float,
) -> PartEstimate:
    volume = part.volume_mm3 + support_mm3
    mass = volume / 1000 * material.density_g_cm3
    filament = volume / (math.pi * FILAMENT_MM**2 / 4) / 1000
    seconds = volume / (_rate(printer, layer_mm) * share)
    seconds += _pauses_s(printer, part.bounding_box_mm[2], layer_mm)
    hours = seconds / 3600
    return PartEstimate(
        part=part.part,
        volume_mm3=part.volume_mm3,
        support_mm3=support_mm3,
        mass_g=mass,
        filament_m=filament,
        hours=hours,
        cost=mass / 1000 * material.price_per_kg + hours * printer.price_per_hour,
    )
