"""Atomic writes: a reader sees the old file or the new one, never half of either."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from borewright.errors import ModelError
from borewright.leftovers import note
from borewright.words import say


def write_bytes(path: Path | str, data: bytes, *, private: bool = False) -> None:
    """Write a file by way of a temporary neighbour and a rename; ``private`` for its owner alone.

    Missing folders are made. Raises ModelError where that, or the writing, is not possible.
    """
    target = Path(path)
    try:
        if target.is_symlink():
            # Write what the link points to, so that the owner's link stays a link.
            target = target.resolve()
        target.parent.mkdir(parents=True, exist_ok=True)
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask()
        mode = 0o600 if private else mode
        handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=".writing-")
        note(temporary)
    except (OSError, ValueError, RuntimeError) as error:
        # A name with a zero byte is a ValueError, a circle of links a RuntimeError.
        raise _unwritable(target, error) from error
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, mode)
        os.replace(temporary, target)
        _sync(target.parent)
    except (OSError, ValueError) as error:
        Path(temporary).unlink(missing_ok=True)
        raise _unwritable(target, error) from error
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def write_text(path: Path | str, text: str) -> None:
    """Write UTF-8 text atomically, line ends as given."""
    write_bytes(path, text.encode("utf-8"))


def shown(path: Path) -> str:
    """A path as a message can print it, shortened where it is absurdly long."""
    text = str(path).encode("utf-8", "backslashreplace").decode("utf-8").replace("\0", "\\0")
    return text if len(text) <= 300 else f"{text[:140]} … {text[-140:]}"


def _sync(folder: Path) -> None:
    """Let the new name reach the disk too, where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _umask() -> int:
    current = os.umask(0)
    os.umask(current)
    return current


def _unwritable(target: Path, error: Exception) -> ModelError:
    reason = getattr(error, "strerror", None) or str(error)
    return ModelError(
        say("cannot be written ({reason})", reason=reason),
        place=shown(target),
        remedy=say("Choose a folder that you may write to and that has room."),
    )
