"""Solids of a file's instrument."""

from __future__ import annotations

from pathlib import Path

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
