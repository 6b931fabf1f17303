"""How side holes are computed: by closed forms, or by closed forms scaled to 3-D solutions.

A solved hole is one shape in two states. What it says becomes a factor on each length of the
closed forms of that hole, so that losses, radiation and derivatives stay those of the forms
while at low frequency the hole is the solved one. See docs/solved-holes.md.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from borewright.acoustics.closed_lengths import closed_lengths, shunt_growth_mm3
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
from borewright.model import Instrument
from borewright.words import Choice, Said, joined, listed, say

if TYPE_CHECKING:
    from borewright.acoustics.solved import HoleShape

_RISE = len(HOLE_SCALES) - 1  # the column of what goes with k²
#: Called with the number of hole states at hand and the number wanted.
HoleProgress = Callable[[int, int], None]


class SideHoles(Choice):
    """How side holes are computed."""

    CLOSED_FORMS = "closed forms", say("closed forms")
    SOLVED = "solved in 3-D", say("solved in 3-D")
    EACH = "each solved in 3-D", say("each solved in 3-D")


class HoleLevel(NamedTuple):
    """What is solved beside the closed forms and, in words, how."""

    terms: SolvedTerms
    words: Said
    way: SideHoles


def side_holes_of(wanted: SideHoles | str) -> SideHoles:
    """The choice of that name; AcousticsError where there is none."""
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
    side_holes: SideHoles | str = SideHoles.CLOSED_FORMS,
    progress: HoleProgress | None = None,
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
        and sound in the cones above follows their walls.
    progress
        Called while holes are solved.

    Raises
    ------
    AcousticsError
        For an impossible shape, or where a hole has to be solved and NGSolve is missing.
    """
    way = side_holes_of(side_holes)
    if way is SideHoles.CLOSED_FORMS:
        return HoleLevel(closed_forms_alone(len(instrument.hole_names())), way.words, way)
    return _solved_level(instrument, progress, each=way is SideHoles.EACH)


def _solved_level(
    instrument: Instrument, progress: HoleProgress | None, *, each: bool
) -> HoleLevel:
    from borewright.acoustics.solved import shape_of
    from borewright.acoustics.solved.shape_checks import check_shape
    from borewright.acoustics.surrogate.level import factors_of
    from borewright.acoustics.surrogate.ranges import parts_of

    names = instrument.hole_names()
    shapes = [shape_of(instrument, name) for name in names]
    for name, shape in zip(names, shapes, strict=True):
        for state in ("open", "closed"):
            check_shape(shape, state, place=say("hole {hole}", hole=name))
    parts = [None if each else parts_of(shape) for shape in shapes]
    covered = {row: part for row, part in enumerate(parts) if part is not None}
    end, unsolved = _bell(instrument)
    terms = solved_terms(plain_scales(len(names)), lean=1.0, end=end)
    rows = list(covered)
    found = factors_of([shapes[row] for row in rows], list(covered.values()))
    terms.holes[rows], terms.slopes[rows], terms.at[rows] = found
    others = {row: shape for row, shape in enumerate(shapes) if row not in covered}
    left_out = _by_themselves(instrument, terms, others, progress) if others else []
    told = [say("side holes in 3-D")]
    alone = [names[row] for row in others if row not in left_out]
    if alone:
        told.append(
            say("every hole by itself")
            if each
            else say("{holes} by themselves", holes=" ".join(alone))
        )
    if left_out:
        told.append(
            say(
                "but closed forms for {holes}, which could not be meshed",
                holes=" ".join(names[row] for row in left_out),
            )
        )
    if unsolved:
        told.append(
            say("but the closed form of the bottom end, since the bell could not be solved")
        )
    way = SideHoles.EACH if each else SideHoles.SOLVED
    return HoleLevel(terms, joined(told, ", ") if told[1:] else told[0], way)


def _by_themselves(
    instrument: Instrument,
    terms: SolvedTerms,
    shapes: dict[int, HoleShape],
    progress: HoleProgress | None,
) -> list[int]:
    """Put the solutions of holes that the surrogate does not cover into the terms.

    What cannot be meshed keeps its closed forms and is given back, by its number.
    """
    from borewright.acoustics.solved import solve_holes
    from borewright.acoustics.solved._rising import RISE_AT

    solved = dict(zip(shapes, solve_holes(list(shapes.values()), progress), strict=True))
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
    return left_out


def _bell(instrument: Instrument) -> tuple[EndTerms, bool]:
    """The solved bell, or the closed form and True where it cannot be meshed or described."""
    from borewright.acoustics.solved.bell import solve_bell
    from borewright.acoustics.solved.solving import require_ngsolve

    try:
        return solve_bell(instrument), False
    except BorewrightError:
        # A missing solver is refused, as it is for holes; an odd bell is left out and named.
        require_ngsolve()
        return closed_end(), True
