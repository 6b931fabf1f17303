"""Solids of a file's instrument."""

from __future__ import annotations

from pathlib import Path

from borewright.doors.outputs import check_folder
from borewright.doors.progress import part_progress
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
