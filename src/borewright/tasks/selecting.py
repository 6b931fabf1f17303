"""The sensitivity map of a file, whole or of one note."""

from __future__ import annotations

from pathlib import Path

from borewright.model import SensitivityMap, load
from borewright.tasks.inputs import fingerings_of, rows_of_note, way_of_holes
from borewright.tasks.progress import Cancel, Progress, holes_told


def only_note(
    file: Path,
    fingerings: Path | None,
    note: str | None,
    *,
    solved_holes: bool = False,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> SensitivityMap:
    """Sensitivities of every fingering, or of those of one note.

    Parameters
    ----------
    file
        The instrument.
    fingerings
        A table that goes before the one that the file names.
    note
        A written note (all its fingerings) or the name of one fingering, as ``B3 (sliver)``.
    solved_holes
        Side holes solved in 3-D instead of closed forms.
    progress, cancel
        Told while holes are solved; asked whether to stop.

    Raises
    ------
    ModelError
        Where a file cannot be read, or the table has no such note.
    """
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    rows = rows_of_note(table, note)
    from borewright.acoustics import sensitivity

    level = way_of_holes(solved_holes)
    # The whole map is made in any case: its compiled kernel is shared by all commands.
    whole = sensitivity(instrument, table, side_holes=level, progress=holes_told(progress, cancel))
    return whole.model_copy(
        update={
            "fingerings": [whole.fingerings[row] for row in rows],
            "cents_per_tenth_mm": [whole.cents_per_tenth_mm[row] for row in rows],
        }
    )
