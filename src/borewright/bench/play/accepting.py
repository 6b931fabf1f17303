"""Steps that were done become an instrument's file; the state gets a name."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Sequence
from pathlib import Path

from borewright.bench.page import Page
from borewright.bench.play.sitting import keep
from borewright.bench.workbench import Change, text_of
from borewright.errors import BenchError, PlayingError
from borewright.model.results.advice import CorrectionStep
from borewright.tasks.outputs import carrying_tables, tables_of
from borewright.words import say


def accept(
    page: Page,
    aim: str,
    steps: Sequence[CorrectionStep],
    readings: Path | None,
    name: str,
) -> None:
    """Save what the steps make, as one step that can be undone, and name the state.

    A rework makes a new file: the instrument as built, after the steps, with the leaks that
    stay. The next print changes the design itself. ``aim`` is the plan's; without steps a
    rework is the instrument as built.

    Raises BenchError, PlayingError or ModelError; then nothing is saved.
    """
    from borewright.playing import Aim
    from borewright.tasks.playing.correcting import file_with_steps

    bench, name = page.workbench, " ".join(name.split())
    if not name or len(name) > 60 or not name.isprintable():
        raise BenchError(
            say("a revision needs a name of 1 to 60 letters"),
            place=say("'{name}'", name=name[:60]),
            remedy=say("Write a name such as 'no 3 reworked'."),
        )
    built = file_with_steps(bench.path, readings, Aim(aim), steps)
    if aim == Aim.NEXT_PRINT:
        bench.edit(built.instrument, say("accept '{name}'", name=name), page)
        bench.folder.name_revision(name)
        bench.tell(Change("files", page))
        return
    stem = re.sub(r"[^\w ,-]+", "-", name).strip(" -") or "reworked"
    file = f"{stem}.toml"
    if bench.folder.path(file).exists():
        raise PlayingError(
            say("there is a file of that name already"),
            place=file,
            remedy=say("Give the revision another name."),
        )
    contents: dict[str, bytes | None] = {}
    target = bench.folder.root / file
    changed = carrying_tables(built.instrument, tables_of(built.instrument, bench.path), target)
    changed = changed.model_copy(update={"name": name})
    if built.leaks:
        from borewright.playing.leaky_table import write_fingerings

        named = f"{stem}-fingerings.csv"
        with tempfile.TemporaryDirectory() as folder:
            scratch = Path(folder) / named
            write_fingerings(built.fingerings, scratch)
            contents[named] = scratch.read_bytes()
        changed = changed.model_copy(update={"fingerings": named})
    contents[file] = text_of(changed, bench.path)
    bench.folder.save_all(contents, say("accept '{name}'", name=name))
    bench.folder.name_revision(name)
    keep(page, instrument=name)
    bench.choose(file, page)
    bench.tell(Change("files", page))
