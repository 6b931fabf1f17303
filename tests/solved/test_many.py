"""Many holes side by side: order kept, progress told, crashes contained, nothing lost."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace

import pytest

from borewright.acoustics.solved import (
    HoleShape,
    MeshDetail,
    SolvedHole,
    known_hole,
    many,
    solve_hole,
    solve_holes,
)
from borewright.acoustics.solved._workers import Job, answers
from borewright.errors import AcousticsError
from borewright.words import ENGLISH

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
    assert "no mesh" in str(second.problem)


def jobs(count: int) -> list[Job]:
    return [
        Job(str(i), replace(PLAIN, height_mm=6.0 + i / 10), "closed", COARSE) for i in range(count)
    ]


def test_an_interruption_loses_nothing_done():
    stream = answers(jobs(8), 2)
    key, first = next(stream)
    stream.close()
    assert known_hole(jobs(8)[int(key)].shape, "closed", mesh=COARSE) == first


class Crashing(Job):
    """A hole on which the kernel takes its process with it."""

    def solved(self):
        os.abort()


def test_a_crash_of_the_kernel_is_one_holes_problem():
    """A process that dies on its job gives an answer, and others take the other jobs."""
    first, *others = jobs(4)
    crashing = Crashing(first.key, first.shape, first.state, first.mesh)
    found = dict(answers([others[0], crashing, *others[1:]], 2))
    assert len(found) == 4
    problem = found.pop(first.key)
    assert isinstance(problem, AcousticsError)
    assert "crashed" in str(problem)
    assert all(isinstance(one, SolvedHole) for one in found.values())


def test_a_script_needs_no_guard(tmp_path):
    """Whoever solves holes at the top of a script is not run again in every process."""
    script = tmp_path / "script.py"
    script.write_text(
        "from borewright.acoustics.solved import HoleShape, MeshDetail, solve_holes\n"
        "print('once')\n"
        "shapes = [HoleShape(7.5, 4.0, height) for height in (6.0, 7.0)]\n"
        "found = solve_holes(shapes, mesh=MeshDetail(order=2), processes=2)\n"
        "print([one.problem for one in found])\n",
        encoding="utf-8",
    )
    told = subprocess.run([sys.executable, script], capture_output=True, text=True, check=True)
    assert told.stdout.splitlines() == ["once", "[None, None]"]


def test_a_workers_refusal_comes_back_whole():
    """The error of another process keeps place, cause and remedy."""
    wrong = Job("wrong", replace(PLAIN, radius_mm=9.0), "closed", COARSE)
    found = dict(answers([wrong, *jobs(3)], 2))
    problem = found["wrong"]
    assert isinstance(problem, AcousticsError)
    assert ENGLISH.place(problem.place) == "hole shape, radius_mm"
    assert problem.remedy
