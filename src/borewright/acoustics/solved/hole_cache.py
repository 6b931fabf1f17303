"""Solved holes kept on disk by shape, so that a hole is solved once for good.

An entry is a small JSON file named by the hash of everything that decides the result: the
solver's version, the state, the mesh and the sizes that matter in that state, rounded.
"""

from __future__ import annotations

import math
from dataclasses import asdict, fields, replace
from pathlib import Path
from typing import Any

from borewright.acoustics.solved._store import entry_path, recalled, remember
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.result import SolvedHole
from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.acoustics.solved.shape_checks import check_shape
from borewright.acoustics.solved.solving import SOLVER_VERSION, solve_hole

_FOLDER = "holes"
#: Decimals (mm) that sizes are rounded to: far below what any tool holds.
_DECIMALS = 4
#: Decimals of the bore's slope: 1e-6 over the length of a section is as small as those.
_SLOPE_DECIMALS = 6


def cached_hole(
    shape: HoleShape, state: str = "open", *, mesh: MeshDetail | None = None
) -> SolvedHole:
    """As :func:`solve_hole` with its check, from the cache where the hole was solved before.

    The shape is solved as rounded (1e-4 mm). Raises AcousticsError as ``solve_hole`` does.
    """
    found = known_hole(shape, state, mesh=mesh)
    if found is None:
        detail = mesh or MeshDetail()
        what = essential_shape(shape, state)
        found = solve_hole(what, state, mesh=detail)
        _remember(what, state, detail, found)
    return found


def known_hole(
    shape: HoleShape, state: str = "open", *, mesh: MeshDetail | None = None
) -> SolvedHole | None:
    """The cached solution of a hole, or None where it has to be solved.

    Needs no solver; raises AcousticsError for an impossible shape.
    """
    check_shape(shape, state)
    detail = (mesh or MeshDetail()).checked()
    return _recalled(_question(essential_shape(shape, state), state, detail))


def essential_shape(shape: HoleShape, state: str) -> HoleShape:
    """The shape, rounded, without whatever does not matter in this state.

    A raised pad's lift says nothing about the closed hole, nor a finger about the open one,
    so that changing them leaves the other solution valid.
    """
    numbers = {
        field.name: round(value, _SLOPE_DECIMALS if field.name == "bore_slope" else _DECIMALS)
        for field in fields(shape)
        if isinstance(value := getattr(shape, field.name), int | float)
    }
    rounded = replace(shape, **numbers, cover=HoleCover(shape.cover))
    if not rounded.is_conical:
        rounded = replace(rounded, bore_slope=0.0)
    default = HoleShape(1.0, 1.0, 1.0)
    no_pad = {
        name: getattr(default, name)
        for name in ("cover", "pad_radius_mm", "lift_mm", "pad_thickness_mm")
    }
    if state == "open":
        kept = replace(rounded, flesh_mm=default.flesh_mm)
        return kept if kept.cover == HoleCover.PAD else replace(kept, **no_pad)
    if rounded.cover == HoleCover.FINGER:
        rounded = replace(rounded, **{**no_pad, "cover": HoleCover.FINGER})
        if rounded.is_drilled:
            return rounded
    else:
        rounded = replace(rounded, **no_pad, flesh_mm=default.flesh_mm)
    # Nothing beyond the rim plane reaches a closed hole.
    return replace(
        rounded,
        body_radius_mm=None,
        chimney_mm=0.0,
        chimney_wall_mm=0.0,
        counterbore_radius_mm=0.0,
        seat_relief_mm=0.0,
    )


def cache_path(shape: HoleShape, state: str, mesh: MeshDetail | None = None) -> Path:
    """Where a hole's solution is kept."""
    question = _question(essential_shape(shape, state), state, mesh or MeshDetail())
    return entry_path(_FOLDER, question)


def _question(shape: HoleShape, state: str, detail: MeshDetail) -> dict[str, Any]:
    return {
        "solver": SOLVER_VERSION,
        "state": state,
        "shape": asdict(shape),
        "mesh": asdict(detail),
    }


def _remember(shape: HoleShape, state: str, detail: MeshDetail, found: SolvedHole) -> None:
    remember(_FOLDER, _question(shape, state, detail), asdict(found))


def _recalled(question: dict[str, Any]) -> SolvedHole | None:
    answer = recalled(_FOLDER, question)
    if answer is None:
        return None
    try:
        found = SolvedHole(**answer)
    except TypeError:
        return None
    numbers = [value for value in answer.values() if not isinstance(value, str)]
    good = all(isinstance(value, int | float) and math.isfinite(value) for value in numbers)
    return found if good else None
