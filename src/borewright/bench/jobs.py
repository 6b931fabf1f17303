"""Work in the background, with progress and cancel: the page stays alive meanwhile."""

from __future__ import annotations

import asyncio
import itertools
import threading
from collections.abc import Callable
from enum import Enum
from typing import Any, TypeVar

from borewright.bench.rights import Right, require
from borewright.errors import BorewrightError, Stopped
from borewright.words import Message, Text, say

_T = TypeVar("_T")
_numbers = itertools.count(1)


class Task(Enum):
    """What jobs do: the key that they are known by, whatever language a page is read in."""

    BACKUP = "backup"
    BLEND = "blend"
    BODIES = "bodies"
    CHARACTER = "character"
    COMPARE = "compare"
    CORRECT = "correct"
    COUPON = "coupon"
    DIAGNOSE = "diagnose"
    FIT = "fit"
    GATHER = "gather"
    KEY_FIT = "key fit"
    LISTEN = "listen"
    MEASURE = "measure"
    OUTLOOK = "outlook"
    PAPER = "paper"
    PRINT = "print"

    @property
    def words(self) -> Message:
        """What is being done."""
        return _WORDS[self]


_WORDS = {
    Task.BACKUP: say("Making a backup"),
    Task.BLEND: say("Blending"),
    Task.BODIES: say("Making the bodies"),
    Task.KEY_FIT: say("Making slices and jigs"),
    Task.CHARACTER: say("Listening into the bore"),
    Task.COMPARE: say("Comparing"),
    Task.CORRECT: say("Working out corrections"),
    Task.COUPON: say("Making the coupon"),
    Task.DIAGNOSE: say("Naming the causes"),
    Task.FIT: say("Fitting"),
    Task.GATHER: say("Gathering what can be read"),
    Task.LISTEN: say("Rendering sound"),
    Task.MEASURE: say("Measuring a recording"),
    Task.OUTLOOK: say("Building virtual instruments"),
    Task.PAPER: say("Making the paper"),
    Task.PRINT: say("Making everything for the printer"),
}


class Job:
    """One piece of work: its task, what it is of, progress (0 to 1, None where unknown), outcome.

    ``title`` and ``words`` are data: every page tells them in its own language.
    """

    def __init__(self, task: Task, title: Text, told: Callable[[Job], None]) -> None:
        self.number = next(_numbers)
        self.task = task
        self.title = title
        self.share: float | None = None
        self.words: Text = ""
        self.running = True
        self.result: Any = None
        self.error: BorewrightError | None = None
        self._told = told
        #: Set once somebody asked for an end: the ``cancel`` of a use case.
        self.wish = threading.Event()

    @property
    def cancelled(self) -> bool:
        """Whether somebody asked it to stop."""
        return self.wish.is_set()

    def cancel(self) -> None:
        """Ask it to stop; it does so at its next progress."""
        self.wish.set()

    def progress(self, share: float | None, words: Text = "") -> None:
        """Tell how far it is, from the work itself; raises Stopped once it was cancelled."""
        if self.cancelled:
            raise Stopped
        self.tell(share, words)

    def tell(self, share: float | None, words: Text) -> None:
        """Tell how far it is: the ``progress`` of a use case that is handed :attr:`wish` too."""
        self.share, self.words = share, words
        self._told(self)


class Jobs:
    """The jobs of a workbench; ``told`` is called, on the event loop, whenever one changes."""

    def __init__(self, told: Callable[[Job], None]) -> None:
        self._told = told
        self.jobs: list[Job] = []

    def running(self, task: Task | None = None) -> list[Job]:
        """Jobs that are not done, of one task or all: most work is done once at a time."""
        return [job for job in self.jobs if job.running and task in (None, job.task)]

    def _refused(self, task: Task, title: Text) -> Job | None:
        """A job that ended before it began, for whoever may not do it."""
        right = Right.OWN if task in _OWNERS else Right.LOOK if task in _LOOKING else Right.WORK
        try:
            require(right)
        except BorewrightError as error:
            job = Job(task, title or task.words, self._told)
            job.error, job.running = error, False
            return job
        return None

    async def run(self, task: Task, work: Callable[[Job], Any], title: Text = "") -> Job:
        """Run ``work(job)`` in a thread and wait for it; the job holds result or error.

        ``title`` says more than the task's own words do. Only errors that Borewright foresees end
        up in ``job.error``; others are raised.
        """
        loop = asyncio.get_running_loop()
        refused = self._refused(task, title)
        if refused is not None:
            return refused

        def told(changed: Job) -> None:
            loop.call_soon_threadsafe(self._told, changed)

        job = Job(task, title or task.words, told)
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


#: Jobs that are the owner's alone: they hand out or rebuild the whole ledger.
_OWNERS = (Task.BACKUP, Task.GATHER)
_LOOKING = (Task.CHARACTER, Task.COMPARE, Task.LISTEN)


def _guarded(work: Callable[[Job], Any], job: Job) -> Any:
    try:
        return work(job)
    except Stopped:
        return None  # cancelled before there was anything to hand back


def apart(
    job: Job, use_case: Callable[..., _T], /, *given: Any, grace_s: float = 0.0, **named: Any
) -> _T:
    """Run a use case for a job in a process of its own; a cancel ends that.

    For work that would hold up the page even from a thread, as solids do. ``use_case`` takes
    ``progress`` and ``cancel``. Raises what :func:`borewright.tasks.running.run_apart` does.
    """
    from borewright.tasks.running import run_apart

    return run_apart(use_case, *given, progress=job.tell, cancel=job.wish, grace_s=grace_s, **named)
