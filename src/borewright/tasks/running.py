"""One process runner for all long work: any use case, in a process of its own.

A use case is called through it as it would be called here::

    job = run_apart(print_file, file, folder, wishes, progress=told, cancel=event)

What the use case tells comes through a pipe, its result and its errors come back as they are,
and a cancel ends the process with everything that it started.
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import Any, TypeVar

from borewright.errors import BorewrightError, Stopped
from borewright.tasks.progress import Cancel, Progress
from borewright.words import Said, say

Result = TypeVar("Result")

_LOOK_S = 0.1
#: A process that was only just started says who it is within this.
_BEGIN_S = 30.0


def run_apart(
    task: Callable[..., Result],
    /,
    *given: Any,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    grace_s: float = 0.0,
    **named: Any,
) -> Result:
    """Run a use case in a process of its own and wait for it.

    Parameters
    ----------
    task
        A function of a module, such as ``print_file``, that takes ``progress`` and ``cancel``.
    given, named
        Its arguments; they and the result travel between processes (pickle).
    progress
        Called here, in the waiting thread, with what the use case tells there.
    cancel
        Once it is set the use case is asked to stop, and ended where it has not come to an end
        of its own after ``grace_s``: so a fit can hand back its best so far.
    grace_s
        Seconds; 0 ends the process at once.

    Returns
    -------
    Result
        What the use case returned, also when it did so after a cancel.

    Raises
    ------
    Stopped
        Where it was ended.
    BorewrightError
        The use case's own, or one that says that the process broke off.
    """
    context = get_context("spawn")
    told, telling = context.Pipe(duplex=False)
    wish = context.Event()
    pool = ProcessPoolExecutor(1, context, initializer=_begin, initargs=(telling, wish))
    work = pool.submit(_work, task, given, named)
    telling.close()  # the child holds the other end: when it goes, so does the pipe
    try:
        return _wait(work, _Child(told), wish, progress, cancel, grace_s)
    except BrokenProcessPool as error:
        if cancel is not None and cancel.is_set():
            raise Stopped from error
        raise BorewrightError(
            say("the work broke off without an answer, as it does where memory runs out"),
            remedy=say("Close other programs, then try again."),
        ) from error
    finally:
        pool.shutdown(wait=False, cancel_futures=True)
        told.close()


@contextlib.contextmanager
def meanwhile(
    task: Callable[..., Result], /, *given: Any, **named: Any
) -> Iterator[Callable[[], Result]]:
    """Run a use case apart while the block does something else.

    The function given waits for its result, or raises its error. Leaving the block by an error
    ends the other process.
    """
    cancel = threading.Event()
    with ThreadPoolExecutor(1) as thread:
        work = thread.submit(run_apart, task, *given, cancel=cancel, **named)
        try:
            yield work.result
        except BaseException:
            cancel.set()
            raise


class _Child:
    """The process as seen from here: what it tells, and how it is ended."""

    def __init__(self, told: Connection) -> None:
        self._told = told
        self._group = 0

    def listen(self, progress: Progress | None, wait_s: float = _LOOK_S) -> bool:
        """Pass on what was told within a moment; False once nothing will be told any more."""
        try:
            if self._told.poll(wait_s):
                message = self._told.recv()
            else:
                return True
        except (EOFError, OSError):
            return False
        if isinstance(message, int):
            self._group = message
        elif progress is not None:
            progress(*message)
        return True

    def hear_out(self, progress: Progress | None) -> None:
        """Pass on what was told before the answer came: it lies in the pipe already."""
        with contextlib.suppress(EOFError, OSError):
            while self._told.poll(0) and self.listen(progress, 0):
                pass

    def end(self) -> None:
        """End the process and those that it started."""
        with contextlib.suppress(EOFError, OSError):
            while not self._group and self._told.poll(_BEGIN_S):
                self.listen(None)
        if not self._group:
            return
        with contextlib.suppress(ProcessLookupError):
            if hasattr(os, "killpg"):
                os.killpg(self._group, signal.SIGKILL)
            else:
                os.kill(self._group, signal.SIGTERM)


def _wait(
    work: Future[Result],
    child: _Child,
    wish: Any,
    progress: Progress | None,
    cancel: Cancel | None,
    grace_s: float,
) -> Result:
    asked_s = None
    try:
        while not work.done():
            if not child.listen(progress):
                break
            if cancel is not None and cancel.is_set():
                wish.set()
                asked_s = time.monotonic() if asked_s is None else asked_s
                if time.monotonic() - asked_s >= grace_s:
                    child.end()
        found = work.result()
        child.hear_out(progress)
        return found
    except BaseException:
        child.end()
        raise


_telling: Connection | None = None
_wish: Any = None


def _begin(telling: Connection, wish: Any) -> None:
    global _telling, _wish
    _telling, _wish = telling, wish
    if hasattr(os, "setsid"):
        os.setsid()  # Ctrl-C is for the parent, which then decides what becomes of this process
    os.dup2(2, 1)  # an answer in JSON on standard output is the parent's alone
    telling.send(os.getpid())


def _work(task: Callable[..., Result], given: tuple[Any, ...], named: dict[str, Any]) -> Result:
    def progress(share: float | None, said: Said) -> None:
        assert _telling is not None
        _telling.send((share, said))

    return task(*given, progress=progress, cancel=_wish, **named)
