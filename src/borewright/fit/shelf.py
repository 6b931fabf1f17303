"""Which reamer on the maker's shelf cuts a cylinder or a straight taper, and which comes nearest.

A taper reamer cuts a taper whose slope is its own and whose diameters lie between its two ends.
It comes in from the wide side, so what it passes there must be as wide as itself: a reamer whose
wide end reaches further than the taper would open the bore above it. A tenon's bore, drawn
straight on from the shoulder, may open with it. Bells and curved flares are turned, not reamed.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from borewright.fit.bore_limits import diameter_column, station_column
from borewright.model import Dimension, Finding, Instrument, Part, dimensions, read_values
from borewright.model.bores.features import roles
from borewright.model.bores.makers_features import Run, RunKind, runs_of
from borewright.model.kinds import Severity
from borewright.model.reamers import TaperReamer
from borewright.words import Message, Said, joined, say

#: A taper is a reamer's own where, over its length, it grows as the reamer does to this (mm):
#: what a gauge can tell. A cylinder may be off by as little.
SAME_MM = 0.02
#: Rounding of a drawing (mm): a taper may begin or end so far beyond the reamer.
_END_MM = 0.01


class Form(NamedTuple):
    """A sum of dimensions (mm) and a constant."""

    terms: tuple[tuple[int, float], ...]
    constant: float = 0.0

    def at(self, values: Sequence[float] | np.ndarray) -> float:
        """Its value (mm)."""
        return self.constant + sum(factor * float(values[column]) for column, factor in self.terms)

    def plus(self, other: Form, factor: float) -> Form:
        """Its sum with ``factor`` times another."""
        found = dict(self.terms)
        for column, each in other.terms:
            found[column] = found.get(column, 0.0) + factor * each
        kept = tuple((column, each) for column, each in found.items() if each)
        return Form(kept, self.constant + factor * other.constant)


class StraightTaper(NamedTuple):
    """A straight taper of a bore, between sockets' floors, as sums of dimensions.

    ``way`` is the bore on its wide side, outwards to the part's end: how far each edge is from
    the taper's wide end, and its diameter.
    """

    part: str
    grown: Form  # mm of diameter from its narrow end to its wide one
    length: Form
    narrow: Form
    wide: Form
    way: tuple[tuple[Form, Form], ...]

    @property
    def columns(self) -> set[int]:
        """Dimensions that shape it."""
        forms = (self.grown, self.length)
        return {column for form in forms for column, _ in form.terms}

    def described(self, values: Sequence[float] | np.ndarray) -> Message:
        """The part, its two diameters and its length."""
        return say(
            "{part}, taper from {narrow_mm:.2f} to {wide_mm:.2f} mm over {length_mm:.1f} mm",
            part=self.part,
            narrow_mm=self.narrow.at(values),
            wide_mm=self.wide.at(values),
            length_mm=self.length.at(values),
        )


class Misfit(NamedTuple):
    """Why a reamer does not cut a taper; nothing said where it does."""

    reamer: TaperReamer
    by_mm: float
    said: tuple[Said, ...]


def misfit(reamer: TaperReamer, taper: StraightTaper, values: Sequence[float]) -> Misfit:
    """What keeps a reamer from cutting a taper as it stands, and by how much in all (mm)."""
    said: list[Said] = []
    by = 0.0
    grown, length = taper.grown.at(values), taper.length.at(values)
    narrow, wide = taper.narrow.at(values), taper.wide.at(values)
    off = abs(grown - reamer.taper * length)
    by += off
    if off > SAME_MM:
        said.append(
            say(
                "it grows by {reamer_mm:.2f} mm over that length, the taper by {taper_mm:.2f} mm",
                reamer_mm=reamer.taper * length,
                taper_mm=grown,
            )
        )
    beyond = max(0.0, reamer.small_mm - narrow) + max(0.0, wide - reamer.widest_mm)
    by += beyond
    if narrow < reamer.small_mm - _END_MM or wide > reamer.widest_mm + _END_MM:
        said.append(
            say(
                "it cuts from {small_mm:g} to {large_mm:g} mm",
                small_mm=round(reamer.small_mm, 3),
                large_mm=round(reamer.widest_mm, 3),
            )
        )
    opened = _opened(reamer, wide, [(d.at(values), at.at(values)) for d, at in taper.way])
    by += opened
    if opened > SAME_MM and not said:
        said.append(
            say(
                "its wide end would open the bore that it passes by {opened_mm:.2f} mm",
                opened_mm=opened,
            )
        )
    return Misfit(reamer, by, tuple(said))


def _opened(reamer: TaperReamer, wide: float, way: list[tuple[float, float]]) -> float:
    """By how much (mm of diameter) a reamer that has cut a taper opens what it passed."""
    full = max(0.0, (reamer.widest_mm - wide) / reamer.taper)
    opened = 0.0
    for (near, d0), (far, d1) in itertools.pairwise(way):
        places = [(near, d0), (far, d1)]
        if near < full < far:
            places.append((full, d0 + (d1 - d0) * (full - near) / (far - near)))
        for distance, diameter in places:
            cut = min(reamer.widest_mm, wide + reamer.taper * distance)
            opened = max(opened, cut - diameter)
    return opened


def nearest(
    reamers: Sequence[TaperReamer], taper: StraightTaper, values: Sequence[float]
) -> Misfit:
    """The reamer that cuts a taper, or the one that comes nearest; there is one at least."""
    found = [misfit(each, taper, values) for each in reamers]
    return min(found, key=lambda each: (bool(each.said), each.by_mm))


def not_cut(taper: Said, found: Misfit) -> Message:
    """That none cuts a taper, and what is wrong with the nearest."""
    return say(
        "no taper reamer on the shelf cuts this ({taper}); the nearest is {reamer}: {why}",
        taper=taper,
        reamer=found.reamer.words,
        why=joined(found.said, "; "),
    )


def straight_tapers(instrument: Instrument) -> list[StraightTaper]:
    """Every straight taper of a bore above the bell, from the top down."""
    index = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    return [
        _taper(index, part, run)
        for part, run in _reamed_runs(instrument)
        if run.kind is not RunKind.CYLINDER and _is_straight(part, run)
    ]


def _reamed_runs(instrument: Instrument) -> list[tuple[Part, Run]]:
    """Runs of parts that are reamed: not of a bell, nor a flare's curve."""
    role = roles(instrument)
    found = []
    for number, part in enumerate(instrument.parts):
        if number in role.bells:
            continue
        runs = runs_of(part)
        for run in runs:
            is_flare = (
                number == role.joints[-1]
                and run is runs[-1]
                and run.kind is RunKind.WIDENING
                and not _is_straight(part, run)
            )
            if not is_flare and _end(part, run) - _begin(part, run) > 1e-6:
                found.append((part, run))
    return found


def _is_straight(part: Part, run: Run) -> bool:
    (s0, d0), (s1, d1) = part.bore[run.first], part.bore[run.last]
    places = (part.bore[i] for i in run.inner)
    return all(
        abs(diameter - d0 - (d1 - d0) * (station - s0) / (s1 - s0)) <= SAME_MM
        for station, diameter in places
    )


def _begin(part: Part, run: Run) -> float:
    floor = part.socket_top.depth_mm if part.socket_top else 0.0
    return max(part.bore[run.first][0], floor)


def _end(part: Part, run: Run) -> float:
    floor = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
    return min(part.bore[run.last][0], floor)


def _station(index: dict[Dimension, int], part: Part, number: int) -> Form:
    column, beyond = station_column(index, part, number)
    return Form(((column, 1.0),), beyond)


def _taper(index: dict[Dimension, int], part: Part, run: Run) -> StraightTaper:
    (s0, _), (s1, _) = part.bore[run.first], part.bore[run.last]
    top = Form(((diameter_column(index, part, run.first), 1.0),))
    bottom = Form(((diameter_column(index, part, run.last), 1.0),))
    from_top, from_bottom = (_station(index, part, i) for i in (run.first, run.last))
    begin, end = ((at(part, run) - s0) / (s1 - s0) for at in (_begin, _end))
    length = from_bottom.plus(from_top, -1.0)
    grown = bottom.plus(top, -1.0)
    ends = [top.plus(grown, share) for share in (begin, end)]
    share = end - begin
    length, grown = (Form((), 0.0).plus(form, share) for form in (length, grown))
    if run.kind is RunKind.WIDENING:
        narrow, wide = ends
        edges = range(run.last, len(part.bore))
        sense = 1.0
    else:
        wide, narrow = ends
        edges = range(run.first, -1, -1)
        sense = -1.0
        grown = Form((), 0.0).plus(grown, -1.0)
    origin = from_bottom if sense > 0 else from_top
    way = tuple(
        (
            Form((), 0.0).plus(_station(index, part, i), sense).plus(origin, -sense),
            Form(((diameter_column(index, part, i), 1.0),)),
        )
        for i in edges
    )
    return StraightTaper(part.name, grown, length, narrow, wide, way)


def shelf_findings(instrument: Instrument) -> list[Finding]:
    """What of the bore no reamer on the shelf cuts, each with the nearest; none without a shelf."""
    wishes = instrument.fit
    values = read_values(instrument)
    found: list[Finding] = []
    if wishes.reamers:
        for part, run in _reamed_runs(instrument):
            if run.kind is RunKind.CYLINDER:
                found += _check_cylinder(wishes.reamers, part, run)
    if wishes.taper_reamers:
        for part, run in _reamed_runs(instrument):
            if run.kind is not RunKind.CYLINDER and not _is_straight(part, run):
                found.append(_bent(part, run))
        for taper in straight_tapers(instrument):
            best = nearest(wishes.taper_reamers, taper, values)
            if best.said:
                found.append(
                    Finding(
                        severity=Severity.NOTICE,
                        place=(taper.part, say("bore")),
                        what=not_cut(taper.described(values), best),
                        remedy=say("Free the taper and fit again, or get a reamer that cuts it."),
                    )
                )
    return found


def _check_cylinder(reamers: Sequence[float], part: Part, run: Run) -> list[Finding]:
    diameter = part.bore[run.first][1]
    best = min(reamers, key=lambda each: abs(each - diameter))
    if abs(best - diameter) <= SAME_MM:
        return []
    return [
        Finding(
            severity=Severity.NOTICE,
            place=(part.name, say("bore")),
            what=say(
                "no reamer on the shelf cuts the cylinder of {diameter_mm:.2f} mm; the nearest is "
                "that of {nearest_mm:g} mm",
                diameter_mm=diameter,
                nearest_mm=best,
            ),
            remedy=say("Free the cylinder and fit again, or get a reamer that cuts it."),
        )
    ]


def _bent(part: Part, run: Run) -> Finding:
    return Finding(
        severity=Severity.NOTICE,
        place=(part.name, say("bore")),
        what=say(
            "the taper from {from_mm:g} to {to_mm:g} mm along the part is not straight: no reamer "
            "cuts it",
            from_mm=part.bore[run.first][0],
            to_mm=part.bore[run.last][0],
        ),
        remedy=say("Draw it as one straight taper, or as several with a short cylinder between."),
    )
