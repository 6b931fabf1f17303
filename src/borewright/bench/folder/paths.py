"""No path leaves the folder: names from a page or an address are checked here, and only here."""

from __future__ import annotations

import unicodedata
from pathlib import Path
from urllib.parse import unquote

from borewright.errors import BenchError
from borewright.words import say

#: Names that Windows keeps for devices; a folder may be carried to such a machine.
_DEVICES = {"con", "prn", "aux", "nul", *(f"com{n}" for n in "123456789"), "lpt1"}
MOST_LETTERS = 120


def inside(root: Path, name: str) -> Path:
    """The path of a file of the folder, or BenchError.

    Parameters
    ----------
    root
        The folder, resolved.
    name
        Relative, with forward slashes. ``..``, absolute and hidden names, other programs' path
        signs, the same things percent-encoded, and links that lead out of the folder are
        refused.
    """
    plain = name
    for _ in range(3):  # encoded once, twice or thrice: what it says in the end counts
        plain = unquote(plain)
    if not _allowed(plain) or plain != name:
        raise refused(name)
    path = root.joinpath(*plain.split("/"))
    try:
        real = path.resolve()
    except (OSError, RuntimeError) as error:
        raise refused(name) from error
    if not real.is_relative_to(root):
        raise refused(name)
    return path


def plain_name(name: str) -> str:
    """A file name fit to be kept: no folders, no signs that some system cannot write."""
    last = name.replace("\\", "/").rsplit("/", 1)[-1].strip()
    if not _allowed(last) or "/" in last or "%" in last:
        raise refused(name)
    return last


def refused(name: str) -> BenchError:
    """The error for a name that may not be used; the name is shown shortened and printable."""
    shown = "".join(sign if sign.isprintable() else "?" for sign in name)[:60]
    return BenchError(
        say("this name does not belong to the open folder"),
        place=say("'{name}'", name=shown),
        remedy=say(
            "Name a file inside the folder, with letters, digits, blanks, '-', '_' and '.'."
        ),
    )


def _allowed(name: str) -> bool:
    if not name or len(name) > 4 * MOST_LETTERS or "\\" in name or ":" in name or "~" in name:
        return False
    if any(unicodedata.category(sign).startswith("C") for sign in name):
        return False
    return all(
        step
        and len(step) <= MOST_LETTERS
        and not step.startswith(".")
        and not step.endswith((" ", "."))
        and step.split(".")[0].lower() not in _DEVICES
        and not set(step) & set('<>"|?*')
        for step in name.split("/")
    )
