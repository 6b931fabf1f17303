"""Where kernel, mesher or solver fail, other sizes are tried; then the hole is refused."""

from __future__ import annotations

import pytest

from borewright.acoustics.solved import HoleShape, MeshDetail, _air, _attempts, solve_hole
from borewright.errors import AcousticsError

PLAIN = HoleShape(7.5, 4.0, 8.0)
COARSE = MeshDetail(order=2)


def failing_meshes(monkeypatch, failures: int, error: Exception) -> list[float]:
    """The first few meshes fail; returns the factors tried."""
    mesh_of, tried = _attempts.mesh_of, []

    def mesh(air, shape, detail, factor):
        tried.append(factor)
        if len(tried) <= failures:
            raise error
        return mesh_of(air, shape, detail, factor)

    monkeypatch.setattr(_attempts, "mesh_of", mesh)
    return tried


def test_smaller_sizes_after_a_failure(monkeypatch):
    straight = solve_hole(PLAIN, "closed", mesh=COARSE)
    tried = failing_meshes(monkeypatch, 2, RuntimeError("Meshing failed!"))
    solved = solve_hole(PLAIN, "closed", mesh=COARSE)
    assert tried == [1.0, 0.8, 0.63]
    assert solved.unknowns > straight.unknowns
    assert solved.series_length_mm == pytest.approx(straight.series_length_mm, abs=0.01)


def test_no_mesh_at_all(monkeypatch):
    failing_meshes(monkeypatch, 99, RuntimeError("Meshing failed!"))
    with pytest.raises(AcousticsError, match="Meshing failed!") as caught:
        solve_hole(PLAIN, "closed", mesh=COARSE)
    assert isinstance(caught.value.__cause__, RuntimeError)


def test_memory_is_not_asked_for_again(monkeypatch):
    tried = failing_meshes(monkeypatch, 99, MemoryError())
    with pytest.raises(AcousticsError, match="not enough memory"):
        solve_hole(PLAIN, "closed", mesh=COARSE)
    assert tried == [1.0]


def test_a_solid_that_lost_its_hole_is_noticed(monkeypatch):
    """A kernel's boolean may go wrong silently: here the tube is one millimetre short."""
    tube = _air.tube_of
    monkeypatch.setattr(
        _air, "tube_of", lambda shape: tube(HoleShape(7.5, 4.0, shape.height_mm - 1.0))
    )
    with pytest.raises(AcousticsError, match="mm³ of air instead of"):
        solve_hole(PLAIN, "closed", mesh=COARSE)


def test_a_pad_that_got_lost_is_noticed(monkeypatch):
    shape = HoleShape(7.5, 4.0, 8.0, cover="pad", pad_radius_mm=6.0, lift_mm=1.5)
    rod = _air.rod

    def without_pad(radius, start, end):
        return rod(1e-3 if radius == 6.0 else radius, start, end)

    monkeypatch.setattr(_air, "rod", without_pad)
    with pytest.raises(AcousticsError, match="lacks an edge: pad"):
        solve_hole(shape, mesh=COARSE)


def test_a_broken_kernel_call_is_a_refusal(monkeypatch):
    def broken(*_, **__):
        raise ValueError("BRep_API: command not done")

    monkeypatch.setattr(_air, "bore_with", broken)
    with pytest.raises(AcousticsError, match="the kernel could not make it"):
        solve_hole(PLAIN, mesh=COARSE)
