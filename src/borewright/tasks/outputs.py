"""Whether results can be written where they are wanted, asked before the work begins."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import ModelError
from borewright.tasks.beside import named_beside
from borewright.words import say

if TYPE_CHECKING:
    from borewright.model import Instrument

#: What an instrument's file may name beside it.
TABLES = ("keywork", "keys", "fingerings")

_ELSEWHERE = say("Choose a folder that you may write to.")


def check_target(path: Path) -> None:
    """Raise ModelError where a file could not be written at this path."""
    if _is_folder(path):
        raise ModelError(say("is a folder"), place=str(path), remedy=say("Name a file."))
    _check_parent(path.parent, path)


def check_folder(path: Path) -> None:
    """Raise ModelError where files could not be written into this folder, made if missing."""
    _check_parent(path, path)


def _check_parent(folder: Path, wanted: Path) -> None:
    """The nearest folder that exists must be one that may be written to."""
    nearest = folder.absolute()
    while not _exists(nearest) and nearest != nearest.parent:
        nearest = nearest.parent
    if not _is_folder(nearest):
        raise ModelError(
            say("cannot be written: '{folder}' is not a folder", folder=nearest),
            place=str(wanted),
            remedy=_ELSEWHERE,
        )
    if not os.access(nearest, os.W_OK | os.X_OK):
        raise ModelError(
            say("cannot be written: '{folder}' may not be written to", folder=nearest),
            place=str(wanted),
            remedy=_ELSEWHERE,
        )


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except OSError as error:  # a name that the file system finds too long, say
        raise _unusable(path, error) from error


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError as error:
        raise _unusable(path, error) from error


def _unusable(path: Path, error: OSError) -> ModelError:
    return ModelError(
        say("cannot be written ({reason})", reason=error.strerror or str(error)),
        place=str(path)[:200],
        remedy=say("Choose another name."),
    )


def same_file(first: Path, second: Path) -> bool:
    """Whether two paths lead to one file, by whatever links."""
    if first.exists() and second.exists():
        return first.samefile(second)
    return os.path.realpath(first) == os.path.realpath(second)


def path_from(folder: Path, file: Path) -> str:
    """How a file in ``folder`` names ``file``: relative, with forward slashes, if possible."""
    target = Path(os.path.realpath(file.parent)) / file.name
    try:
        return Path(os.path.relpath(target, os.path.realpath(folder))).as_posix()
    except ValueError:  # on another drive there is no relative way
        return str(target)


def tables_of(instrument: Instrument, file: Path, **given: Path | None) -> dict[str, Path]:
    """The tables that ``file`` names, or those given in their place, by their key in TABLES."""
    found = {}
    for key in TABLES:
        named = getattr(instrument, key)
        path = given.get(key) or (named_beside(file, named) if named else None)
        if path is not None:
            found[key] = path
    return found


def carrying_tables(instrument: Instrument, tables: Mapping[str, Path], target: Path) -> Instrument:
    """The instrument with its tables named from where ``target`` will lie.

    The owner's words stay where they still lead to the table.
    """
    names = {}
    for key, path in tables.items():
        named = getattr(instrument, key)
        kept = named and same_file(named_beside(target, named), path)
        names[key] = named if kept else path_from(target.parent, path)
    return instrument.model_copy(update=names)
