"""One bench a folder: a second server on it would write the same history."""

from __future__ import annotations

from pathlib import Path

from filelock import BaseFileLock, FileLock, Timeout

from borewright.errors import BenchError
from borewright.words import say


def hold(file: Path) -> BaseFileLock:
    """Hold a folder's lock file until the lock returned is released or the process ends.

    The system frees it even where the process is killed. Raises BenchError where another
    process holds it or it cannot be made.
    """
    lock = FileLock(file, timeout=0, thread_local=False)
    try:
        lock.acquire()
    except Timeout as error:
        raise BenchError(
            say("is open in another bench already"),
            place=str(file.parent.parent),
            remedy=say("Use the page of that bench, or end it first."),
        ) from error
    except OSError as error:
        raise BenchError(
            say("cannot be used ({why})", why=error.strerror or str(error)),
            place=str(file.parent.parent),
            remedy=say("Choose a folder that you may write to."),
        ) from error
    return lock
