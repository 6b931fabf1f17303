"""What a job made aside, put in its place: a job that is cancelled leaves what was there."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from borewright.errors import BenchError
from borewright.words import say


def put_files(made: Path, target: Path) -> None:
    """Move the files of a folder into another; what else lies there stays.

    Raises BenchError where a file cannot be put in place.
    """
    for file in sorted(path for path in made.rglob("*") if path.is_file()):
        place = target / file.relative_to(made)
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            os.replace(file, place)
        except OSError as error:
            raise _refused(file, error) from error


def put_folder(made: Path, target: Path, former: Path) -> None:
    """Put a folder in place of another; the other goes only when the new one is there.

    ``former`` is where the other lies meanwhile. Raises BenchError where that fails.
    """
    try:
        shutil.rmtree(former, ignore_errors=True)
        target.parent.mkdir(exist_ok=True)
        if target.exists():
            os.replace(target, former)
        os.replace(made, target)
    except OSError as error:
        if former.exists() and not target.exists():
            os.replace(former, target)
        raise _refused(target, error) from error
    shutil.rmtree(former, ignore_errors=True)


def _refused(path: Path, error: OSError) -> BenchError:
    return BenchError(
        say("cannot be put in place ({why})", why=error.strerror or str(error)),
        place=path.name,
        remedy=say("Close the files in the other program and make them again."),
    )
