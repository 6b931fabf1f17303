"""Work in the background, with progress and cancel: the page stays alive meanwhile."""

from __future__ import annotations

import asyncio
import itertools
import json
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from typing import Any

from borewright.errors import BenchError, BorewrightError

_LOOK_S = 0.1
_numbers = itertools.count(1)


class Cancelled(KeyboardInterrupt):
    """Raised inside a job's work once it was cancelled.

    It is the interrupt that Ctrl-C sends, so a fit hands back the best so far.
    """


class Job:
    """One piece of work: title, progress (0 to 1, None where unknown), words, outcome."""

    def __init__(self, title: str, told: Callable[[Job], None]) -> None:
        self.number = next(_numbers)
        self.title = title
        self.share: float | None = None
        self.words = ""
        self.running = True
        self.result: Any = None
        self.error: BorewrightError | None = None
        self._told = told
        self._cancel = threading.Event()

    @property
    def cancelled(self) -> bool:
        """Whether somebody asked it to stop."""
        return self._cancel.is_set()

    def cancel(self) -> None:
        """Ask it to stop; it does so at its next progress."""
        self._cancel.set()

    def progress(self, share: float | None, words: str = "") -> None:
        """Tell how far it is, from the work itself; raises Cancelled once it was cancelled."""
        if self.cancelled:
            raise Cancelled
        self.share, self.words = share, words
        self._told(self)


class Jobs:
    """The jobs of a workbench; ``told`` is called, on the event loop, whenever one changes."""

    def __init__(self, told: Callable[[Job], None]) -> None:
        self._told = told
        self.jobs: list[Job] = []

    def running(self) -> list[Job]:
        """Jobs that are not done."""
        return [job for job in self.jobs if job.running]

    async def run(self, title: str, work: Callable[[Job], Any]) -> Job:
        """Run ``work(job)`` in a thread and wait for it; the job holds result or error.

        Only errors that Borewright foresees end up in ``job.error``; others are raised.
        """
        loop = asyncio.get_running_loop()

        def told(changed: Job) -> None:
            loop.call_soon_threadsafe(self._told, changed)

        job = Job(title, told)
        self.jobs = [*self.running(), job]
        self._told(job)
        try:
            job.result = await asyncio.to_thread(_guarded, work, job)
        except BorewrightError as error:
            job.error = error
        finally:
            job.running = False
            self._told(job)
        return job


def _guarded(work: Callable[[Job], Any], job: Job) -> Any:
    try:
        return work(job)
    except KeyboardInterrupt:
        return None  # cancelled before there was anything to hand back


def is_running(jobs: Jobs, title: str) -> bool:
    """Whether a job of that title is under way: most work is done once at a time."""
    return any(job.title == title for job in jobs.running())


def command(job: Job, words: Sequence[str]) -> dict[str, Any]:
    """Run a command of Borewright in a process of its own and return its JSON answer.

    For work that would hold up the page even from a thread, as solids do. Cancelling the job
    ends the process. Exit code 1 (faults found) is an answer like any other.

    Raises
    ------
    BenchError
        With the command's own message where it failed.
    """
    with subprocess.Popen(
        [sys.executable, "-m", "borewright", *words, "--json"],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as child:
        try:
            while True:
                job.progress(None, "")
                try:
                    answer, said = child.communicate(timeout=_LOOK_S)
                    break
                except subprocess.TimeoutExpired:
                    continue
        except BaseException:
            child.kill()
            raise
    try:
        data: dict[str, Any] = json.loads(answer)
    except ValueError as error:
        raise BenchError(
            said.decode(errors="replace").strip()[-400:] or "the process was ended",
            place=f"borewright {words[0]}",
            remedy="Try again; if it stays so, run that command in a shell.",
        ) from error
    if "error" in data:
        told = data["error"]
        raise BenchError(told["cause"], place=told["place"], remedy=told["remedy"])
    return data
