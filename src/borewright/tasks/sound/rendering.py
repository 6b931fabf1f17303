"""One design, or two for comparison, rendered to WAV with a listening sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import PlayingError
from borewright.model import FingeringTable, Instrument, load
from borewright.model.results.blowing import Speaking
from borewright.model.results.listening import Listening, SoundFile
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, steps_told, tell
from borewright.tasks.staging import staged
from borewright.words import ENGLISH, Reader, Said, say

if TYPE_CHECKING:
    from borewright.playing.listening import ScoreNote


def sound_files(
    file: Path,
    output: Path,
    *,
    notes: str = "",
    scale: bool = False,
    midi: Path | None = None,
    against: Path | None = None,
    seconds: float = 0.8,
    pressure: float = 0.5,
    embouchure: float = 0.3,
    distance: float = 1.0,
    fingerings: Path | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Listening:
    """Render a file, and another one against it, into a folder; ``words`` reads the sheet.

    ``progress`` is told between the steps, ``cancel`` asked. Errors of BorewrightError say what
    cannot be played, before anything is written.
    """
    with staged(output) as place:
        made = _sound_files_into(
            file,
            place.aside,
            notes=notes,
            scale=scale,
            midi=midi,
            against=against,
            seconds=seconds,
            pressure=pressure,
            embouchure=embouchure,
            distance=distance,
            fingerings=fingerings,
            words=words,
            progress=progress,
            cancel=cancel,
        )
    return place.moved(made)


def _sound_files_into(
    file: Path,
    output: Path,
    *,
    notes: str = "",
    scale: bool = False,
    midi: Path | None = None,
    against: Path | None = None,
    seconds: float = 0.8,
    pressure: float = 0.5,
    embouchure: float = 0.3,
    distance: float = 1.0,
    fingerings: Path | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Listening:
    if (bool(notes.strip()) + scale + (midi is not None)) != 1:
        raise PlayingError(
            say("what to play is not told, or told twice"),
            place=("--notes", "--scale", "--midi"),
            remedy=say("Give one of them."),
        )
    check_folder(output)
    files = [file] if against is None else [file, against]
    instruments = [load(each) for each in files]
    instruments = [each.at_level_of(instruments[0]) for each in instruments]
    tables = [
        fingerings_of(instrument, path, fingerings)
        for instrument, path in zip(instruments, files, strict=True)
    ]
    from borewright.acoustics.blowing import Blowing
    from borewright.playing.listening import listen, render

    player = Blowing(pressure=pressure, embouchure=embouchure, distance_m=distance)
    score = _score(instruments, tables, notes, midi, seconds)
    share = 0.9 / len(files)
    renderings = [
        render(
            instrument,
            table,
            score,
            player,
            progress=steps_told(progress, cancel, number * share, (number + 1) * share),
        )
        for number, (instrument, table) in enumerate(zip(instruments, tables, strict=True))
    ]
    tell(progress, cancel, 0.9, say("files and sheet"))
    letters = [""] if against is None else ["A-", "B-"]
    paths = [
        output / f"{letter}{path.stem}.wav" for letter, path in zip(letters, files, strict=True)
    ]
    done = Listening(
        files=listen(renderings, paths),
        sheet=[],
        player=renderings[0].player,
        distance_m=distance,
        notices=[],
    )
    done = done.model_copy(update={"notices": _notices(done.files)})
    from borewright.documents import Letterhead, write_paper
    from borewright.documents.listening_sheet import ListeningSheet

    sheet = write_paper(output, ListeningSheet(done), Letterhead(), words)
    return done.model_copy(update={"sheet": [str(sheet.html), str(sheet.pdf)]})


def _score(
    instruments: list[Instrument],
    tables: list[FingeringTable],
    notes: str,
    midi: Path | None,
    seconds: float,
) -> list[ScoreNote]:
    from borewright.playing.listening import midi_score, notes_score, scale_score

    if midi is not None:
        shared = [
            each.written
            for each in tables[0].fingerings
            if all(each.written in {one.written for one in table.fingerings} for table in tables)
        ]
        return midi_score(midi, instruments[0].pitch, list(dict.fromkeys(shared)))
    if not notes.strip():
        return scale_score(tables, seconds)
    names = [name.strip() for name in notes.split(",")]
    return notes_score([name for name in names if name], seconds)


def _notices(files: list[SoundFile]) -> list[Said]:
    return [
        say("{instrument}: {what}", instrument=file.instrument, what=what)
        for file in files
        for speaking in Speaking
        if (names := dict.fromkeys(n.fingering for n in file.notes if n.speaking is speaking))
        and (what := _remark(speaking, ", ".join(names)))
    ]


def _remark(speaking: Speaking, notes: str) -> Said | None:
    """What is to be known of notes that do not speak as the player wants them to."""
    match speaking:
        case Speaking.PREPARED:
            return say("{notes} speak only when the player prepares the register.", notes=notes)
        case Speaking.HELPED:
            return say(
                "{notes} sound here with lower resonances weakened throughout, as a player's "
                "mouth may do.",
                notes=notes,
            )
        case Speaking.OTHER:
            return say(
                "{notes} do not sound in their register, so what is heard is another note.",
                notes=notes,
            )
        case Speaking.SILENT:
            return say("{notes} do not speak.", notes=notes)
        case _:
            return None
