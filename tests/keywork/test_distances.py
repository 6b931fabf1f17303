"""Distances of capsules, against the CAD kernel's own and against points laid out densely."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.keywork.distances import Capsules, gap_mm, gaps_mm


def capsules(random: np.random.Generator, count: int) -> Capsules:
    starts = random.normal(size=(count, 3)) * 10
    return Capsules(
        starts, starts + random.normal(size=(count, 3)) * 8, random.uniform(0.5, 2, count)
    )


def solid(start, end, radius):
    """A bar with round ends, as the kernel makes it."""
    from build123d import Axis, Plane, Solid, Vector

    along = Vector(*end) - Vector(*start)
    bar = Solid.make_cylinder(radius, along.length, Plane(origin=tuple(start), z_dir=tuple(along)))
    balls = [Solid.make_sphere(radius, Plane(tuple(point)), -90, 90, 360) for point in (start, end)]
    del Axis
    return bar.fuse(*balls)


def test_the_cad_kernel_finds_the_same_distances():
    random = np.random.default_rng(3)
    one, other = capsules(random, 4), capsules(random, 4)
    found = gaps_mm(one, other)
    compared = 0
    for i in range(4):
        first = solid(one.starts[i], one.ends[i], one.radii[i])
        for j in range(4):
            if found[i, j] <= 0:
                continue
            second = solid(other.starts[j], other.ends[j], other.radii[j])
            assert first.distance_to(second) == pytest.approx(found[i, j], abs=1e-4)
            compared += 1
    assert compared >= 8


def test_dense_points_come_no_nearer():
    random = np.random.default_rng(5)
    one, other = capsules(random, 30), capsules(random, 30)
    share = np.linspace(0, 1, 101)[:, None]
    found = gaps_mm(one, other)
    for i in range(30):
        p = one.starts[i] + share * (one.ends[i] - one.starts[i])
        q = other.starts[i] + share * (other.ends[i] - other.starts[i])
        dense = np.linalg.norm(p[:, None] - q[None], axis=-1).min() - one.radii[i] - other.radii[i]
        assert found[i, i] <= dense + 1e-9
        assert found[i, i] == pytest.approx(dense, abs=0.05)


def test_parallel_touching_and_pointlike_bars():
    line = Capsules(np.zeros((1, 3)), np.array([[10.0, 0, 0]]), np.array([1.0]))
    beside = Capsules(np.array([[2.0, 3, 0]]), np.array([[30.0, 3, 0]]), np.array([0.5]))
    beyond = Capsules(np.array([[14.0, 3, 0]]), np.array([[30.0, 3, 0]]), np.array([0.5]))
    point = Capsules(np.array([[5.0, 0, 4]]), np.array([[5.0, 0, 4]]), np.zeros(1))
    assert gap_mm(line, beside) == pytest.approx(1.5)
    assert gap_mm(line, beyond) == pytest.approx(5.0 - 1.5)
    assert gap_mm(line, point) == pytest.approx(3.0)
    assert gap_mm(line, line) == pytest.approx(-2.0)
