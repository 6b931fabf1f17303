"""How side holes are computed: by closed forms, or by closed forms scaled to 3-D solutions.

A solved hole is one shape in two states. What it says becomes a factor on each length of the
closed forms of that hole, so that losses, radiation and derivatives stay those of the forms
while at low frequency the hole is the solved one. See docs/solved-holes.md.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from borewright.acoustics.closed_lengths import closed_lengths, shunt_growth_mm3
from borewright.acoustics.compilation import cache_folder
from borewright.acoustics.structure import (
    HOLE_SCALES,
    EndTerms,
    SolvedTerms,
    closed_end,
    closed_forms_alone,
    numbers_of,
    plain_scales,
    solved_terms,
    structure_of,
)
from borewright.errors import AcousticsError, BorewrightError
from borewright.model import Instrument, SideHoles
from borewright.words import Said, Text, joined, listed, say

if TYPE_CHECKING:
    from borewright.acoustics.solved import HoleShape

#: A plain hole this narrow beside its bore (radius by radius) that the surrogate does not cover is
#: a pinhole, such as a leak: its closed form, exact for a hole in a flat wall, is within 3.5 % of
#: its 3-D solution even at the bottom of a wide sunk seat (tested), so nothing is solved for it.
_PINHOLE = 0.14
_RISE = len(HOLE_SCALES) - 1  # the column of what goes with k²
#: Called with the number of hole states at hand and the number wanted.
HoleProgress = Callable[[int, int], None]


class HoleLevel(NamedTuple):
    """What is solved beside the closed forms and, in words, how."""

    terms: SolvedTerms
    words: Said
    way: SideHoles
    holes_fell_back: bool = False  # some hole keeps its closed form
    bell_fell_back: bool = False


def side_holes_of(wanted: SideHoles | str | None, instrument: Instrument) -> SideHoles:
    """The choice of that name; None is the level that the instrument was fitted at, or solved.

    Raises AcousticsError where there is no such choice.
    """
    if wanted is None:
        return instrument.level
    try:
        return SideHoles(wanted)
    except ValueError as error:
        raise AcousticsError(
            say("'{wanted}' is no way to compute side holes", wanted=wanted),
            place="side_holes",
            remedy=say("Choose {ways}.", ways=listed([f"'{each}'" for each in SideHoles], "or")),
        ) from error


def hole_level(
    instrument: Instrument,
    side_holes: SideHoles | str | None = None,
    progress: HoleProgress | None = None,
    *,
    like: Instrument | None = None,
) -> HoleLevel:
    """What is solved of an instrument: its holes, and the bell below them.

    Parameters
    ----------
    instrument
        With its holes; they are taken as :func:`borewright.acoustics.solved.shape_of` sees
        them, and each shape only once for good.
    side_holes
        Closed forms alone, or solved in 3-D: by the surrogate where it covers a hole's shape,
        else by itself ("each": always). Then the bore below the lowest hole is solved as well,
        and sound in the cones above follows their walls. None: the level that the instrument
        was fitted at, or solved where it tells none.
    progress
        Called while holes are solved.
    like
        Where the instrument is only tried out, as in a drag: an instrument of the same parts
        and holes whose bell and holes serve where its own, which would take seconds, were never
        solved.

    Raises
    ------
    AcousticsError
        For an impossible shape, and where each hole is to be solved and NGSolve is missing.
        Beyond that nothing stops: ``words`` name what keeps its closed form, and why.
    """
    way = side_holes_of(side_holes, instrument)
    if way is SideHoles.CLOSED_FORMS:
        return HoleLevel(closed_forms_alone(len(instrument.hole_names())), way.words, way)
    return _solved_level(instrument, progress, like, each=way is SideHoles.EACH)


def _solved_level(
    instrument: Instrument,
    progress: HoleProgress | None,
    like: Instrument | None,
    *,
    each: bool,
) -> HoleLevel:
    from borewright.acoustics.solved import shape_of
    from borewright.acoustics.solved.solving import has_ngsolve, require_ngsolve
    from borewright.acoustics.surrogate.level import factors_of
    from borewright.acoustics.surrogate.ranges import parts_of

    if each:
        require_ngsolve()
    names = instrument.hole_names()
    shapes = [shape_of(instrument, name) for name in names]
    known = [parts_of(shape) for shape in shapes]
    pinholes = {row for row, shape in enumerate(shapes) if known[row] is None and _is_pin(shape)}
    for row, (name, shape) in enumerate(zip(names, shapes, strict=True)):
        if row not in pinholes:
            _check(name, shape)
    parts = [None if each else part for part in known]
    covered = {row: part for row, part in enumerate(parts) if part is not None}
    end, borrowed = _bell(instrument, like)
    terms = solved_terms(plain_scales(len(names)), lean=1.0, end=end or closed_end())
    rows = list(covered)
    found = factors_of([shapes[row] for row in rows], list(covered.values()))
    terms.holes[rows], terms.slopes[rows], terms.at[rows] = found
    others = {row: shape for row, shape in enumerate(shapes) if row not in {*covered, *pinholes}}
    left_out: list[int] = []
    if others:
        quick = like is not None or not has_ngsolve()
        left_out = _by_themselves(instrument, terms, others, progress, quick)
    stood = [names[row] for row in left_out] if like is not None else []
    if like is not None and left_out:
        before = hole_level(like, SideHoles.EACH if each else SideHoles.SOLVED).terms
        for entry, former in zip(terms[:3], before[:3], strict=True):
            entry[left_out] = former[left_out]
        left_out = []
    told = [say("side holes in 3-D")]
    alone = [names[row] for row in others if row not in left_out and names[row] not in stood]
    if alone:
        told.append(
            say("every hole by itself")
            if each
            else say("{holes} by themselves", holes=" ".join(alone))
        )
    if left_out:
        holes = " ".join(names[row] for row in left_out)
        told.append(
            say("but closed forms for {holes}, which could not be meshed", holes=holes)
            if has_ngsolve()
            else say("but closed forms for {holes}, since NGSolve is not installed", holes=holes)
        )
    stood_before: list[Text] = [*stood, *([say("the bell")] if borrowed else [])]
    if stood_before:
        told.append(say("{what} as before the move", what=listed(stood_before)))
    if end is None:
        told.append(
            say("but the closed form of the bottom end, since the bell could not be solved")
            if has_ngsolve()
            else say("but the closed form of the bottom end, since NGSolve is not installed")
        )
    way = SideHoles.EACH if each else SideHoles.SOLVED
    words = joined(told, ", ") if told[1:] else told[0]
    return HoleLevel(terms, words, way, bool(left_out), end is None)


def _is_pin(shape: HoleShape) -> bool:
    return (
        shape.radius_mm < _PINHOLE * shape.bore_radius_mm
        and shape.cover != "pad"
        and shape.into_bore_mm == 0
        and shape.mouth_radius_mm == shape.radius_mm
    )


#: Shapes that were found possible: a dragged hole leaves all others as they are.
_possible: set[HoleShape] = set()
_MOST_POSSIBLE = 10_000


def _check(name: str, shape: HoleShape) -> None:
    from borewright.acoustics.solved.shape_checks import check_shape

    if shape in _possible:
        return
    for state in ("open", "closed"):
        check_shape(shape, state, place=say("hole {hole}", hole=name))
    if len(_possible) >= _MOST_POSSIBLE:
        _possible.clear()
    _possible.add(shape)


#: Factors of holes solved by themselves that were met lately, by cache folder and shape: a
#: register vent stays as it is while others are dragged.
_alone: OrderedDict[tuple[str, HoleShape, float], np.ndarray] = OrderedDict()
_MOST_ALONE = 1000


def _by_themselves(
    instrument: Instrument,
    terms: SolvedTerms,
    shapes: dict[int, HoleShape],
    progress: HoleProgress | None,
    quick: bool,
) -> list[int]:
    """Put the solutions of holes that the surrogate does not cover into the terms.

    What cannot be meshed keeps its closed forms and is given back, by its number; ``quick``
    solves nothing, and gives back whatever was not solved before.
    """
    from borewright.acoustics.solved import solve_holes
    from borewright.acoustics.solved._rising import RISE_AT
    from borewright.acoustics.solved.many import known_holes

    # A factor is one of the closed forms of that shape, with that wall of chimneys.
    keys = {
        row: (str(cache_folder()), shape, instrument.fit.chimney_wall_mm)
        for row, shape in shapes.items()
    }
    for row in [row for row in shapes if keys[row] in _alone]:
        terms.holes[row] = _alone[keys[row]]
    shapes = {row: shape for row, shape in shapes.items() if keys[row] not in _alone}
    if not shapes:
        return []
    wanted = list(shapes.values())
    found = known_holes(wanted) if quick else solve_holes(wanted, progress)
    solved = dict(zip(shapes, found, strict=True))
    structure, numbers = structure_of(instrument), numbers_of(instrument)
    forms = closed_lengths(structure, numbers)
    left_out = []
    for row, hole in solved.items():
        if hole.open is None or hole.closed is None:
            left_out.append(row)
            continue
        volume = hole.closed.volume_mm3 / forms.volume[row]
        inner = hole.closed.shunt_length_mm - forms.tube_closed[row] / volume
        factors = {
            "series open": hole.open.series_length_mm / forms.series_open[row],
            "series closed": hole.closed.series_length_mm / forms.series_closed[row],
            "ends open": (hole.open.shunt_length_mm - forms.tube_open[row]) / forms.ends_open[row],
            "inner closed": inner / forms.inner_closed[row],
            "volume closed": volume,
            "displaced mm3": hole.open.displaced_mm3,
        }
        for column, value in factors.items():
            terms.holes[row, HOLE_SCALES.index(column)] = value
    # What the scaled forms rise by themselves is not added a second time.
    own = shunt_growth_mm3(structure, numbers._replace(solved=terms), 1000 * RISE_AT)
    for row, hole in solved.items():
        if hole.open is not None and hole.closed is not None:
            terms.holes[row, _RISE] = hole.open.rise_mm3 - own[row]
            _alone[keys[row]] = np.array(terms.holes[row])
    while len(_alone) > _MOST_ALONE:
        _alone.popitem(last=False)
    return left_out


def _bell(instrument: Instrument, like: Instrument | None) -> tuple[EndTerms | None, bool]:
    """The solved bell, and whether it is that of ``like``.

    None where it cannot be meshed or described, or nothing can solve it.
    """
    from borewright.acoustics.solved.bell import known_bell, solve_bell

    known = known_bell(instrument)
    if known is not None:
        return known, False
    try:
        return solve_bell(like or instrument), like is not None
    except BorewrightError:
        return None, False
