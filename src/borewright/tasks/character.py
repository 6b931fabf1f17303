"""Character of an instrument and differences of two, with their pictures."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from borewright.model import (
    BorePerturbation,
    CharacterTable,
    Differences,
    FingeringTable,
    Instrument,
    load,
)
from borewright.tasks.inputs import fingerings_of, rows_of_note
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, tell
from borewright.words import ENGLISH, Reader, given, say

_PICTURES = say("pictures")


class Characterised(NamedTuple):
    """A character table, of all notes or one, with the curves of one and pictures made."""

    table: CharacterTable
    curves: list[dict[str, Any]]
    pictures: list[Path]

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.table.model_dump(mode="json", by_alias=True),
            "curves": self.curves,
            "pictures": [str(path) for path in self.pictures],
        }


class Compared(NamedTuple):
    """Differences of two instruments, and pictures made."""

    found: Differences
    pictures: list[Path]

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.found.model_dump(mode="json", by_alias=True),
            "pictures": [str(path) for path in self.pictures],
        }


class Heard(NamedTuple):
    """What is heard in an instrument, what its bore does, and how another differs from it."""

    table: CharacterTable
    bore: BorePerturbation
    differences: Differences | None


def heard(
    instrument: Instrument,
    fingerings: FingeringTable,
    other: tuple[Instrument, FingeringTable] | None = None,
    *,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Heard:
    """Character of an instrument at hand, its bore, and what another does otherwise.

    Parameters
    ----------
    instrument, fingerings
        What is looked at.
    other
        What it is held against, taken at the level of the instrument.
    progress, cancel
        Told between the steps; asked whether to stop.
    """
    from borewright.acoustics.character import bore_perturbation, character, differences

    tell(progress, cancel, 0.1, say("peaks and cut-off"))
    table = character(instrument, fingerings)
    tell(progress, cancel, 0.6, say("the bore"))
    bore = bore_perturbation(instrument, fingerings)
    if other is None:
        return Heard(table, bore, None)
    tell(progress, cancel, 0.8, say("the other instrument"))
    compared = character(other[0].at_level_of(instrument), other[1])
    return Heard(table, bore, differences(compared, table))


def character_file(
    file: Path,
    *,
    fingerings: Path | None = None,
    note: str | None = None,
    output: Path | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Characterised:
    """Character of every fingering of an instrument's file, or of one note's.

    Parameters
    ----------
    file
        The instrument.
    fingerings
        A table that goes before the one that the file names.
    note
        A written note (all its fingerings) or the name of one fingering; then the curves over
        frequency are given too.
    output
        Folder for pictures.
    words
        Who reads them.
    progress, cancel
        Told between the steps; asked whether to stop.

    Raises
    ------
    ModelError
        Where a file cannot be read, or the table has no such note.
    """
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    rows = rows_of_note(table, note)
    if output is not None:
        check_folder(output)
    from borewright.acoustics.character import character_with_curves

    tell(progress, cancel, 0.0, say("peaks and cut-off"))
    whole, curves = character_with_curves(instrument, table)
    tell(progress, cancel, 0.8, _PICTURES)
    if note is None:
        return Characterised(whole, [], _table_pictures(whole, output, words))
    chosen = whole.model_copy(update={"notes": [whole.notes[row] for row in rows], "evenness": []})
    shown = [curves.of(table.fingerings[row].name, row) for row in rows]
    return Characterised(chosen, shown, _note_pictures(chosen, shown, output, words))


def _table_pictures(table: CharacterTable, output: Path | None, words: Reader) -> list[Path]:
    if output is None:
        return []
    from borewright.documents import character_chart, radiation_chart

    return [
        path
        for suffix in ("svg", "png")
        for path in (
            character_chart(table, output / f"character.{suffix}", words=words),
            radiation_chart(table, output / f"radiated-share.{suffix}", words=words),
        )
    ]


def _note_pictures(
    table: CharacterTable,
    curves: Sequence[dict[str, Any]],
    output: Path | None,
    words: Reader,
) -> list[Path]:
    if output is None:
        return []
    from borewright.documents import note_chart

    made = []
    for number, (note, curve) in enumerate(zip(table.notes, curves, strict=True), start=1):
        name = (
            f"{number}-{note.written.replace('#', 'sharp')}"
            if number > 1
            else (note.written.replace("#", "sharp"))
        )
        for suffix in ("svg", "png"):
            made.append(
                note_chart(
                    note,
                    curve["frequency_hz"],
                    curve["impedance_db"],
                    curve["radiated_holes"],
                    curve["radiated_end"],
                    output / f"character-{name}.{suffix}",
                    words=words,
                )
            )
    return made


def differences_files(
    first: Path,
    second: Path,
    *,
    fingerings: Path | None = None,
    output: Path | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Compared:
    """Two instruments' files side by side.

    Parameters
    ----------
    first, second
        The instruments, each with the table it names; both at the level of the first.
    fingerings
        A table that goes before both.
    output
        Folder for the picture.
    words
        Who reads it.
    progress, cancel
        Told between the steps; asked whether to stop.

    Raises
    ------
    ModelError
        Where a file cannot be read.
    """
    subjects = [load(path) for path in (first, second)]
    subjects[1] = subjects[1].at_level_of(subjects[0])
    tables = [
        fingerings_of(subject, path, fingerings)
        for subject, path in zip(subjects, (first, second), strict=True)
    ]
    if output is not None:
        check_folder(output)
    from borewright.acoustics.character import character, differences

    found_tables = []
    for number, (subject, table) in enumerate(zip(subjects, tables, strict=True)):
        tell(progress, cancel, 0.4 * number, given(subject.name))
        found_tables.append(character(subject, table))
    found = differences(*found_tables)
    tell(progress, cancel, 0.8, _PICTURES)
    if found.first == found.second:
        # Two states of one instrument bear one name: their files tell them apart.
        found = found.model_copy(
            update={"first": f"{found.first} ({first.name})",
                    "second": f"{found.second} ({second.name})"}
        )  # fmt: skip
    if output is None:
        return Compared(found, [])
    from borewright.documents import differences_chart

    names = ("differences.svg", "differences.png")
    return Compared(found, [differences_chart(found, output / name, words=words) for name in names])
