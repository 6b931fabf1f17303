"""The classic curves of a file's bore."""

from __future__ import annotations

from pathlib import Path

from borewright.model import BorePerturbation, load
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, tell
from borewright.words import ENGLISH, Reader, say


def perturb_file(
    file: Path,
    *,
    widening_mm: float = 0.05,
    every_mm: float = 5.0,
    plot: Path | None = None,
    fingerings: Path | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> tuple[BorePerturbation, list[Path]]:
    """What a wider bore at each station does; arguments as for ``bore_perturbation``.

    ``words`` reads the pictures; ``progress`` is told between the steps, ``cancel`` asked.
    """
    if plot is not None:
        check_folder(plot)
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    from borewright.acoustics.character import bore_perturbation

    tell(progress, cancel, 0.0, say("the bore"))
    curves = bore_perturbation(instrument, table, step_mm=every_mm, widening_mm=widening_mm)
    tell(progress, cancel, 0.8, say("pictures"))
    pictures: list[Path] = []
    if plot is not None:
        from borewright.documents import perturbation_chart

        pictures = [
            perturbation_chart(curves, plot / f"bore-curves.{s}", words=words)
            for s in ("svg", "png")
        ]
    return curves, pictures
