"""What an instrument can be compared with: other files of the folder, and its own revisions."""

from __future__ import annotations

import tempfile
from pathlib import Path

from borewright.bench.folder import Kind
from borewright.bench.folder.opened import no_revision
from borewright.bench.words import _
from borewright.bench.workbench import Workbench
from borewright.model import FingeringTable, Instrument, load, starting_text, write_text
from borewright.tasks.inputs import fingerings_of

_REVISION = "revision: "


def others(bench: Workbench) -> dict[str, str]:
    """Words by key of everything there is to compare with; nothing comes first."""
    found = {"": _("nothing")}
    for file in bench.files(Kind.INSTRUMENT):
        if file.name != bench.file:
            found[file.name] = file.name
    for revision in bench.folder.revisions():
        if bench.file in revision.files:
            key = f"{_REVISION}{revision.name}"
            found[key] = _("revision '{name}'", name=revision.name)
    return found


def parents(bench: Workbench) -> dict[str, str]:
    """Words by key of everything there is to blend with: others, and measured bores."""
    bores = {
        file.name: _("{name} (measured bore)", name=file.name) for file in bench.files(Kind.BORE)
    }
    return others(bench) | bores


def read_other(bench: Workbench, key: str) -> tuple[Instrument, FingeringTable]:
    """The other instrument with its fingerings; a revision keeps those of the present file.

    Raises BenchError or ModelError where it is not there or cannot be read.
    """
    if not key.startswith(_REVISION):
        path = bench.folder.path(key)
        instrument = load(path)
        return instrument, fingerings_of(instrument, path)
    name = key.removeprefix(_REVISION)
    revision = next((each for each in bench.folder.revisions() if each.name == name), None)
    if revision is None or bench.fingerings is None:
        raise no_revision(name)
    with tempfile.TemporaryDirectory() as folder:
        scratch = Path(folder) / Path(bench.file).name
        scratch.write_bytes(bench.folder.history.content(revision.files[bench.file]))
        return load(scratch), bench.fingerings


def other_file(bench: Workbench, key: str, scratch: Path) -> tuple[Path, Path | None]:
    """The other instrument's file, and the fingerings of a revision, which is put aside first.

    Raises BenchError where it is not there.
    """
    if not key.startswith(_REVISION):
        return bench.folder.path(key), None
    instrument, _table = read_other(bench, key)
    path = scratch / Path(bench.file).name
    write_text(path, starting_text(instrument))
    named = bench.instrument.fingerings if bench.instrument else ""
    table = bench.folder.path((Path(bench.file).parent / named).as_posix())
    return path, table
