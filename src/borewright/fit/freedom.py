"""What a fit moves, how far from the drawing, and which limit in words stops each side."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from borewright.errors import FitError
from borewright.fit._hole_ranges import hole_side_range
from borewright.fit._sides import Side, within
from borewright.model import (
    Dimension,
    Instrument,
    KeyworkSurvey,
    ToneHole,
    dimensions,
    drawn,
    read_values,
)
from borewright.model.bores.makers_features import BoreFeature, makers_features
from borewright.model.fit_wishes import FREE_OF_HOLES, FreeWish, read_free
from borewright.words import Message, say

__all__ = ["Freedom", "Side", "freedoms"]

#: A step (mm) that counts as moderate for each measure; it scales what "close" means.
_SCALE_MM = {
    "station": 1.0,
    "diameter": 0.5,
    "chimney": 0.25,
    "length": 1.0,
    "barrel_length": 1.0,
    "bell_length": 2.0,
    "bore_station": 5.0,
    "bore_diameter": 0.1,
    "undercut": 0.5,
    "flare_law": 0.3,
}
#: The same for a diameter at the wide end of a flare.
_FLARE_SCALE_MM = 0.3


@dataclass(frozen=True)
class Freedom:
    """One free thing with its range: a dimension of a hole, or a feature of a bore.

    ``moves`` are (column, mm per mm of the feature), ``reads`` (column, factor) whose sum is
    the feature's value. ``column`` is the dimension that stands for it in tables.
    """

    column: int  # in model.dimensions
    dimension: Dimension
    words: Message  # with the part or hole it belongs to
    name: Message  # without it
    measure: str
    low: Side
    high: Side
    scale: float
    drawn: float
    moves: tuple[tuple[int, float], ...]
    reads: tuple[tuple[int, float], ...]

    def value(self, values: Iterable[float]) -> float:
        """The feature's value (mm), from those of all dimensions."""
        listed = list(values)
        return float(sum(factor * listed[column] for column, factor in self.reads))


def freedoms(instrument: Instrument, survey: KeyworkSurvey | None) -> list[Freedom]:
    """Free dimensions and features with their ranges, counted from the drawing.

    Raises
    ------
    FitError
        Where a wish frees nothing, or the limits of a dimension exclude each other.
    """
    drawing = drawn(instrument)
    wishes = [read_free(wish) for wish in instrument.fit.free]
    index = {dimension: column for column, dimension in enumerate(dimensions(drawing))}
    values = read_values(drawing)
    found = _of_bores(drawing, wishes, index, values)
    found += _of_holes(drawing, survey, wishes, index, values)
    _check_wishes(instrument, wishes)
    for freedom in found:
        if freedom.low.value > freedom.high.value:
            raise FitError(
                say(
                    "nothing is left between {low_mm:g} mm ({low}) and {high_mm:g} mm ({high})",
                    low_mm=freedom.low.value,
                    low=freedom.low.words,
                    high_mm=freedom.high.value,
                    high=freedom.high.words,
                ),
                place=freedom.words,
                remedy=say("Relax one of the two limits."),
            )
    if not found:
        raise FitError(
            say("nothing is free"),
            place="fit.free",
            remedy=say("Free hole.diameter, say."),
        )
    return found


def _check_wishes(instrument: Instrument, wishes: list[FreeWish]) -> None:
    """Every wish names something that there is."""
    for text, wish in zip(instrument.fit.free, wishes, strict=True):
        if wish.measure in FREE_OF_HOLES:
            known = any(
                wish.frees((wish.measure,), part.name, hole.name)
                and (wish.measure != "undercut" or hole.undercut)
                for part in instrument.parts
                for hole in part.holes
            )
        else:
            known = any(wish.frees((wish.measure,), part.name) for part in instrument.parts)
        names = {*instrument.hole_names(), *(part.name for part in instrument.parts)}
        if not known or not set(wish.excepted) <= names:
            raise FitError(
                say("'{wish}' matches nothing in '{instrument}'", wish=text,
                    instrument=instrument.name),
                place="fit.free",
                remedy=say("Name an existing part or hole, or 'hole' for all holes."),
            )  # fmt: skip


def _of_bores(
    drawing: Instrument,
    wishes: list[FreeWish],
    index: dict[Dimension, int],
    values: list[float],
) -> list[Freedom]:
    found = []
    for part in drawing.parts:
        for feature in makers_features(drawing, part):
            if not any(wish.frees(feature.frees, part.name) for wish in wishes):
                continue
            found.append(_of_feature(drawing, feature, index, values))
    return found


def _of_feature(
    drawing: Instrument,
    feature: BoreFeature,
    index: dict[Dimension, int],
    values: list[float],
) -> Freedom:
    reads = tuple((index[dimension], factor) for dimension, factor in feature.reads)
    value = sum(factor * values[column] for column, factor in reads)
    wishes = drawing.fit
    wide = feature.measure == "flare_law" or _is_wide(drawing, feature, value)
    if feature.frees[0] == "length":
        window, words = wishes.length_window_mm, say("length window")
    elif feature.frees[0] == "bore_station":
        window, words = wishes.bore_station_window_mm, say("bore station window")
    elif wide:
        window, words = wishes.flare_window_mm, say("flare window")
    else:
        window, words = wishes.bore_window_mm, say("bore window")
    low, high = Side(value - window, words), Side(value + window, words)
    low, high = within(wishes.ranges, feature.frees, feature.part, "", low, high, replacing=True)
    scale = _SCALE_MM.get(feature.measure, _SCALE_MM.get(feature.frees[0], 0.1))
    return Freedom(
        column=index[feature.main],
        dimension=feature.main,
        words=feature.full_words,
        name=feature.words,
        measure=feature.measure,
        low=low,
        high=high,
        scale=_FLARE_SCALE_MM if wide else scale,
        drawn=value,
        moves=tuple((index[dimension], factor) for dimension, factor in feature.moves),
        reads=reads,
    )


def _is_wide(drawing: Instrument, feature: BoreFeature, value: float) -> bool:
    """Whether a diameter belongs to the wide end of the flare or to a bell."""
    if feature.frees[0] != "bore_diameter":
        return False
    narrowest = min(diameter for part in drawing.parts for _, diameter in part.bore)
    return value > 1.15 * narrowest


def _of_holes(
    drawing: Instrument,
    survey: KeyworkSurvey | None,
    wishes: list[FreeWish],
    index: dict[Dimension, int],
    values: list[float],
) -> list[Freedom]:
    found = []
    grouped = {hole: name for name, holes in drawing.fit.alike.items() for hole in holes}
    groups: dict[str, list[Freedom]] = {}
    for part in drawing.parts:
        for hole in part.holes:
            for measure in FREE_OF_HOLES:
                if measure == "undercut" and not hole.undercut:
                    continue
                if not any(wish.frees((measure,), part.name, hole.name) for wish in wishes):
                    continue
                key = "undercut_diameter" if measure == "undercut" else measure
                dimension = Dimension(part.name, key, hole=hole.name)
                column = index[dimension]
                moves, reads = _followed(index, part.name, hole, measure)
                value = sum(factor * values[each] for each, factor in reads)
                low, high = hole_side_range(drawing, survey, part, hole, measure)
                if low.value == high.value == value:
                    continue  # its key holds it where it is drawn
                one = Freedom(
                    column=column,
                    dimension=dimension,
                    words=hole_words(hole.name, measure),
                    name=MEASURES[measure],
                    measure=measure,
                    low=low,
                    high=high,
                    scale=_SCALE_MM[measure],
                    drawn=value,
                    moves=moves,
                    reads=reads,
                )
                if measure == "chimney" and hole.name in grouped:
                    groups.setdefault(grouped[hole.name], []).append(one)
                else:
                    found.append(one)
    return found + [_alike(name, members) for name, members in groups.items()]


def _followed(
    index: dict[Dimension, int], part: str, hole: ToneHole, measure: str
) -> tuple[tuple[tuple[int, float], ...], tuple[tuple[int, float], ...]]:
    """What follows one mm of a hole's measure, and what its value is read from.

    An undercut is how much wider the hole is at the bore, so it goes with the hole's diameter.
    """
    own = (index[Dimension(part, "diameter" if measure == "undercut" else measure,
                           hole=hole.name)], 1.0)  # fmt: skip
    if measure not in ("diameter", "undercut") or hole.undercut is None:
        return (own,), (own,)
    mouth = (index[Dimension(part, "undercut_diameter", hole=hole.name)], 1.0)
    if measure == "diameter":
        return (own, mouth), (own,)
    return (mouth,), (mouth, (own[0], -1.0))


#: Measures of holes in words.
MEASURES = {
    "station": say("station"),
    "diameter": say("diameter"),
    "chimney": say("chimney"),
    "undercut": say("undercut"),
}


def hole_words(hole: str, measure: str) -> Message:
    """A hole's dimension in words: ``L3 diameter``."""
    return say("{hole} {measure}", hole=hole, measure=MEASURES[measure])


def _alike(name: str, members: list[Freedom]) -> Freedom:
    """Chimneys that rise and sink together: the range is what all of them allow."""
    first = members[0]
    low = max((each.low.value - each.drawn for each in members), default=-math.inf)
    high = min((each.high.value - each.drawn for each in members), default=math.inf)
    low_of = max(members, key=lambda each: each.low.value - each.drawn)
    high_of = min(members, key=lambda each: each.high.value - each.drawn)
    return Freedom(
        column=first.column,
        dimension=first.dimension,
        words=say("{group}, chimneys", group=name),
        name=MEASURES["chimney"],
        measure="chimney",
        low=Side(first.drawn + low, low_of.low.words),
        high=Side(first.drawn + high, high_of.high.words),
        scale=first.scale * math.sqrt(1 / len(members)),
        drawn=first.drawn,
        moves=tuple((each.column, 1.0) for each in members),
        reads=((first.column, 1.0),),
    )
