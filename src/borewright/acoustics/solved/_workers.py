"""Processes that solve holes side by side; a kernel that crashes takes one hole with it.

Each worker is a Python of its own that reads a job a line and answers a line, so that callers
need no guard in their script, and an interruption kills workers without harm: a finished hole
is in the cache.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import os
import queue
import subprocess
import sys
import threading
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
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


def answers(
    jobs: list[Job], processes: int | None
) -> Iterator[tuple[str, SolvedHole | AcousticsError]]:
    """Answers as they come, in any order."""
    if not jobs:
        return
    require_ngsolve()
    count = min(processes or _cores(), max(1, len(jobs) // _WORTH_A_WORKER))
    if count == 1:
        for job in jobs:
            yield job.key, job.solved()
        return
    waiting: queue.SimpleQueue[Job] = queue.SimpleQueue()
    for job in jobs:
        waiting.put(job)
    done: queue.SimpleQueue[tuple[str, SolvedHole | AcousticsError]] = queue.SimpleQueue()
    workers = [_Worker(waiting, done) for _ in range(count)]
    for worker in workers:
        worker.start()
    try:
        for _ in jobs:
            yield done.get()
    finally:
        for worker in workers:
            worker.stop()


def _cores() -> int:
    try:
        count = len(os.sched_getaffinity(0))
    except AttributeError:  # not on every system
        count = os.cpu_count() or 1
    return min(count, _MOST_WORKERS)


class _Worker(threading.Thread):
    """Feeds one process, and starts another where it dies."""

    def __init__(
        self,
        waiting: queue.SimpleQueue[Job],
        done: queue.SimpleQueue[tuple[str, SolvedHole | AcousticsError]],
    ) -> None:
        super().__init__(daemon=True)
        self._waiting = waiting
        self._done = done
        self._process: subprocess.Popen[str] | None = None
        self._stopped = False
        self._lock = threading.Lock()

    def run(self) -> None:
        try:
            while not self._stopped:
                try:
                    job = self._waiting.get_nowait()
                except queue.Empty:
                    break
                self._done.put((job.key, self._answer(job)))
        finally:
            self._end()

    def stop(self) -> None:
        """End the process, whatever it is doing, and the thread with it."""
        with self._lock:
            self._stopped = True
            if self._process is not None:
                self._process.kill()
        self.join()

    def _end(self) -> None:
        """Close what belongs to the process, alive or dead."""
        with self._lock:
            process, self._process = self._process, None
        if process is not None:
            process.kill()
            # What a dead process left unread cannot be flushed any more.
            with contextlib.suppress(OSError), process:
                pass

    def _ready(self) -> subprocess.Popen[str] | None:
        """The process, a new one where there is none; None once stopped."""
        with self._lock:
            if self._process is None and not self._stopped:
                self._process = _start()
            return self._process

    def _answer(self, job: Job) -> SolvedHole | AcousticsError:
        process = self._ready()
        text = json.dumps(
            {"shape": asdict(job.shape), "state": job.state, "mesh": asdict(job.mesh)}
        )
        line = ""
        try:
            if process and process.stdin and process.stdout:
                process.stdin.write(text + "\n")
                process.stdin.flush()
                line = process.stdout.readline()
        except OSError:
            line = ""  # it died before it had the job
        if not line:
            self._end()
            return AcousticsError(
                say("the geometry kernel crashed on this hole"),
                place=say("hole shape"),
                remedy=say(
                    "Change a size by a hundredth of a millimetre, or ask for a finer mesh."
                ),
            )
        answer: dict[str, Any] = json.loads(line)
        if "error" in answer:
            told = answer["error"]
            return AcousticsError(told["cause"], place=told["place"], remedy=told["remedy"])
        return SolvedHole(**answer)


def _start() -> subprocess.Popen[str]:
    environment = dict(os.environ)
    # One thread each: the workers themselves fill the cores.
    environment |= {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    source = str(Path(__file__).parents[3])
    paths = [source, environment.get("PYTHONPATH", "")]
    environment["PYTHONPATH"] = os.pathsep.join(path for path in paths if path)
    return subprocess.Popen(
        [sys.executable, "-c", "from borewright.acoustics.solved._workers import serve; serve()"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        encoding="utf-8",
        env=environment,
        # Not the terminal's: an interruption is ours to hand on.
        start_new_session=True,
    )


def serve() -> None:
    """Answer jobs, a line each, until there are no more."""
    # No solids are made here: without their kernel a worker starts a second sooner.
    with contextlib.suppress(ImportError):
        importlib.import_module("netgen.occ")
    # The kernel prints on the standard output now and then: keep that apart from answers.
    answers_to = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)
    for line in sys.stdin:
        task = json.loads(line)
        job = Job("", HoleShape(**task["shape"]), task["state"], MeshDetail(**task["mesh"]))
        solved = job.solved()
        answer = asdict(solved) if isinstance(solved, SolvedHole) else solved.as_dict()
        answers_to.write(json.dumps(answer) + "\n")
        answers_to.flush()
