"""Atomic writes: a reader sees the old file or the new one, never half of either."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from borewright.errors import ModelError


def write_bytes(path: Path | str, data: bytes) -> None:
    """Write a file by way of a temporary neighbour and a rename.

    Raises ModelError where the folder is missing or may not be written.
    """
    target = Path(path)
    if target.is_symlink():
        # Write what the link points to, so that the owner's link stays a link.
        target = target.resolve()
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask()
        handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    except OSError as error:
        raise _unwritable(target, error) from error
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, mode)
        os.replace(temporary, target)
    except OSError as error:
        Path(temporary).unlink(missing_ok=True)
        raise _unwritable(target, error) from error
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def write_text(path: Path | str, text: str) -> None:
    """Write UTF-8 text atomically, line ends as given."""
    write_bytes(path, text.encode("utf-8"))


def _umask() -> int:
    current = os.umask(0)
    os.umask(current)
    return current


def _unwritable(target: Path, error: OSError) -> ModelError:
    return ModelError(
        f"cannot be written ({error.strerror or error})",
        place=str(target),
        remedy="Choose a folder that you may write to and that has room.",
    )
