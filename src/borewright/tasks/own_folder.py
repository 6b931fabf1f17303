"""A folder that the tool fills by itself, and in which it never touches anybody else's file."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

from borewright.errors import ModelError
from borewright.tasks.outputs import check_folder
from borewright.words import say

#: Lists what was written, by name and content (SHA-256).
MARK = ".borewright-demo.json"


class OwnFolder:
    """A folder that is new, empty, or holds nothing but files written here before.

    Files of a former run are taken away; what was changed since, or was never listed, makes
    the folder somebody else's. Raises ModelError for such a folder and for one that cannot be
    written.
    """

    def __init__(self, folder: Path) -> None:
        check_folder(folder)
        self.folder = folder
        self.files: list[Path] = []
        former = _listed(folder)
        present = _present(folder)
        foreign = [name for name, path in present.items() if former.get(name) != _digest(path)]
        if foreign:
            names, more = ", ".join(foreign[:3]), len(foreign) - 3
            what = say("holds files that the demo did not make ({names})", names=names)
            if more > 0:
                what = say(
                    "holds files that the demo did not make ({names} and {more} more)",
                    names=names,
                    more=more,
                )
            raise ModelError(
                what,
                place=str(folder),
                remedy=say("Name a folder that is new or empty; nothing was touched."),
            )
        for path in present.values():
            path.unlink()
        self._write_mark()

    def add(self, paths: list[Path]) -> list[Path]:
        """List files as written here; the same files are returned."""
        self.files += paths
        self._write_mark()
        return paths

    def _write_mark(self) -> None:
        from borewright.model import write_text

        names = {path.relative_to(self.folder).as_posix(): _digest(path) for path in self.files}
        write_text(self.folder / MARK, json.dumps(names, indent=2) + "\n")


def _present(folder: Path) -> dict[str, Path]:
    """Everything in a folder that is not itself a folder, by its name from there."""
    found = sorted(path for path in folder.rglob("*") if path.is_symlink() or not path.is_dir())
    return {path.relative_to(folder).as_posix(): path for path in found if path != folder / MARK}


def _listed(folder: Path) -> dict[str, str]:
    try:
        listed = json.loads((folder / MARK).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}  # no list, or not ours: then every file counts as somebody else's
    return listed if isinstance(listed, dict) else {}


def _digest(path: Path) -> str:
    if path.is_symlink() or not path.is_file():
        return "not a plain file"
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()
