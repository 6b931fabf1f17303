"""What would be left behind if this process were killed now, noted for whoever watches over it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

#: Told to a process that is watched over: a folder where it notes what would be left.
NOTES = "BOREWRIGHT_SUPERVISED"
#: Left with after Ctrl-C: 128 + SIGINT.
STOPPED = 130
#: How names begin of what is being made: only such are ever removed with what they hold.
ASIDE = (".making-", ".writing-", ".solids-")


def note(path: Path | str) -> None:
    """Note a file or folder that is not a result yet."""
    folder = os.environ.get(NOTES)
    if folder:
        with open(Path(folder) / "left", "a", encoding="utf-8") as stream:
            stream.write(f"{os.path.abspath(path)}\0")


def remove_if_empty(folder: Path) -> None:
    """Remove a folder and those in it, as far as they hold nothing."""
    for path, _, _ in os.walk(folder, topdown=False):
        with suppress(OSError):  # it holds something: then it stays
            os.rmdir(path)


def note_best() -> None:
    """Note that there is a best so far, worth waiting for when the work is stopped."""
    folder = os.environ.get(NOTES)
    if folder:
        (Path(folder) / "best").touch()


@contextmanager
def moving() -> Iterator[None]:
    """While results are moved into their place: that is not cut in two."""
    folder = os.environ.get(NOTES)
    if not folder:
        yield
        return
    mark = Path(folder) / "moving"
    mark.touch()
    try:
        yield
    finally:
        mark.unlink(missing_ok=True)
