"""Many holes side by side: order kept, progress told, crashes contained, nothing lost."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest

from borewright.acoustics.solved import (
    HoleShape,
    MeshDetail,
    _workers,
    known_hole,
    many,
    solve_hole,
    solve_holes,
)
from borewright.acoustics.solved._workers import Job, answers
from borewright.errors import AcousticsError

PLAIN = HoleShape(7.5, 4.0, 8.0)
SHAPES = [replace(PLAIN, height_mm=height) for height in (6.0, 7.0, 8.0)]
COARSE = MeshDetail(order=2)


@pytest.fixture(autouse=True)
def _own_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))


@pytest.mark.parametrize("processes", [1, 2])
def test_answers_in_order_with_progress(processes):
    told: list[tuple[int, int]] = []
    shapes = [*SHAPES, SHAPES[0]]
    found = solve_holes(shapes, lambda *p: told.append(p), mesh=COARSE, processes=processes)
    assert told == [(done, 6) for done in range(7)]
    assert [one.shape for one in found] == shapes
    assert found[0].open == found[3].open
    for shape, one in zip(shapes, found, strict=True):
        assert one.problem is None
        alone = solve_hole(shape, "closed", mesh=COARSE)
        assert one.closed.shunt_length_mm == pytest.approx(alone.shunt_length_mm, rel=1e-9)
        assert one.open.state == "open"
        assert known_hole(shape, mesh=COARSE) == one.open
    again: list[tuple[int, int]] = []
    assert solve_holes(shapes, lambda *p: again.append(p), mesh=COARSE) == found
    assert again == [(6, 6)]


def test_nothing_to_solve():
    assert solve_holes([]) == []


def test_an_unmeshable_hole_does_not_keep_the_others_waiting(monkeypatch):
    def refuse(jobs, processes):
        for job in jobs:
            bad = job.shape == SHAPES[1] and job.state == "open"
            yield job.key, AcousticsError("no mesh", place="hole shape") if bad else job.solved()

    monkeypatch.setattr(many, "answers", refuse)
    first, second, third = solve_holes(SHAPES, mesh=COARSE)
    assert first.problem is None
    assert third.open is not None
    assert second.open is None
    assert second.closed is not None
    assert second.problem.cause == "no mesh"


def jobs(count: int) -> list[Job]:
    return [
        Job(str(i), replace(PLAIN, height_mm=6.0 + i / 10), "closed", COARSE) for i in range(count)
    ]


def test_an_interruption_loses_nothing_done():
    stream = answers(jobs(8), 2)
    key, first = next(stream)
    stream.close()
    assert known_hole(jobs(8)[int(key)].shape, "closed", mesh=COARSE) == first


def test_a_crash_of_the_kernel_is_one_holes_problem(monkeypatch):
    """A process that dies on its job gives an answer, and another takes the next job."""
    start = _workers._start
    deaths: list[int] = []

    def dying():
        if not deaths:
            deaths.append(1)
            return subprocess.Popen(
                [sys.executable, "-c", "import sys, os; sys.stdin.readline(); os.abort()"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
            )
        return start()

    monkeypatch.setattr(_workers, "_start", dying)
    found = dict(answers(jobs(4), 2))
    problems = [one for one in found.values() if isinstance(one, AcousticsError)]
    assert len(found) == 4
    assert len(problems) == 1
    assert "crashed" in problems[0].cause


def test_a_workers_refusal_comes_back_whole():
    """The error of another process keeps place, cause and remedy."""
    wrong = Job("wrong", replace(PLAIN, radius_mm=9.0), "closed", COARSE)
    found = dict(answers([wrong, *jobs(3)], 2))
    problem = found["wrong"]
    assert isinstance(problem, AcousticsError)
    assert problem.place == "hole shape, radius_mm"
    assert problem.remedy
