"""Blends from file to file."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

from borewright.errors import ModelError
from borewright.model import Differences, Instrument, load, read_instrument, save_as
from borewright.model.bores import BlendResult, Fractions, assembled_bore, overlay_table
from borewright.tasks.bores.measuring import put_into, read_smoothed
from borewright.tasks.inputs import fingerings_of, survey_of
from borewright.tasks.outputs import carrying_tables, check_folder, check_target, tables_of
from borewright.tasks.progress import Cancel, Progress, rounds_told
from borewright.words import ENGLISH, Reader, say

MOST_ROUNDS = 60


class Blended(NamedTuple):
    """A blend, what it does, and the files written."""

    instrument: Instrument
    result: BlendResult
    character: Differences | None
    output: Path | None
    pictures: list[Path]

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        found = self.character
        return {
            **self.result.model_dump(mode="json", by_alias=True),
            "character": found.model_dump(
                mode="json", by_alias=True, exclude={"first_table", "second_table"}
            )
            if found
            else None,
            "output": str(self.output) if self.output else None,
            "pictures": [str(path) for path in self.pictures],
        }


def read_parent(path: Path, first: Instrument) -> Instrument:
    """The second parent: an instrument's file, or a measured bore (CSV) put into ``first``.

    Raises ModelError where it cannot be read, or was measured of parts that ``first`` lacks.
    """
    if path.suffix.lower() != ".csv":
        return load(path)
    return put_into(first, read_smoothed(path)).model_copy(update={"name": path.stem})


def blend_files(
    file: Path,
    other: Path,
    fraction: float,
    shares: dict[str, float],
    *,
    refit: bool = True,
    character: bool = False,
    output: Path | None = None,
    plot: Path | None = None,
    keywork: Path | None = None,
    fingerings: Path | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Blended:
    """Blend the instrument of a file with another, or with a measured bore.

    Parameters
    ----------
    file, other
        Parents; a measured bore (CSV) is put into a copy of the first.
    fraction, shares
        The other's share of all features, and of single ones.
    refit, character
        Whether holes are fitted again, and whether character is compared with the first's.
    output, plot
        Where instrument and pictures go.
    keywork, fingerings
        Tables in place of those that ``file`` names.
    words
        Who reads the pictures.
    progress, cancel
        Told every round of the fit; asked there whether to stop.

    Raises
    ------
    ModelError, FitError
        For input that cannot be read or blended, outputs that cannot be written.
    """
    if output is not None:
        check_target(output)
        if output.exists():
            raise ModelError(
                say("is there already"),
                place=str(output),
                remedy=say("Name another file with --output."),
            )
    if plot is not None:
        check_folder(plot)
    first, document = read_instrument(file)
    second = read_parent(other, first)
    table = fingerings_of(first, file, fingerings)
    survey = survey_of(first, file, keywork)
    from borewright.fit.blending import blend

    made, result = blend(
        first,
        second,
        Fractions.all(fraction, **shares),
        table,
        survey,
        refit=refit,
        progress=rounds_told(progress, cancel, MOST_ROUNDS),
        most_rounds=MOST_ROUNDS,
    )
    found = None
    if character:
        from borewright.acoustics.character import character as of
        from borewright.acoustics.character import differences

        found = differences(of(first, table), of(made.at_level_of(first), table))
    if output is not None:
        save_as(carrying_tables(made, tables_of(made, file), output), output, document)
    pictures: list[Path] = []
    if plot is not None:
        from borewright.documents import tuning_chart
        from borewright.documents.bore_overlay import overlay_chart

        lines = [assembled_bore(each) for each in (first, second, made)]
        wider = overlay_table(lines)
        before = result.blended if refit else None
        after = result.refitted or result.blended
        pictures = [
            overlay_chart(lines, wider, plot / f"blend-bores.{s}", words=words)
            for s in ("svg", "png")
        ]
        pictures += [
            tuning_chart(before, after, plot / f"blend-tuning.{s}", words=words)
            for s in ("svg", "png")
        ]
    return Blended(made, result, found, output, pictures)
