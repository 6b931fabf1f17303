"""Solve many holes on all cores, through the cache, so that nothing done is ever lost."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from borewright.acoustics.solved._workers import Job, answers
from borewright.acoustics.solved.hole_cache import cache_path, known_hole
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.result import SolvedHole
from borewright.acoustics.solved.shape import HoleShape
from borewright.acoustics.solved.shape_checks import check_shape
from borewright.errors import AcousticsError

STATES = ("open", "closed")


@dataclass(frozen=True)
class HoleStates:
    """One hole open and closed; where a state could not be solved, None and the problem."""

    shape: HoleShape
    open: SolvedHole | None
    closed: SolvedHole | None
    problem: AcousticsError | None = None


def solve_holes(
    shapes: Sequence[HoleShape],
    progress: Callable[[int, int], None] | None = None,
    *,
    mesh: MeshDetail | None = None,
    processes: int | None = None,
) -> list[HoleStates]:
    """Every hole, open and closed, in the order given.

    Parameters
    ----------
    shapes
        The holes; equal ones are solved once.
    progress
        Called with the number of solutions at hand and the number wanted, first with what
        the cache knows.
    mesh
        As for :func:`solve_hole`.
    processes
        How many solve side by side; one for each core if not given.

    Returns
    -------
    list of HoleStates
        A hole that cannot be meshed carries its problem and does not keep the others waiting.

    Raises
    ------
    AcousticsError
        Before anything is solved, if a shape is impossible or NGSolve is missing. On an
        interruption everything solved by then is in the cache, and a second call goes on.
    """
    for number, shape in enumerate(shapes, start=1):
        for state in STATES:
            check_shape(shape, state, place=f"hole {number} of {len(shapes)}")
    keys = [[str(cache_path(shape, state, mesh)) for state in STATES] for shape in shapes]
    found: dict[str, SolvedHole | AcousticsError] = {}
    wanted: dict[str, Job] = {}
    for shape, pair in zip(shapes, keys, strict=True):
        for key, state in zip(pair, STATES, strict=True):
            if key in found or key in wanted:
                continue
            known = known_hole(shape, state, mesh=mesh)
            if known is None:
                wanted[key] = Job(key, shape, state, mesh or MeshDetail())
            else:
                found[key] = known
    total = len(found) + len(wanted)
    if progress:
        progress(len(found), total)
    for key, answer in answers(list(wanted.values()), processes):
        found[key] = answer
        if progress:
            progress(len(found), total)
    return [
        _states(shape, [found[key] for key in pair])
        for shape, pair in zip(shapes, keys, strict=True)
    ]


def known_holes(shapes: Sequence[HoleShape]) -> list[HoleStates]:
    """What the cache knows of holes, in the order given; needs no solver."""
    return [
        HoleStates(shape, known_hole(shape, "open"), known_hole(shape, "closed"))
        for shape in shapes
    ]


def _states(shape: HoleShape, pair: list[SolvedHole | AcousticsError]) -> HoleStates:
    opened, closed = (one if isinstance(one, SolvedHole) else None for one in pair)
    problems = [one for one in pair if isinstance(one, AcousticsError)]
    return HoleStates(shape, opened, closed, problems[0] if problems else None)
