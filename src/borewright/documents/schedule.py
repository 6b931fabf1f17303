"""The hole schedule: one row a tone hole, as a maker lists it."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.model import Cover, FitResult, Instrument, Rest
from borewright.words import Said, joined, say


@dataclass(frozen=True)
class HoleRow:
    """One tone hole (mm, degrees); pad, lift and rest are empty for a hole without a pad.

    ``from_top_mm`` is the distance from the top of the first part, the barrel of a
    clarinet. ``limit`` names what held the hole back in a fit.
    """

    part: str
    hole: str
    station_mm: float
    from_top_mm: float
    bearing_deg: float
    diameter_mm: float
    tube_height_mm: float
    chimney_mm: float
    cover: Cover
    pad_mm: float | None
    lift_mm: float | None
    rest: Rest | None
    limit: Said | None


def hole_schedule(instrument: Instrument, fit_result: FitResult | None = None) -> list[HoleRow]:
    """Every tone hole from the top down; limits come from ``fit_result`` where it is given."""
    limits: dict[tuple[str, str], list[Said]] = {}
    for move in fit_result.moved if fit_result else []:
        if move.hole and move.limit:
            limits.setdefault((move.part, move.hole), []).append(
                say(
                    "{dimension}: {limit}",
                    dimension=move.dimension,
                    limit=move.limit,
                )
            )
    rows = []
    for part, hole, from_top in instrument.placed_holes():
        rows.append(
            HoleRow(
                part=part.name,
                hole=hole.name,
                station_mm=hole.station_mm,
                from_top_mm=from_top,
                bearing_deg=hole.bearing_deg,
                diameter_mm=hole.diameter_mm,
                tube_height_mm=part.tube_height_mm(hole),
                chimney_mm=hole.chimney_mm,
                cover=hole.cover,
                pad_mm=hole.pad.diameter_mm if hole.pad else None,
                lift_mm=hole.pad.lift_mm if hole.pad else None,
                rest=hole.pad.rest if hole.pad else None,
                limit=joined(said, "; ") if (said := limits.get((part.name, hole.name))) else None,
            )
        )
    return sorted(rows, key=lambda row: row.from_top_mm)
