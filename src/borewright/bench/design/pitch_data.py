"""A tuning table as the pitch chart takes it."""

from __future__ import annotations

from typing import Any

from borewright.bench.words import _
from borewright.model import (
    ErrorBars,
    FitWishes,
    Instrument,
    SensitivityMap,
    TuningTable,
    Use,
    dimensions,
    note_number,
)

#: Fingerings apart are known compromises; none of them counts as out of tune.
NEVER_OUT_CENTS = 1e9


def pitch_data(
    table: TuningTable,
    wishes: FitWishes,
    bars: ErrorBars | None = None,
    before: TuningTable | None = None,
) -> dict[str, Any]:
    """Everything the chart shows of a table; cents of no pitch are None."""
    allowed = {
        Use.STANDARD: wishes.tolerance_cents,
        Use.ALTERNATE: wishes.alternate_tolerance_cents,
        Use.APART: NEVER_OUT_CENTS,
    }
    spread = {bar.fingering: bar for bar in bars.bars} if bars else {}
    former = {note.fingering: note.cents for note in before.notes} if before else {}
    return {
        "notes": [
            {
                "name": note.fingering,
                "written": note.written,
                "number": note_number(note.written),
                "register": note.register_.value,
                "use": note.use.value,
                "status": _.tell(note.status),
            }
            for note in table.notes
        ],
        "cents": [note.cents for note in table.notes],
        "twelfths": [
            {"low": each.low, "high": each.high, "cents": each.stretch_cents}
            for each in table.twelfths
        ],
        "tolerance": wishes.tolerance_cents,
        "tolerances": [allowed[note.use] for note in table.notes],
        "bars": [spread[note.fingering].total_cents for note in table.notes] if bars else None,
        "departures": (
            [spread[note.fingering].departure_cents for note in table.notes] if bars else None
        ),
        "ghosts": [former.get(note.fingering) for note in table.notes] if before else None,
    }


def live_data(table: TuningTable) -> dict[str, Any]:
    """What changes while something is dragged."""
    return {
        "cents": [note.cents for note in table.notes],
        "twelfths": [each.stretch_cents for each in table.twelfths],
    }


def moves_of_note(instrument: Instrument, sensitivity: SensitivityMap, note: str) -> dict[str, Any]:
    """How much each hole moves a note: cents for 0.1 mm of its diameter, and its share of most."""
    if note not in sensitivity.fingerings:
        return {}
    row = sensitivity.cents_per_tenth_mm[sensitivity.fingerings.index(note)]
    found = {
        dimension.hole: cents
        for dimension, cents in zip(dimensions(instrument), row, strict=True)
        if dimension.hole and dimension.measure == "diameter"
    }
    most = max((abs(cents) for cents in found.values()), default=0.0) or 1.0
    return {
        hole: {"cents": cents, "share": abs(cents) / most, "words": _.number(cents, "+.1f")}
        for hole, cents in found.items()
        if abs(cents) / most > 0.02
    }


def sways_of_hole(
    instrument: Instrument, sensitivity: SensitivityMap, hole: str, measure: str = "diameter"
) -> list[float]:
    """How much 0.1 mm of a hole moves each note (cents); empty where there is no such hole."""
    columns = [
        column
        for column, dimension in enumerate(dimensions(instrument))
        if dimension.hole == hole and dimension.measure == measure
    ]
    return [row[columns[0]] for row in sensitivity.cents_per_tenth_mm] if columns else []
