"""Results made aside and moved in together, so that nobody ever finds half of them."""

from __future__ import annotations

import dataclasses
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel

from borewright.errors import ModelError
from borewright.leftovers import moving, note, remove_if_empty
from borewright.tasks.outputs import check_folder
from borewright.words import say

_PREFIX = ".making-"
_Result = TypeVar("_Result")


class Staging:
    """A folder beside the wanted one, for what is being made."""

    def __init__(self, folder: Path, aside: Path) -> None:
        self.folder = folder
        self.aside = aside

    def moved(self, result: _Result) -> _Result:
        """A result with every path in it as it will be once all is in place."""
        return _renamed(result, str(self.aside), str(self.folder))  # type: ignore[no-any-return]


@contextmanager
def staged(folder: Path) -> Iterator[Staging]:
    """Make results in ``aside``; when the block ends well they are moved into ``folder``.

    Files of the same names are replaced, others stay. Whatever goes wrong, the folder is as
    before, and one that was not there is not there. What an earlier process left when it was
    killed is swept away. Raises ModelError where the folder cannot be written.
    """
    check_folder(folder)
    new = _first_missing(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _sweep(folder)
        aside = Path(tempfile.mkdtemp(prefix=f"{_PREFIX}{os.getpid()}-", dir=folder))
    except OSError as error:
        raise _unwritable(folder, error) from error
    note(aside)
    if new is not None:
        note(new)
    try:
        yield Staging(folder, aside)
        with moving():
            _move_in(aside, folder)
    except OSError as error:
        _gone(aside, new)
        raise _unwritable(folder, error) from error
    except BaseException:
        _gone(aside, new)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _unwritable(folder: Path, error: OSError) -> ModelError:
    return ModelError(
        say("cannot be written ({reason})", reason=error.strerror or str(error)),
        place=str(folder),
        remedy=say("Choose a folder that you may write to and that has room."),
    )


def _first_missing(folder: Path) -> Path | None:
    """The topmost of the folders that are not there yet."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    return missing[-1] if missing else None


def _gone(aside: Path, new: Path | None) -> None:
    shutil.rmtree(aside, ignore_errors=True)
    if new is not None:
        remove_if_empty(new)


def _move_in(aside: Path, folder: Path) -> None:
    made = sorted(path for path in aside.rglob("*") if path.is_file())
    for path in made:
        with path.open("rb") as stream:
            os.fsync(stream.fileno())
    folders = {folder}
    for path in made:
        target = folder / path.relative_to(aside)
        target.parent.mkdir(parents=True, exist_ok=True)
        folders.add(target.parent)
        os.replace(path, target)
    for one in folders:
        sync_folder(one)


def sync_folder(folder: Path) -> None:
    """Let the names in a folder reach the disk, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _sweep(folder: Path) -> None:
    """Take away what processes left that are no more."""
    for path in folder.glob(f"{_PREFIX}*-*"):
        number = path.name.removeprefix(_PREFIX).split("-")[0]
        if path.is_dir() and number.isdecimal() and not _lives(int(number)):
            shutil.rmtree(path, ignore_errors=True)


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _renamed(value: Any, aside: str, folder: str) -> Any:
    if isinstance(value, str):
        return value.replace(aside, folder) if aside in value else value
    if isinstance(value, Path):
        return type(value)(str(value).replace(aside, folder)) if aside in str(value) else value
    if isinstance(value, BaseModel):
        fields = {name: getattr(value, name) for name in type(value).model_fields}
        return value.model_copy(update={n: _renamed(v, aside, folder) for n, v in fields.items()})
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return type(value)(*[_renamed(each, aside, folder) for each in value])
    if isinstance(value, list | tuple | set):
        return type(value)(_renamed(each, aside, folder) for each in value)
    if isinstance(value, dict):
        return {key: _renamed(each, aside, folder) for key, each in value.items()}
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        kept = {f.name: getattr(value, f.name) for f in dataclasses.fields(value) if f.init}
        return dataclasses.replace(
            value, **{name: _renamed(each, aside, folder) for name, each in kept.items()}
        )
    return value
