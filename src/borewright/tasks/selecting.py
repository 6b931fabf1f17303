"""The sensitivity map of a file, whole or of one note."""

from __future__ import annotations

from pathlib import Path

from borewright.model import SensitivityMap, SideHoles, load
from borewright.tasks.inputs import fingerings_of, rows_of_note
from borewright.tasks.progress import Cancel, Progress, holes_told


def only_note(
    file: Path,
    fingerings: Path | None,
    note: str | None,
    *,
    side_holes: SideHoles | None = None,
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
    side_holes
        How side holes are computed; None is the file's own level, or solved in 3-D.
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

    # The whole map is made in any case: its compiled kernel is shared by all commands.
    whole = sensitivity(
        instrument, table, side_holes=side_holes, progress=holes_told(progress, cancel)
    )
    return whole.model_copy(
        update={
            "fingerings": [whole.fingerings[row] for row in rows],
            "cents_per_tenth_mm": [whole.cents_per_tenth_mm[row] for row in rows],
        }
    )
