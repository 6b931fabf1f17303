"""A part's bore as its maker speaks of it: cylinders, steps, tapers, a throat, a flare, two ends.

A :class:`BoreFeature` is one thing that a maker would change with one decision: the diameter of
a cylinder (both of its ends at once), where a step stands, where the flare begins, how full it
is. It says by how much each bore point follows (``moves``, exact and constant, so that a
derivative by points gives one by features), and how its value is read from the points
(``reads``). What lies within a taper keeps its place between the taper's ends.

The sizes from which a bore counts as narrowing or widening are those of
:mod:`borewright.model.bores.features`, common practice.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from enum import StrEnum

from borewright.model.bores.feature_names import PointNames
from borewright.model.bores.features import NARROWS, flare_start, roles, throat_end
from borewright.model.dimensions import Dimension
from borewright.model.instrument import Instrument
from borewright.model.part import Part
from borewright.words import Message, say

#: A bore with more runs than this was measured, not drawn: it is throat, middle and flare.
_MOST_DRAWN = 12


class RunKind(StrEnum):
    """What the bore does between two edges."""

    CYLINDER = "cylinder"
    NARROWING = "narrowing"
    WIDENING = "widening"


@dataclass(frozen=True)
class Run:
    """Bore points ``first`` to ``last`` of one kind, without a step between them."""

    kind: RunKind
    first: int
    last: int

    @property
    def inner(self) -> range:
        """Points within."""
        return range(self.first + 1, self.last)


@dataclass(frozen=True)
class BoreFeature:
    """One thing about a bore that a maker changes, in mm.

    ``frees`` are the words of a fit's wishes that free it, the last one its own. ``moves`` and
    ``reads`` are pairs of a dimension and a factor: by how much the dimension follows one mm
    of the feature, and how the feature's value is the sum of dimensions.
    """

    part: str
    words: Message
    frees: tuple[str, ...]
    main: Dimension
    moves: tuple[tuple[Dimension, float], ...]
    reads: tuple[tuple[Dimension, float], ...]

    @property
    def full_words(self) -> Message:
        """The name with its part: ``upper joint, upper step, lower side``."""
        return say("{part}, {feature}", part=self.part, feature=self.words)

    @property
    def measure(self) -> str:
        """Its own word, such as ``cylinder``, ``flare_start`` or ``bell_length``."""
        return self.frees[-1]


def runs_of(part: Part) -> list[Run]:
    """Runs of a part's bore from the top down; steps lie between them."""
    found: list[Run] = []
    for number, ((s0, d0), (s1, d1)) in enumerate(itertools.pairwise(part.bore)):
        if s1 - s0 < 1e-9:
            continue
        slope = (d1 - d0) / (s1 - s0)
        kind = RunKind.WIDENING if slope > 0 else RunKind.NARROWING
        kind = RunKind.CYLINDER if abs(slope) < NARROWS else kind
        if found and found[-1].kind is kind and found[-1].last == number:
            found[-1] = Run(kind, found[-1].first, number + 1)
        else:
            found.append(Run(kind, number, number + 1))
    return found if len(found) <= _MOST_DRAWN else _measured_runs(part)


def _measured_runs(part: Part) -> list[Run]:
    """Throat, middle and flare of a bore that was measured point by point."""
    stations = [station for station, _ in part.bore]
    last = len(stations) - 1
    throat = max(i for i, station in enumerate(stations) if station <= throat_end(part))
    flare = min(i for i, station in enumerate(stations) if station >= flare_start(part))
    flare = max(flare, throat)
    edges = (
        (RunKind.NARROWING, 0, throat),
        (RunKind.CYLINDER, throat, flare),
        (RunKind.WIDENING, flare, last),
    )
    return [Run(kind, first, end) for kind, first, end in edges if end > first]


def makers_features(instrument: Instrument, part: Part) -> list[BoreFeature]:
    """All features of a part's bore and its length, from the top down."""
    runs = runs_of(part)
    names = PointNames(instrument, part, [(run.kind.value, run.first, run.last) for run in runs])
    found = [_length(instrument, part, runs)]
    found += _diameters(part, runs, names)
    found += _stations(part, runs, names)
    last = runs[-1]
    if last.kind is RunKind.WIDENING and len(last.inner):
        found.append(_law(part, last))
    return found


def _dimension(part: Part, measure: str, index: int = -1) -> Dimension:
    return Dimension(part.name, measure, index=index)


def _feature(
    part: Part,
    words: Message,
    frees: tuple[str, ...],
    main: Dimension,
    follow: dict[Dimension, float],
) -> BoreFeature:
    moves = tuple((dimension, factor) for dimension, factor in follow.items() if factor)
    return BoreFeature(part.name, words, frees, main, moves, ((main, 1.0),))


def _length(instrument: Instrument, part: Part, runs: list[Run]) -> BoreFeature:
    """The part's length; the bore at its bottom follows, and what a taper there holds."""
    main = _dimension(part, "length")
    follow = {main: 1.0}
    last = runs[-1]
    share = _station_shares(part, last)
    for index in last.inner:
        if part.bore[index][0] < part.length_mm - 1e-9 and last.kind is not RunKind.CYLINDER:
            follow[_dimension(part, "bore_station", index)] = share[index]
    role = roles(instrument)
    number = [each.name for each in instrument.parts].index(part.name)
    own = (
        "barrel_length"
        if number in role.barrels
        else "bell_length"
        if number in role.bells
        else "length"
    )
    words = say("length")
    return _feature(part, words, tuple(dict.fromkeys(("length", own))), main, follow)


def _station_shares(part: Part, run: Run) -> dict[int, float]:
    """Where inner points stand between a run's ends, 0 at its top."""
    top, bottom = part.bore[run.first][0], part.bore[run.last][0]
    return {i: (part.bore[i][0] - top) / (bottom - top) for i in run.inner}


def _diameter_shares(part: Part, run: Run) -> dict[int, float]:
    """How far inner points have grown between a taper's ends, 0 at its top."""
    top, bottom = part.bore[run.first][1], part.bore[run.last][1]
    if abs(bottom - top) < 1e-9:
        return _station_shares(part, run)
    return {i: (part.bore[i][1] - top) / (bottom - top) for i in run.inner}


def _diameters(part: Part, runs: list[Run], names: PointNames) -> list[BoreFeature]:
    """One feature for each cylinder, and for each edge that no cylinder carries along."""
    found = []
    carried: set[int] = set()
    for run in runs:
        if run.kind is RunKind.CYLINDER:
            carried |= {run.first, run.last}
    for run in runs:
        if run.kind is RunKind.CYLINDER:
            points = range(run.first, run.last + 1)
            follow = {_dimension(part, "bore_diameter", i): 1.0 for i in points}
            for edge in (run.first, run.last):
                follow |= _carried_along(part, runs, edge)
            main = _dimension(part, "bore_diameter", run.first)
            words = names.cylinder(run.first)
            found.append(_feature(part, words, ("bore_diameter", "cylinder"), main, follow))
        else:
            for edge in (run.first, run.last):
                if edge in carried:
                    continue
                carried.add(edge)
                main = _dimension(part, "bore_diameter", edge)
                follow = {main: 1.0} | _carried_along(part, runs, edge)
                frees = ("bore_diameter", names.edge_measure(edge))
                found.append(_feature(part, names.diameter(edge), frees, main, follow))
    return found


def _carried_along(part: Part, runs: list[Run], edge: int) -> dict[Dimension, float]:
    """Inner points of the tapers that begin or end at an edge, and their shares of its move."""
    follow = {}
    for run in runs:
        if run.kind is RunKind.CYLINDER or edge not in (run.first, run.last):
            continue
        for index, share in _diameter_shares(part, run).items():
            factor = share if edge == run.last else 1.0 - share
            follow[_dimension(part, "bore_diameter", index)] = factor
    return follow


def _stations(part: Part, runs: list[Run], names: PointNames) -> list[BoreFeature]:
    """Where steps stand, where the throat ends, where tapers and the flare begin."""
    found = []
    for upper, lower in itertools.pairwise(runs):
        station = part.bore[upper.last][0]
        if not 1e-9 < station < part.length_mm - 1e-9:
            continue
        follow = {_dimension(part, "bore_station", i): 1.0 for i in {upper.last, lower.first}}
        for index, share in _station_shares(part, upper).items():
            follow[_dimension(part, "bore_station", index)] = share
        for index, share in _station_shares(part, lower).items():
            if part.bore[index][0] < part.length_mm - 1e-9:
                follow[_dimension(part, "bore_station", index)] = 1.0 - share
        words, own = names.place(upper.last)
        main = _dimension(part, "bore_station", upper.last)
        found.append(_feature(part, words, ("bore_station", own), main, follow))
    return found


def _law(part: Part, run: Run) -> BoreFeature:
    """How full a flare is between its ends: one mm at its fullest point, less towards the ends."""
    places, shares = _station_shares(part, run), _diameter_shares(part, run)
    weights = {i: 4 * t * (1 - t) for i, t in places.items()}
    fullest = max(weights, key=lambda i: weights[i])
    moves = tuple(
        (_dimension(part, "bore_diameter", i), weight / weights[fullest])
        for i, weight in weights.items()
    )
    reads = (
        (_dimension(part, "bore_diameter", fullest), 1.0),
        (_dimension(part, "bore_diameter", run.first), shares[fullest] - 1.0),
        (_dimension(part, "bore_diameter", run.last), -shares[fullest]),
    )
    main = _dimension(part, "bore_diameter", fullest)
    words = say("fullness of the flare")
    return BoreFeature(part.name, words, ("flare_law",), main, moves, reads)
