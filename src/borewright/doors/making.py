"""Solids of a file's instrument, here or in a process of their own."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from borewright.doors.outputs import check_folder
from borewright.doors.progress import part_progress
from borewright.errors import SolidsError
from borewright.model import SolidsReport, load


def make_solids(file: Path, folder: Path) -> SolidsReport:
    """Write STEP, STL and 3MF of every part into a folder, made if missing.

    Raises ModelError for a file that cannot be read or a folder that cannot be written, and
    SolidsError where a part cannot be made.
    """
    instrument = load(file)
    check_folder(folder)
    from borewright.solids import export_solids

    with part_progress() as progress:
        return export_solids(instrument, folder, progress)


@contextmanager
def solids_meanwhile(file: Path, folder: Path) -> Iterator[Callable[[], SolidsReport]]:
    """Run ``borewright solids`` on another core; the function given waits for its report.

    That function raises SolidsError with the command's own message where it failed. Leaving by
    an error ends the other process.
    """
    command = [sys.executable, "-m", "borewright", "solids", str(file)]
    with subprocess.Popen(
        [*command, "--output", str(folder), "--json"],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as child:
        try:
            yield lambda: _report_of(child, file)
        except BaseException:
            child.kill()
            raise


def _report_of(child: subprocess.Popen[bytes], file: Path) -> SolidsReport:
    answer, said = child.communicate()
    if child.returncode == 0:
        return SolidsReport.model_validate(json.loads(answer))
    try:
        told = json.loads(answer)["error"]
    except ValueError:
        told = {"cause": said.decode(errors="replace").strip() or "the process was ended"}
    raise SolidsError(
        told["cause"], place=told.get("place") or str(file), remedy=told.get("remedy", "")
    )
