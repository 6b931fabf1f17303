"""The rows of an inspection sheet with what was drawn for the printer, to be fed back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from borewright.model import Instrument, Part
from borewright.model.profile import diameter_at
from borewright.words import say

if TYPE_CHECKING:
    from borewright.documents import InspectionRow
    from borewright.printing import Down


@dataclass(frozen=True)
class Drawn:
    """What went to the printer, and how: the instrument as drawn, stances, holes' shapes, lot.

    Sizes that are reamed afterwards tell nothing of the printer.
    """

    instrument: Instrument
    downs: Mapping[str, Down]
    lifts_mm: Mapping[str, float]
    lot: str = ""
    bores_reamed: bool = False
    holes_reamed: bool = False


def gauged_rows(part: Part, rows: Sequence[InspectionRow], drawn: Drawn) -> list[InspectionRow]:
    """The rows of a part, each with its kind and the size drawn; holes twice, level and along."""
    down = drawn.downs.get(part.name)
    if down is None:
        return list(rows)
    from borewright.printing import FeatureKind, ends_on_bed

    made = drawn.instrument.part(part.name)
    # Sizes as drawn at the places where the design has them: what is measured is the finished part.
    sizes = [(at, size) for (at, _), (_, size) in zip(part.bore, made.bore, strict=True)]
    found: list[InspectionRow] = []
    for row in rows:
        row = replace(row, lot=drawn.lot)
        if row.item == "length":
            on_bed = ends_on_bed(part, down)
            row = replace(row, kind=FeatureKind.LENGTH, drawn_mm=made.length_mm, from_bed=on_bed)
        elif row.item.startswith(("tenon_", "socket_")):
            kind = FeatureKind.OUTSIDE if row.item.startswith("tenon") else FeatureKind.BORE
            row = replace(row, kind=kind, drawn_mm=getattr(made, row.item).diameter_mm)
        elif row.item == "bore" and row.station_mm is not None and not drawn.bores_reamed:
            size = diameter_at(sizes, row.station_mm, 1)
            row = replace(row, kind=FeatureKind.BORE, drawn_mm=size)
        elif row.item == "diameter" and not drawn.holes_reamed:
            size, lift = made.hole(row.hole).diameter_mm, drawn.lifts_mm.get(row.hole, 0.0)
            found.append(
                replace(
                    row,
                    kind=FeatureKind.HOLE_ACROSS,
                    drawn_mm=size + max(0.0, -lift),
                    tool=say("small-hole gauge, level"),
                )
            )
            row = replace(
                row,
                kind=FeatureKind.HOLE_UPRIGHT,
                drawn_mm=size + max(0.0, lift),
                tool=say("small-hole gauge, along"),
            )
        found.append(row)
    return found
