"""Printers and materials: what they can do, and where each figure comes from.

The printers are invented; measure your own. Sources: [S17] a public table of additive
manufacturing materials; [S18] Kariz et al., Materials Today Communications 14 (2018) 135;
[S19] a University of Ljubljana thesis (92541); "memory": from memory, unverified;
"common practice".
"""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from borewright.errors import PrintingError, RefusedValue
from borewright.model.base import Entity, Finite, Name, NotNegative, Positive
from borewright.model.bounds import Bounded
from borewright.words import Said, say

_Build = Annotated[Positive, Bounded("build_mm")]
_Density = Annotated[Positive, Bounded("density_g_cm3")]
_GlassTransition = Annotated[Finite, Bounded("glass_transition_c")]
_Modulus = Annotated[Positive, Bounded("modulus_gpa")]


class FinishedPrint(Entity):
    """A print that this printer finished: its body (cm³, mm), its layers (mm), and the hours."""

    volume_cm3: Annotated[Positive, Bounded("finished_cm3")]
    height_mm: Annotated[Positive, Bounded("print_height_mm")]
    hours: Annotated[Positive, Bounded("print_hours")]
    layer_mm: Annotated[Positive, Bounded("layer_mm")] | None = None


class PrinterProfile(Entity):
    """A printer (mm, mm/s, money per hour in the workshop's own currency).

    ``finished`` are prints whose hours are known: they calibrate the times of the next ones.
    """

    name: Name
    build_mm: tuple[_Build, _Build, _Build]
    nozzle_mm: Annotated[Positive, Bounded("nozzle_mm")] = 0.4
    layer_mm: Annotated[Positive, Bounded("layer_mm")] = 0.12
    speed_mm_s: Annotated[Positive, Bounded("speed_mm_s")] = 45.0
    layer_change_s: Annotated[NotNegative, Bounded("layer_change_s")] = 0.5
    warm_up_min: Annotated[NotNegative, Bounded("warm_up_min")] = 8.0
    margin_mm: Annotated[NotNegative, Bounded("bed_margin_mm")] = 2.0
    widest_bridge_mm: Annotated[Positive, Bounded("bridge_mm")] = 6.0
    widest_overhang_mm: Annotated[Positive, Bounded("bridge_mm")] = 1.0
    price_per_hour: Annotated[NotNegative, Bounded("price")] = 0.6
    finished: list[FinishedPrint] = []
    source: str = "invented"

    @model_validator(mode="after")
    def _fits(self) -> PrinterProfile:
        if self.layer_mm > self.nozzle_mm:
            raise RefusedValue(
                say(
                    "layer_mm is {layer_mm:g}, thicker than the nozzle of {nozzle_mm:g} mm",
                    layer_mm=self.layer_mm,
                    nozzle_mm=self.nozzle_mm,
                ),
                say("A layer is at most as thick as the nozzle is wide; half of it is usual."),
            )
        if 2 * self.margin_mm >= min(self.build_mm):
            raise RefusedValue(
                say(
                    "margin_mm of {margin_mm:g} leaves nothing of a room of {build_mm:g} mm",
                    margin_mm=self.margin_mm,
                    build_mm=min(self.build_mm),
                ),
                say("Give the strip along the bed's edge that stays free, usually 2 to 5 mm."),
            )
        for done in self.finished:
            if done.height_mm > self.build_mm[2]:
                raise RefusedValue(
                    say(
                        "a finished print is {height_mm:g} mm tall, but the printer prints up to "
                        "{build_mm:g} mm",
                        height_mm=done.height_mm,
                        build_mm=self.build_mm[2],
                    ),
                    say("Correct the height or the printer's room."),
                )
        return self


class MaterialProfile(Entity):
    """A filament (g/cm³, °C, 1/K, GPa, mm, money per kilogram), each figure with its source.

    ``water_growth`` is what a body, unsealed, grows in length from dry (20 % humidity) to damp
    (80 %), as a share; None where nobody has measured it.
    ``least_wall_mm`` is the thinnest wall that prints sound, ``least_tenon_wall_mm`` that of a
    tenon under its cork; ``density_range`` is what the source allows.
    """

    name: Name
    density_g_cm3: _Density
    density_range: tuple[_Density, _Density]
    glass_transition_c: _GlassTransition
    glass_transition_range: tuple[_GlassTransition, _GlassTransition]
    expansion_per_k: Annotated[Positive, Bounded("expansion_per_k")]
    water_growth: Annotated[NotNegative, Bounded("water_growth")] | None = None
    modulus_gpa: tuple[_Modulus, _Modulus]
    least_wall_mm: Annotated[Positive, Bounded("least_wall_mm")] = 1.2
    least_tenon_wall_mm: Annotated[Positive, Bounded("least_wall_mm")] = 2.5
    price_per_kg: Annotated[NotNegative, Bounded("price")] = 25.0
    colour: tuple[int, int, int] = (200, 170, 120)
    sources: dict[str, Said]

    @model_validator(mode="after")
    def _ranges_rise(self) -> MaterialProfile:
        for key, inside, (low, high) in (
            ("density_range", self.density_g_cm3, self.density_range),
            ("glass_transition_range", self.glass_transition_c, self.glass_transition_range),
            ("modulus_gpa", self.modulus_gpa[0], self.modulus_gpa),
        ):
            if not low <= inside <= high:
                raise RefusedValue(
                    say(
                        "{key} runs from {low:g} to {high:g}, and the figure is {inside:g}",
                        key=key,
                        low=low,
                        high=high,
                        inside=inside,
                    ),
                    say("Write the smaller end first, with the figure between the two."),
                )
        return self


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
