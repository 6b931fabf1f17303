"""What every dimension of an instrument is called: bores in the maker's words."""

from __future__ import annotations

from collections import Counter

from borewright.model.bores.feature_names import PointNames
from borewright.model.bores.makers_features import runs_of
from borewright.model.dimensions import Dimension, dimensions
from borewright.model.instrument import Instrument
from borewright.model.part import Part
from borewright.words import Message, say


def dimension_words(instrument: Instrument) -> list[Message]:
    """Names in the order of :func:`borewright.model.dimensions`, no two alike.

    A bore point is called by the edge that it is, ``upper joint, upper step, lower side``, and
    by its place where it lies between two or shares its name: ``bell, bore at 43 mm``.
    """
    points = {part.name: _point_words(instrument, part) for part in instrument.parts}
    return [_words(each, points) for each in dimensions(instrument)]


def _words(dimension: Dimension, points: dict[str, list[tuple[Message, Message]]]) -> Message:
    if dimension.index < 0:
        return dimension.words
    diameter, place = points[dimension.part][dimension.index]
    return diameter if dimension.measure == "bore_diameter" else place


def _point_words(instrument: Instrument, part: Part) -> list[tuple[Message, Message]]:
    """Diameter and place of every point of a part's bore, in words."""
    runs = runs_of(part)
    names = PointNames(instrument, part, [(run.kind.value, run.first, run.last) for run in runs])
    edges = {edge for run in runs for edge in (run.first, run.last)}
    called: list[Message | None] = []
    for point in range(len(part.bore)):
        words = None
        if point in (0, len(part.bore) - 1) or (point in edges and names.is_step(point)):
            words = names.diameter(point)
        elif point in edges:
            place, measure = names.place(point)
            # A bend is better found by its place than by its number.
            words = None if measure == "bend" else place
        called.append(words)
    often = Counter(str(words) for words in called if words is not None)
    found = []
    for point, ((station, _), words) in enumerate(zip(part.bore, called, strict=True)):
        if words is None or often[str(words)] > 1:
            again = point > 0 and part.bore[point - 1][0] == station
            words = (
                say("bore just below {station:g} mm", station=station)
                if again
                else say("bore at {station:g} mm", station=station)
            )
        diameter = say("{part}, {feature}", part=part.name, feature=words)
        found.append((diameter, say("{feature}, place", feature=diameter)))
    return found
