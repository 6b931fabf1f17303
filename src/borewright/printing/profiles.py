"""Printers and materials: what they can do, and where each figure comes from.

The printers are invented; measure your own. Sources: [S17] a public table of additive
manufacturing materials; [S18] Kariz et al., Materials Today Communications 14 (2018) 135;
[S19] a University of Ljubljana thesis (92541); "memory": from memory, unverified;
"common practice".
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from borewright.errors import PrintingError
from borewright.model.base import Entity, Finite, Name, NotNegative, Positive
from borewright.words import Said, say


class FinishedPrint(Entity):
    """A print that this printer finished: its body (cm³, mm), its layers (mm), and the hours."""

    volume_cm3: Positive
    height_mm: Positive
    hours: Positive
    layer_mm: Positive | None = None


class PrinterProfile(Entity):
    """A printer (mm, mm/s, money per hour in the workshop's own currency).

    ``finished`` are prints whose hours are known: they calibrate the times of the next ones.
    """

    name: Name
    build_mm: tuple[Positive, Positive, Positive]
    nozzle_mm: Positive = 0.4
    layer_mm: Positive = 0.12
    speed_mm_s: Positive = 45.0
    layer_change_s: NotNegative = 0.5
    warm_up_min: NotNegative = 8.0
    margin_mm: NotNegative = 2.0
    widest_bridge_mm: Positive = 6.0
    widest_overhang_mm: Positive = 1.0
    price_per_hour: NotNegative = 0.6
    finished: list[FinishedPrint] = []
    source: str = "invented"


class MaterialProfile(Entity):
    """A filament (g/cm³, °C, 1/K, GPa, mm, money per kilogram), each figure with its source.

    ``water_growth`` is what a body, unsealed, grows in length from dry (20 % humidity) to damp
    (80 %), as a share; None where nobody has measured it.
    ``least_wall_mm`` is the thinnest wall that prints sound, ``least_tenon_wall_mm`` that of a
    tenon under its cork; ``density_range`` is what the source allows.
    """

    name: Name
    density_g_cm3: Positive
    density_range: tuple[Positive, Positive]
    glass_transition_c: Annotated[Finite, Field(gt=0)]
    glass_transition_range: tuple[Positive, Positive]
    expansion_per_k: Positive
    water_growth: NotNegative | None = None
    modulus_gpa: tuple[Positive, Positive]
    least_wall_mm: Positive = 1.2
    least_tenon_wall_mm: Positive = 2.5
    price_per_kg: NotNegative = 25.0
    colour: tuple[int, int, int] = (200, 170, 120)
    sources: dict[str, Said]


PRINTERS: dict[str, PrinterProfile] = {
    printer.name: printer
    for printer in (
        PrinterProfile(name="tall frame", build_mm=(220, 220, 300)),
        PrinterProfile(name="cube 250", build_mm=(250, 250, 250)),
        PrinterProfile(name="small cube", build_mm=(180, 180, 180), layer_mm=0.15),
    )
}

MATERIALS: dict[str, MaterialProfile] = {
    material.name: material
    for material in (
        MaterialProfile(
            name="plain PLA",
            density_g_cm3=1.24,
            density_range=(1.22, 1.26),
            glass_transition_c=60.0,
            glass_transition_range=(55.0, 65.0),
            expansion_per_k=70e-6,
            water_growth=1e-3,
            modulus_gpa=(3.0, 4.0),
            sources={
                "density_g_cm3": say("[S17], middle of 1.22 to 1.26"),
                "glass_transition_c": say("[S17], middle of 55 to 65"),
                "expansion_per_k": say("memory"),
                "water_growth": say("memory: at most"),
                "modulus_gpa": say("[S17]"),
                "least_wall_mm": say("memory: chimneys"),
                "least_tenon_wall_mm": say("memory"),
                "price_per_kg": say("invented"),
            },
        ),
        MaterialProfile(
            name="wood-filled PLA",
            density_g_cm3=1.18,
            density_range=(1.10, 1.25),
            glass_transition_c=60.0,
            glass_transition_range=(55.0, 66.0),
            expansion_per_k=65e-6,
            water_growth=3e-3,
            modulus_gpa=(2.5, 3.5),
            price_per_kg=35.0,
            colour=(150, 105, 65),
            sources={
                "density_g_cm3": say("memory, 1.10 to 1.25; falls as wood rises [S18]"),
                "glass_transition_c": say("unchanged by wood [S18], range of [S17] and [S19]"),
                "expansion_per_k": say("memory, 50 to 80 millionths"),
                "water_growth": say("memory: at most"),
                "modulus_gpa": say("memory; falls with wood [S18]"),
                "least_wall_mm": say("memory: chimneys"),
                "least_tenon_wall_mm": say("memory"),
                "price_per_kg": say("invented"),
            },
        ),
    )
}


def printer_named(name: str) -> PrinterProfile:
    """The printer of that name. PrintingError where there is none."""
    if name not in PRINTERS:
        raise PrintingError(
            say("there is no printer '{name}'", name=name[:60]),
            place=say("printer"),
            remedy=say(
                "Printers are: {names}. Or give a profile of your own.", names=", ".join(PRINTERS)
            ),
        )
    return PRINTERS[name]


def material_named(name: str) -> MaterialProfile:
    """The material of that name. PrintingError where there is none."""
    if name not in MATERIALS:
        raise PrintingError(
            say("there is no material '{name}'", name=name[:60]),
            place=say("material"),
            remedy=say(
                "Materials are: {names}. Or give a profile of your own.", names=", ".join(MATERIALS)
            ),
        )
    return MATERIALS[name]
