"""What keeps a bore one that its maker would ream: order, senses, slopes, steps, joints.

Limits are linear in the bore's points and are counted from the drawing: a taper keeps its sense
and about its slope, a step its sense and largest size, two parts meet as they were drawn or
within the joint's step, and body and tenons keep their walls round the bore. The shares are our
own judgement, after what reamers and hands do.
"""

from __future__ import annotations

import itertools
import math

from borewright.fit.spacing_class import ROUNDING_MM, Spacing
from borewright.model import Dimension, Instrument, Part, dimensions, drawn
from borewright.model.bores.feature_names import PointNames
from borewright.model.bores.makers_features import Run, RunKind, runs_of
from borewright.words import Said, say

#: Edges of a bore stay this far apart (mm), or as drawn.
_LEAST_STATION_STEP_MM = 2.0
#: A taper may become so much steeper or flatter than drawn …
_STEEPER, _FLATTER = 1.4, 0.5
#: … and by so much more (mm of diameter per mm), for tapers that are hardly any.
_SLOPE_MORE = 0.001
#: A step may grow by this (mm), and keeps this share of its drawn size.
_STEP_MORE_MM, _STEP_LEAST = 0.03, 0.5

#: Wall of a body round its bore, of a tenon under its cork, and of a socket (mm; from memory).
WALL_MM = 2.5

#: A wall of this much (mm) is never reached by the window of a bore.
_AMPLE_MM = 6.0

_Index = dict[Dimension, int]


def bore_limits(instrument: Instrument) -> list[Spacing]:
    """All limits of the bores of an instrument."""
    drawing = drawn(instrument)
    index = {dimension: column for column, dimension in enumerate(dimensions(drawing))}
    found: list[Spacing] = []
    for part in drawing.parts:
        runs = runs_of(part)
        found += _order(index, part)
        found += _walls(index, part)
        names = PointNames(drawing, part, [(r.kind.value, r.first, r.last) for r in runs])
        for run in runs:
            if run.kind is not RunKind.CYLINDER:
                found += _slopes(index, part, run)
        for upper, lower in itertools.pairwise(runs):
            if upper.last != lower.first:
                step = say("{part}, {feature}", part=part.name, feature=names.place(upper.last)[0])
                found += _step(index, part, upper.last, lower.first, step)
    for upper_part, lower_part in itertools.pairwise(drawing.parts):
        found += _joint(index, upper_part, lower_part, drawing.fit.joint_step_mm)
    return found


def station_column(index: _Index, part: Part, number: int) -> tuple[int, float]:
    """Column of a bore point's station, and how far (mm) the point lies beyond it."""
    station = part.bore[number][0]
    if station > part.length_mm - 1e-9:
        return index[Dimension(part.name, "length")], station - part.length_mm
    return index[Dimension(part.name, "bore_station", index=number)], 0.0


def diameter_column(index: _Index, part: Part, number: int) -> int:
    """Column of a bore point's diameter."""
    return index[Dimension(part.name, "bore_diameter", index=number)]


def _linear(words: Said, terms: dict[int, float], constant: float) -> Spacing:
    """Constant + sum of terms must not become negative."""
    kept = tuple((column, factor) for column, factor in terms.items() if factor)
    return Spacing(words, kept, (), constant, 0.0, relax_mm=0.0)


def _order(index: _Index, part: Part) -> list[Spacing]:
    """Edges keep their order."""
    found = []
    for number, ((s0, _), (s1, _)) in enumerate(itertools.pairwise(part.bore)):
        if s1 - s0 < 1e-9:
            continue
        (upper, above), (lower, below) = (station_column(index, part, number + i) for i in (0, 1))
        if upper == lower:
            continue
        words = say("order of the edges of the bore of {part}", part=part.name)
        least = min(_LEAST_STATION_STEP_MM, s1 - s0)
        found.append(_linear(words, {lower: 1.0, upper: -1.0}, below - above - least))
    return found


def _walls(index: _Index, part: Part) -> list[Spacing]:
    """Wall to the body's outside, and to a tenon's surface under its cork, or as drawn."""
    tenons = []
    if part.tenon_top:
        tenons.append((-part.tenon_top.length_mm, 0.0, part.tenon_top.core_mm))
    if part.tenon_bottom:
        end = part.length_mm + part.tenon_bottom.length_mm
        tenons.append((part.length_mm, end, part.tenon_bottom.core_mm))
    found = []
    for number, (station, diameter) in enumerate(part.bore):
        around = [(core, True) for low, high, core in tenons if low <= station <= high]
        if 0.0 <= station <= part.length_mm:
            around += [(part.outside_diameter_at(station, side), False) for side in (-1, 1)]
        if not around:
            continue
        outer, is_tenon = min(around)
        wall = (outer - diameter) / 2
        if wall < _AMPLE_MM:
            words = (
                say("wall of a tenon of {part}", part=part.name)
                if is_tenon
                else say("wall of {part}", part=part.name)
            )
            least = min(WALL_MM + ROUNDING_MM / 2, wall)
            column = diameter_column(index, part, number)
            found.append(_linear(words, {column: -0.5}, outer / 2 - least))
    return found


def _slopes(index: _Index, part: Part, run: Run) -> list[Spacing]:
    """Each straight piece of a taper keeps its sense, and about its slope."""
    found = []
    for number in range(run.first, run.last):
        (s0, d0), (s1, d1) = part.bore[number], part.bore[number + 1]
        length, grown = s1 - s0, d1 - d0
        if length < 1e-9 or abs(grown) < 1e-9:
            continue
        sense = math.copysign(1.0, grown)
        slope = abs(grown) / length
        (upper, above), (lower, below) = (station_column(index, part, number + i) for i in (0, 1))
        for limit, side, words in (
            (
                _FLATTER * slope,
                1.0,
                say("{part}, least slope of its taper", part=part.name),
            ),
            (
                _STEEPER * slope + _SLOPE_MORE,
                -1.0,
                say("{part}, greatest slope of its taper", part=part.name),
            ),
        ):
            # side * (sense * grown - limit * length) must not become negative.
            terms = {
                diameter_column(index, part, number + 1): side * sense,
                diameter_column(index, part, number): -side * sense,
            }
            for column, factor in ((lower, -side * limit), (upper, side * limit)):
                terms[column] = terms.get(column, 0.0) + factor
            constant = -side * limit * (below - above)
            found.append(_linear(words, terms, constant))
    return found


def _step(index: _Index, part: Part, upper: int, lower: int, step: Said) -> list[Spacing]:
    """A step keeps its sense and its largest size."""
    size = part.bore[lower][1] - part.bore[upper][1]
    sense = math.copysign(1.0, size)
    above, below = diameter_column(index, part, upper), diameter_column(index, part, lower)
    least, most = _STEP_LEAST * abs(size), abs(size) + _STEP_MORE_MM
    return [
        _linear(say("{step}, least size", step=step), {below: sense, above: -sense}, -least),
        _linear(say("{step}, greatest size", step=step), {below: -sense, above: sense}, most),
    ]


def _joint(index: _Index, upper: Part, lower: Part, allowed_mm: float) -> list[Spacing]:
    """Two parts meet at their shoulders as drawn, or within the joint's step."""
    found = []
    ends = []
    for part, station in ((upper, upper.length_mm), (lower, 0.0)):
        number = _point_at(part, station)
        if number is None:
            return []
        ends.append(diameter_column(index, part, number))
    step = lower.bore_diameter_at(0.0) - upper.bore_diameter_at(upper.length_mm, -1)
    low = min(step, -allowed_mm) + (ROUNDING_MM / 2 if step > -allowed_mm else 0.0)
    high = max(step, allowed_mm) - (ROUNDING_MM / 2 if step < allowed_mm else 0.0)
    words = say("joint of {upper} and {lower}", upper=upper.name, lower=lower.name)
    found.append(_linear(words, {ends[1]: 1.0, ends[0]: -1.0}, -low))
    found.append(_linear(words, {ends[1]: -1.0, ends[0]: 1.0}, high))
    return found


def _point_at(part: Part, station: float) -> int | None:
    """The bore point at a shoulder; None where the bore has none there."""
    found = [i for i, (s, _) in enumerate(part.bore) if abs(s - station) < 1e-9]
    return found[0] if found else None
