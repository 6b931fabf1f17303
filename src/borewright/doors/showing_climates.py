"""Climates as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, figure, signed, told
from borewright.doors.showing import register_words
from borewright.tasks.climates import InClimates
from borewright.tasks.naming import title
from borewright.words import Reader


def climate_lines(words: Reader, found: InClimates) -> Iterator[str]:
    """Cents by room, the warm-up, and what each parameter does, by register."""
    yield words.tell(title(found.instrument))
    yield ""
    yield words("cents from the pitch standard")
    tables = list(found.rooms.values())
    rows = [
        (notes[0].fingering, *(signed(words, note.cents) for note in notes))
        for notes in zip(*(table.notes for table in tables), strict=True)
    ]
    rooms = [told(words, name) for name in found.rooms]
    yield from columns((words("note"), *rooms), rows, right=range(1, len(tables) + 1))
    yield ""
    for name, table in zip(rooms, tables, strict=True):
        yield f"{name}: {words.tell(table.climate)}"
    yield ""
    yield words("warm-up: mean cents after minutes of playing")
    registers = list(found.warm_up[0].mean_cents) if found.warm_up else []
    names = [register_words(words, register) for register in registers]
    rows = [
        (
            words.number(point.minutes, "g"),
            figure(words, point.reed_end_c),
            *(signed(words, point.mean_cents[register]) for register in registers),
        )
        for point in found.warm_up
    ]
    headings = (words("minutes"), words("reed end °C"), *names)
    yield from columns(headings, rows, right=range(len(headings)))
    yield ""
    yield words("cents for one step of each parameter")
    rows = []
    for effect in found.effects:
        step = _STEPS.get(str(effect.parameter), 1.0)
        size = f"{words.number(step, 'g')} {told(words, effect.unit)}".strip()
        cents = (signed(words, step * effect.cents_per_unit[each], 2) for each in registers)
        rows.append((told(words, effect.parameter), size, *cents))
    headings = (words("parameter"), words("step"), *names)
    yield from columns(headings, rows, right=range(2, len(headings)))
    if tables:
        yield ""
        yield words("model: {level}", level=tables[0].model_level)


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
