"""The print job in the background: made aside, then put in place whole."""

from __future__ import annotations

import hashlib
import json
import shutil
import time
from pathlib import Path
from typing import Any

from borewright.bench.folder.placing import put_folder
from borewright.bench.jobs import Job, command
from borewright.bench.print.wishes import Wishes
from borewright.bench.workbench import Workbench
from borewright.errors import BenchError
from borewright.model import write_text
from borewright.words import Text, say

FOLDER = "print"
#: Files for each part: three solids, a shop drawing and a template in three formats each.
_SOLIDS, _DRAWN, _OTHERS = 3, 6, 4


class _Counting(Job):
    """A job whose share is the files that are there already, of those to come."""

    def __init__(self, job: Job, folder: Path, expected: int) -> None:
        self._job, self._folder, self._expected = job, folder, expected

    def progress(self, share: float | None, words: Text = "") -> None:
        made = [path for path in self._folder.rglob("*") if path.is_file()]
        newest = max(made, key=lambda path: path.stat().st_mtime_ns, default=None)
        self._job.progress(
            min(len(made) / self._expected, 0.99), newest.name if newest else say("bodies first")
        )


def make(job: Job, bench: Workbench, file: Path, wishes: Wishes) -> dict[str, Any]:
    """Run ``borewright print`` in a process of its own; the answer names files of the folder.

    A job that is cancelled or fails leaves the former files as they are.
    """
    from borewright.tasks.checking import check_file

    name = f"{FOLDER}/{file.stem}"
    target, aside = bench.folder.path(name), bench.folder.keep / "printing"
    shutil.rmtree(aside, ignore_errors=True)
    parts = len(bench.instrument.parts) if bench.instrument else 1
    expected = parts * (_SOLIDS + (_DRAWN if wishes.drawings else 0)) + _OTHERS
    of = digest(file)
    try:
        counting = _Counting(job, aside, expected)
        words = ["print", str(file), "--output", str(aside), *wishes.words(bench)]
        answer = command(counting, words)
        answer["checks"] = [f.model_dump(mode="json") for f in check_file(file)]
        put_folder(aside, target, bench.folder.keep / "printed before")
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    made: dict[str, Any] = _renamed(answer, str(aside), name)
    made["of"], made["folder"], made["file"] = of, name, file.name
    made["number"] = time.time_ns()
    write_text(bench.folder.keep / "print.json", json.dumps(made))
    return made


def made_before(bench: Workbench) -> dict[str, Any] | None:
    """The last answer for the file on the bench, or None."""
    try:
        data = json.loads((bench.folder.keep / "print.json").read_text(encoding="utf-8"))
        ours = data["file"] == Path(bench.file).name and bench.folder.path(data["folder"]).is_dir()
    except (OSError, ValueError, KeyError, TypeError, BenchError):
        return None  # none yet, or not ours
    return data if ours else None


def digest(file: Path) -> str:
    """What tells whether a file changed since."""
    return hashlib.sha256(file.read_bytes()).hexdigest()


def _renamed(value: Any, before: str, after: str) -> Any:
    """The answer with paths as the folder names them."""
    if isinstance(value, str):
        return value.replace(before, after)
    if isinstance(value, list):
        return [_renamed(each, before, after) for each in value]
    if isinstance(value, dict):
        return {key: _renamed(each, before, after) for key, each in value.items()}
    return value
