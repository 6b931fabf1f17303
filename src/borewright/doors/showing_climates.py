"""Climates as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, signed
from borewright.doors.showing import title
from borewright.tasks.climates import InClimates


def climate_lines(found: InClimates) -> Iterator[str]:
    """Cents by room, the warm-up, and what each parameter does, by register."""
    yield title(found.instrument)
    yield ""
    yield "cents from the pitch standard"
    tables = list(found.rooms.values())
    rows = [
        (notes[0].fingering, *("-" if n.cents is None else signed(n.cents) for n in notes))
        for notes in zip(*(table.notes for table in tables), strict=True)
    ]
    numbers = tuple(range(1, len(tables) + 1))
    yield from columns(("note", *found.rooms), rows, right=numbers)
    yield ""
    for name, table in found.rooms.items():
        yield f"{name}: {table.climate}"
    yield ""
    yield "warm-up: mean cents after minutes of playing"
    registers = list(found.warm_up[0].mean_cents) if found.warm_up else []
    rows = [
        (
            f"{point.minutes:g}",
            f"{point.reed_end_c:.1f}",
            *(signed(point.mean_cents[register]) for register in registers),
        )
        for point in found.warm_up
    ]
    headings = ("minutes", "reed end °C", *registers)
    yield from columns(headings, rows, right=tuple(range(len(headings))))
    yield ""
    yield "cents for one step of each parameter"
    rows = []
    for effect in found.effects:
        step = _STEPS.get(str(effect.parameter), 1.0)
        cents = (signed(step * effect.cents_per_unit[r], 2) for r in registers)
        rows.append((str(effect.parameter), f"{step:g} {effect.unit}".strip(), *cents))
    headings = ("parameter", "step", *registers)
    yield from columns(headings, rows, right=tuple(range(2, len(headings))))
    if tables:
        yield ""
        yield f"model: {tables[0].model_level}"


#: A step that is easily imagined, where one unit is not.
_STEPS = {
    "temperature decay length": 50.0,
    "relative humidity": 0.1,
    "carbon dioxide": 0.01,
    "pressure": 1000.0,
    "reed equivalent volume": 100.0,
    "reed resonance": 100.0,
    "reed damping": 0.1,
    "mouthpiece chamber": 100.0,
    "wall loss factor": 0.1,
}
