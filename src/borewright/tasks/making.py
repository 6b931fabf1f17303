"""Solids of a file's instrument, here or in a process of their own."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from borewright.errors import SolidsError
from borewright.model import SolidsReport, load
from borewright.tasks.inputs import survey_of
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, parts_told


def make_solids(
    file: Path,
    folder: Path,
    keywork: Path | None = None,
    *,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> SolidsReport:
    """Write STEP, STL and 3MF of every part into a folder, made if missing.

    Parameters
    ----------
    file
        The instrument.
    folder
        Where to write; files of the same names are replaced.
    keywork
        A survey that goes before the one the file names: its posts get their seats.
    progress, cancel
        Told between parts; asked there whether to stop.

    Raises
    ------
    ModelError, SolidsError
        For a file that cannot be read or a folder that cannot be written, and where a part
        cannot be made.
    """
    check_folder(folder)
    from borewright.solids import export_solids, plan_posts

    instrument = load(file)
    posts = plan_posts(instrument, survey_of(instrument, file, keywork))
    return export_solids(instrument, folder, parts_told(progress, cancel), posts=posts)


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
