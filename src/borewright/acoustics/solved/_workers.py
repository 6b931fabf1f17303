"""Processes that solve holes side by side; a kernel that crashes takes one hole with it.

loky's pool is used, not the standard library's: that one runs a caller's script anew in every
process it starts, unless the script guards itself.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import signal
from collections import deque
from collections.abc import Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Future, wait
from dataclasses import dataclass
from typing import Any

from borewright.acoustics.solved.hole_cache import cached_hole
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.result import SolvedHole
from borewright.acoustics.solved.shape import HoleShape
from borewright.acoustics.solved.solving import require_ngsolve
from borewright.errors import AcousticsError
from borewright.words import say

#: Starting a worker costs about as long as solving this many holes.
_WORTH_A_WORKER = 2
#: A worker takes some 300 MB; more than this many are not started unasked.
_MOST_WORKERS = 8

Answer = tuple[str, SolvedHole | AcousticsError]


@dataclass(frozen=True)
class Job:
    """One hole in one state, under the name that its answer is wanted by."""

    key: str
    shape: HoleShape
    state: str
    mesh: MeshDetail

    def solved(self) -> SolvedHole | AcousticsError:
        """The solution, through the cache, or why there is none."""
        try:
            return cached_hole(self.shape, self.state, mesh=self.mesh)
        except AcousticsError as error:
            return error


def answers(jobs: list[Job], processes: int | None) -> Iterator[Answer]:
    """Answers as they come, in any order."""
    if not jobs:
        return
    require_ngsolve()
    count = min(processes or _cores(), max(1, len(jobs) // _WORTH_A_WORKER))
    if count == 1:
        for job in jobs:
            yield job.key, job.solved()
        return
    waiting, suspects = deque(jobs), deque[Job]()
    while waiting:
        yield from _side_by_side(waiting, suspects, count)
    for job in suspects:
        # Alone: whoever breaks the pool now is the one.
        culprit = deque[Job]()
        yield from _side_by_side(deque([job]), culprit, 1)
        if culprit:
            yield job.key, _crash()


def _side_by_side(waiting: deque[Job], suspects: deque[Job], count: int) -> Iterator[Answer]:
    """Answers until all are done or a process dies; then ``suspects`` were at work."""
    pool = _pool(count)
    running: dict[Future[SolvedHole | AcousticsError], Job] = {}
    broken = False
    try:
        while (waiting or running) and not broken:
            while waiting and len(running) < count:
                running[pool.submit(waiting[0].solved)] = waiting[0]
                waiting.popleft()
            done, _ = wait(running, return_when=FIRST_COMPLETED)
            for future in done:
                job = running.pop(future)
                if isinstance(future.exception(), BrokenExecutor):
                    broken = True
                    suspects.append(job)
                else:
                    yield job.key, future.result()
    except BrokenExecutor:
        pass  # it broke while a job was handed in, which still waits
    finally:
        suspects.extend(running.values())
        pool.shutdown(kill_workers=True)


def _pool(count: int) -> Any:
    from loky.process_executor import ProcessPoolExecutor

    # One thread each: the workers themselves fill the cores.
    threads = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    return ProcessPoolExecutor(count, initializer=_prepare, env=threads)


def _prepare() -> None:
    """Make a process ready, before its first job."""
    # An interruption is the caller's to hand on.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # The kernel prints now and then, which is no part of anybody's output.
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    # No solids are made here: without their kernel a worker starts a second sooner.
    with contextlib.suppress(ImportError):
        importlib.import_module("netgen.occ")


def _cores() -> int:
    try:
        count = len(os.sched_getaffinity(0))
    except AttributeError:  # not on every system
        count = os.cpu_count() or 1
    return min(count, _MOST_WORKERS)


def _crash() -> AcousticsError:
    return AcousticsError(
        say("the geometry kernel crashed on this hole"),
        place=say("hole shape"),
        remedy=say("Change a size by a hundredth of a millimetre, or ask for a finer mesh."),
    )
