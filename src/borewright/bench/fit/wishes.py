"""Which dimensions the file frees, as a grid of holes and parts, and back into the file's words."""

from __future__ import annotations

from collections.abc import Iterable

from borewright.model import FitWishes, Instrument
from borewright.model.fit_wishes import read_free

HOLE_MEASURES = ("station", "diameter", "chimney", "undercut")
PART_MEASURES = ("length", "bore_diameter", "bore_station")


def free_cells(instrument: Instrument) -> set[str]:
    """Every hole and part dimension that is free, as ``L3.station`` or ``barrel.length``."""
    free: set[str] = set()
    parts = [part.name for part in instrument.parts]
    for wish in map(read_free, instrument.fit.free):
        measures = (wish.measure,)
        if wish.measure in PART_MEASURES:
            free |= {f"{part}.{wish.measure}" for part in parts if wish.frees(measures, part)}
        else:
            holes = instrument.hole_names()
            free |= {f"{hole}.{wish.measure}" for hole in holes if wish.frees(measures, "", hole)}
    return free


def wishes_from(instrument: Instrument, free: Iterable[str]) -> FitWishes:
    """The wishes of a grid; a column that is wholly free is one word, ``hole.station``.

    Features that the grid does not show (a cylinder, the flare's law) stay as they are.
    """
    free = set(free)
    holes = instrument.hole_names()
    words: list[str] = []
    for measure in HOLE_MEASURES:
        chosen = [hole for hole in holes if f"{hole}.{measure}" in free]
        if holes and chosen == holes:
            words.append(f"hole.{measure}")
        else:
            words += [f"{hole}.{measure}" for hole in chosen]
    for part in instrument.parts:
        words += [f"{part.name}.{m}" for m in PART_MEASURES if f"{part.name}.{m}" in free]
    shown = {*HOLE_MEASURES, *PART_MEASURES}
    words += [wish for wish in instrument.fit.free if read_free(wish).measure not in shown]
    return FitWishes.model_validate({**instrument.fit.model_dump(), "free": words})
