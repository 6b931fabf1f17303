"""Solids of a file's instrument."""

from __future__ import annotations

from pathlib import Path

from borewright.model import SolidsReport, load
from borewright.tasks.inputs import survey_of
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, parts_told
from borewright.tasks.staging import staged


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
    instrument = load(file)
    survey = survey_of(instrument, file, keywork)
    from borewright.solids import export_solids, plan_posts

    posts = plan_posts(instrument, survey)
    with staged(folder) as place:
        made = export_solids(instrument, place.aside, parts_told(progress, cancel), posts=posts)
    return place.moved(made)
