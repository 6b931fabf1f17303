"""The drawing that stands behind a fitted instrument, and remembering it."""

from __future__ import annotations

from borewright.model.dimensions import dimensions, read_values, with_values
from borewright.model.drawn import Drawing, DrawnHole, DrawnPart, Pair
from borewright.model.instrument import Instrument
from borewright.model.part import Part

#: Two values nearer than this (mm) are the same: files hold hundredths.
_SAME_MM = 0.0051
_HOLE_MEASURES = ("station", "diameter", "chimney", "undercut_diameter")


def drawn(instrument: Instrument) -> Instrument:
    """The instrument as it was drawn: fitted dimensions put back to their drawn values.

    Parameters
    ----------
    instrument
        Its table ``drawing`` tells what fits moved. A dimension that stands elsewhere than its
        fit left it keeps its present value.
    """
    values = drawn_values(instrument)
    if values == read_values(instrument):
        return instrument.model_copy(update={"drawing": Drawing()})
    bare = instrument.model_copy(update={"drawing": Drawing()})
    return with_values(bare, values)


def drawn_values(instrument: Instrument) -> list[float]:
    """Drawn values (mm) of all dimensions, in the order of ``dimensions``."""
    found = []
    for dimension, value in zip(dimensions(instrument), read_values(instrument), strict=True):
        pair = None
        if dimension.hole and dimension.measure in _HOLE_MEASURES:
            hole = instrument.drawing.hole.get(dimension.hole)
            pair = getattr(hole, f"{dimension.measure}_mm") if hole else None
        elif dimension.part in instrument.drawing.part:
            part = instrument.drawing.part[dimension.part]
            if dimension.measure == "length":
                pair = part.length_mm
            elif dimension.index >= 0:
                column = 0 if dimension.measure == "bore_station" else 1
                pair = _bore_pair(instrument.part(dimension.part), part, dimension.index, column)
        found.append(pair[0] if pair and abs(pair[1] - value) < _SAME_MM else value)
    return found


def _bore_pair(part: Part, kept: DrawnPart, index: int, column: int) -> Pair | None:
    """Drawn and fitted value of a bore point; none where the bore has other points now."""
    if kept.bore is None or kept.fitted_bore is None:
        return None
    if not len(kept.bore) == len(kept.fitted_bore) == len(part.bore):
        return None
    return kept.bore[index][column], kept.fitted_bore[index][column]


def remembering(fitted: Instrument, drawing: Instrument) -> Instrument:
    """A fitted instrument that remembers the drawing it came from.

    Parameters
    ----------
    fitted, drawing
        Of the same structure; every difference is written into ``drawing``.
    """
    parts: dict[str, DrawnPart] = {}
    holes: dict[str, DrawnHole] = {}
    for new, old in zip(fitted.parts, drawing.parts, strict=True):
        row: dict[str, object] = {}
        if new.length_mm != old.length_mm:
            row["length_mm"] = (old.length_mm, new.length_mm)
        if new.bore != old.bore:
            row |= {"bore": old.bore, "fitted_bore": new.bore}
        if row:
            parts[new.name] = DrawnPart.model_validate(row)
    old_values = dict(zip(dimensions(drawing), read_values(drawing), strict=True))
    for dimension, value in zip(dimensions(fitted), read_values(fitted), strict=True):
        before = old_values[dimension]
        if dimension.hole and dimension.measure in _HOLE_MEASURES and value != before:
            kept = holes.get(dimension.hole, DrawnHole())
            key = f"{dimension.measure}_mm"
            holes[dimension.hole] = kept.model_copy(update={key: (before, value)})
    return fitted.model_copy(update={"drawing": Drawing(part=parts, hole=holes)})
