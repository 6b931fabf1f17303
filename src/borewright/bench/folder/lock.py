"""One bench a folder: a second server on it would write the same history."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import IO

from borewright.errors import BenchError
from borewright.words import say


def hold(file: Path) -> IO[str]:
    """Hold a folder's lock file until the stream returned is closed or the process ends.

    The system frees it even where the process is killed. Raises BenchError where another
    process holds it or it cannot be made.
    """
    try:
        stream = file.open("a+", encoding="utf-8")
    except OSError as error:
        raise BenchError(
            say("cannot be used ({why})", why=error.strerror or str(error)),
            place=str(file.parent.parent),
            remedy=say("Choose a folder that you may write to."),
        ) from error
    try:
        _lock(stream)
    except OSError as error:
        stream.close()
        raise BenchError(
            say("is open in another bench already"),
            place=str(file.parent.parent),
            remedy=say("Use the page of that bench, or end it first."),
        ) from error
    stream.truncate(0)
    stream.write(f"{os.getpid()}\n")
    stream.flush()
    return stream


if sys.platform == "win32":
    import msvcrt

    def _lock(stream: IO[str]) -> None:
        stream.seek(0)
        msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _lock(stream: IO[str]) -> None:
        fcntl.flock(stream.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
