"""Solve one hole: mesh its air, solve the potential, read off the T network."""

from __future__ import annotations

import importlib.util
import sys
import time
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from borewright.acoustics.solved._errors import error_bounds, filling_mm, truncation_mm
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.result import SolvedHole
from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.acoustics.solved.shape_checks import check_shape
from borewright.errors import AcousticsError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.acoustics.solved.bore_section import BoreSection
    from borewright.acoustics.solved.hole_volume import HoleVolume

#: To be raised whenever results may change by more than their error bounds.
SOLVER_VERSION = 3
#: Nearest to the hole that the bore's ends may come (bore radii) to stay inside a thin body.
_LEAST_BORE_ENDS = 1.2


def solve_hole(
    shape: HoleShape, state: str = "open", *, mesh: MeshDetail | None = None, check: bool = True
) -> SolvedHole:
    """T-network lengths of one side hole from its real shape, lossless and quasi-static.

    Parameters
    ----------
    shape
        All sizes (mm).
    state
        ``"open"`` or ``"closed"``.
    mesh
        How fine and how far; the default takes a tenth of a second to two seconds and is
        right to a thousandth of a millimetre or 0.1 % of the shunt length.
    check
        Solve with one order less as well and bound the errors by the difference.

    Returns
    -------
    SolvedHole
        Series and shunt lengths (mm), volume (mm³) and their error bounds.

    Raises
    ------
    AcousticsError
        If the shape is impossible, if NGSolve is not installed, or if the kernel cannot make
        or mesh the air.
    """
    detail = (mesh or MeshDetail()).checked()
    check_shape(shape, state)
    require_ngsolve()
    started = time.perf_counter()
    solve = _open if state == "open" else _closed
    return solve(shape, detail, check, started)


def has_ngsolve() -> bool:
    """Whether NGSolve is installed."""
    return all(importlib.util.find_spec(name) is not None for name in ("ngsolve", "netgen"))


def require_ngsolve() -> None:
    """Raise AcousticsError where NGSolve is not installed.

    Both it and the solids' kernel bring Python names for the same geometry. Whoever registers
    them second can live with the first, but the solids' kernel fails as the second, so it goes
    first here.
    """
    if not has_ngsolve():
        raise AcousticsError(
            say("holes are solved in 3-D by NGSolve, which is not installed"),
            place="ngsolve",
            remedy=say('Install it: pip install "borewright[solve3d]"'),
        )
    if "netgen" not in sys.modules:
        import OCP.TopAbs  # noqa: F401


def _open(shape: HoleShape, detail: MeshDetail, check: bool, started: float) -> SolvedHole:
    from borewright.acoustics.solved._air import far_radius_mm, inner_air, whole_air
    from borewright.acoustics.solved._attempts import on_sound_mesh
    from borewright.acoustics.solved._network import open_lengths
    from borewright.acoustics.solved._potential import conductances
    from borewright.acoustics.solved._rising import rise_mm3
    from borewright.acoustics.solved.hole_volume import hole_volume

    section, detail = _section(shape, detail)
    expected = hole_volume(shape, "open")
    inner = on_sound_mesh(
        lambda: inner_air(shape, section, finger=False),
        lambda mesh: conductances(mesh, detail.order, sink=True),
        shape,
        detail,
        volume_mm3=_meshed_volume(shape, section, expected),
    )
    far = far_radius_mm(shape, detail.outer_end)

    def growth(mesh: Any, shape: HoleShape, section: BoreSection) -> float:
        return rise_mm3(mesh, shape, section, far, expected.displaced)

    whole, rise = on_sound_mesh(
        lambda: whole_air(shape, section, far),
        lambda mesh: (
            [conductances(mesh, order, far_radius_mm=far) for order in _orders(detail, check)],
            None if shape.is_conical else growth(mesh, shape, section),
        ),
        shape,
        detail,
        volume_mm3=None,
    )
    if rise is None:
        level = replace(shape, bore_slope=0.0)
        level_section, level_detail = _section(level, detail)
        rise = on_sound_mesh(
            lambda: whole_air(level, level_section, far),
            lambda mesh: growth(mesh, level, level_section),
            level,
            level_detail,
            volume_mm3=None,
        )
    lengths = [open_lengths(shape, section, solved) for solved in whole]
    (series, shunt), (_, inner_shunt) = lengths[0], open_lengths(shape, section, inner)
    volume = inner.volume - section.upper.volume - section.lower.volume + expected.displaced
    left_out = truncation_mm(shape, detail, far)
    return SolvedHole(
        state="open",
        series_length_mm=series,
        shunt_length_mm=shunt,
        inner_length_mm=inner_shunt,
        outside_length_mm=shunt - inner_shunt,
        rise_mm3=rise,
        volume_mm3=volume,
        displaced_mm3=expected.displaced,
        **error_bounds(shape, section, lengths, left_out, 0.0, volume - expected.tube),
        unknowns=inner.unknowns + sum(solved.unknowns for solved in whole),
        seconds=time.perf_counter() - started,
    )


def _closed(shape: HoleShape, detail: MeshDetail, check: bool, started: float) -> SolvedHole:
    from borewright.acoustics.solved._air import inner_air
    from borewright.acoustics.solved._attempts import on_sound_mesh
    from borewright.acoustics.solved._network import closed_lengths
    from borewright.acoustics.solved._potential import conductances
    from borewright.acoustics.solved.hole_volume import hole_volume

    section, detail = _section(shape, detail)
    expected = hole_volume(shape, "closed")
    solved = on_sound_mesh(
        lambda: inner_air(shape, section, finger=shape.cover == HoleCover.FINGER),
        lambda mesh: [conductances(mesh, order, filling=True) for order in _orders(detail, check)],
        shape,
        detail,
        volume_mm3=_meshed_volume(shape, section, expected),
    )
    lengths = [closed_lengths(shape, section, one, expected.displaced) for one in solved]
    series, shunt, volume = lengths[0]
    left_out = truncation_mm(shape, detail, 0.0)
    of_filling = filling_mm(shape, solved[0].filling, volume)
    off = volume - expected.tube
    pairs = [found[:2] for found in lengths]
    return SolvedHole(
        state="closed",
        series_length_mm=series,
        shunt_length_mm=shunt,
        inner_length_mm=shunt,
        outside_length_mm=0.0,
        rise_mm3=0.0,
        volume_mm3=volume,
        displaced_mm3=expected.displaced,
        **error_bounds(shape, section, pairs, left_out, of_filling, off),
        unknowns=sum(one.unknowns for one in solved),
        seconds=time.perf_counter() - started,
    )


def _orders(detail: MeshDetail, check: bool) -> tuple[int, ...]:
    return (detail.order, detail.order - 1) if check else (detail.order,)


def _meshed_volume(shape: HoleShape, section: BoreSection, expected: HoleVolume) -> float:
    """Volume (mm³) of the half or quarter up to the rim plane."""
    whole = section.upper.volume + section.lower.volume + expected.added
    return whole / (2 if shape.is_conical else 4)


def _section(shape: HoleShape, detail: MeshDetail) -> tuple[BoreSection, MeshDetail]:
    """The bore's ends as asked for, or nearer where a flare would come through the outside."""
    from borewright.acoustics.solved.bore_section import bore_section

    body = shape.body_radius_mm
    # The widest bore that keeps a wall: on the hole's side, or round an eccentric body's axis.
    most = shape.crown_mm if body is None else body - abs(shape.crown_mm - body)
    while True:
        section = bore_section(shape, detail.bore_ends)
        farthest = max(-section.upper_mm, section.lower_mm)
        widest = shape.bore_radius_mm + abs(shape.bore_slope) * farthest
        if not shape.is_conical or widest < 0.98 * most:
            return section, detail
        detail = replace(detail, bore_ends=0.9 * detail.bore_ends)
        if detail.bore_ends < _LEAST_BORE_ENDS:
            raise AcousticsError(
                say(
                    "the bore, which widens by {bore_slope:g} mm a mm, comes through the outside "
                    "{most:g} mm from its axis",
                    bore_slope=abs(shape.bore_slope),
                    most=most,
                ),
                place=(say("hole shape"), "bore_slope"),
                remedy=say("Give a wider body, or a higher hole."),
            )
