"""Two instruments rendered to sound in a process of its own, kept where no take is looked for."""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from nicegui import app

from borewright.bench.jobs import Job, apart
from borewright.bench.print.making import digest
from borewright.bench.sound.others import other_file
from borewright.bench.workbench import Workbench
from borewright.errors import BenchError
from borewright.model.results.listening import Listening
from borewright.tasks.sound.rendering import sound_files
from borewright.words import say

#: Made sounds lie in the hidden folder: beside the recordings they would pass for takes.
_FOLDER = "listening"
_KEY = "listening"


class Heard(NamedTuple):
    """Sounds that were made: of which file in which state, against what, and their addresses."""

    file: str
    of: str
    against: str
    listening: Listening
    addresses: list[str]


def heard_before(bench: Workbench) -> Heard | None:
    """The last sounds made for the file on the bench, or None."""
    found = bench.kept.get(_KEY)
    return found if isinstance(found, Heard) and found.file == bench.file else None


def render(job: Job, bench: Workbench, against: str, notes: str) -> Heard:
    """Render the file of the bench, and another with the same notes.

    ``against`` is a key of ``others``, empty for one instrument alone; ``notes`` are notes or
    fingerings with commas between, empty for the scale that both have. A job that is cancelled
    or fails leaves the former sounds as they are.
    """
    file, path = bench.file, bench.path
    with tempfile.TemporaryDirectory(dir=bench.folder.keep) as name:
        aside = Path(name)
        other, table = other_file(bench, against, aside) if against else (None, None)
        of = digest(path)
        listening = apart(
            job,
            sound_files,
            path,
            aside / "made",
            notes=notes,
            scale=not notes.strip(),
            against=other,
            fingerings=table,
        )
        addresses = [
            _put(bench, letter, Path(each.path))
            for letter, each in zip("ab", listening.files, strict=False)
        ]
    heard = Heard(file, of, against, listening, addresses)
    bench.kept[_KEY] = heard
    return heard


def _put(bench: Workbench, letter: str, made: Path) -> str:
    """Put a sound in its place; the address differs each time, so that no old one is played."""
    target = bench.folder.keep / _FOLDER / f"{letter}.wav"
    try:
        target.parent.mkdir(exist_ok=True)
        os.replace(made, target)
    except OSError as error:
        raise BenchError(
            say("cannot be put in place ({why})", why=error.strerror or str(error)),
            place=made.name,
            remedy=say("Make room on the disk and render it again."),
        ) from error
    return f"/listening/{letter}.wav?n={time.time_ns()}"


def add_addresses(bench: Workbench) -> None:
    """Let the server send the sounds, in pieces where the player asks for them."""
    for letter in "ab":
        address = f"/listening/{letter}.wav"
        if address not in bench.kept:
            bench.kept[address] = app.add_media_file(
                local_file=bench.folder.keep / _FOLDER / f"{letter}.wav",
                url_path=address,
                strict=False,
            )
