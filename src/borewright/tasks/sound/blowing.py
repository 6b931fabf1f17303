"""The blowing table of an instrument's file, with its picture."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

from borewright.model import load
from borewright.model.results.blowing import BlowingTable
from borewright.tasks.inputs import fingerings_of, rows_of_note
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, steps_told
from borewright.words import ENGLISH, Reader


class Blown(NamedTuple):
    """A blowing table and the pictures made of it."""

    table: BlowingTable
    pictures: list[Path]

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.table.model_dump(mode="json"),
            "pictures": [str(path) for path in self.pictures],
        }


def blow_file(
    file: Path,
    *,
    note: str | None = None,
    pressure: float,
    embouchure: float,
    distance: float,
    output: Path | None = None,
    fingerings: Path | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Blown:
    """Blow the fingerings of a file; errors of BorewrightError say what cannot be blown.

    ``words`` reads the pictures; ``progress`` is told between the steps, ``cancel`` asked.
    """
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    chosen = [table.fingerings[row] for row in rows_of_note(table, note)]
    table = table.model_copy(update={"fingerings": chosen})
    if output is not None:
        check_folder(output)
    from borewright.acoustics.blowing import Blowing, blow

    player = Blowing(pressure=pressure, embouchure=embouchure, distance_m=distance)
    blown = blow(instrument, table, player, progress=steps_told(progress, cancel))
    if output is None:
        return Blown(blown, [])
    from borewright.documents.blowing import blowing_chart

    return Blown(
        blown,
        [
            blowing_chart(blown, output / f"blowing.{suffix}", words=words)
            for suffix in ("svg", "png")
        ],
    )
