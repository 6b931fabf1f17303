"""The workbench: one open folder, the instrument on it, and everybody who looks at it."""

from __future__ import annotations

import asyncio
import json
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import count, takewhile
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

from borewright.bench.folder import ChangedElsewhereError, FolderFile, Kind, OpenFolder
from borewright.bench.jobs import Job, Jobs
from borewright.bench.rights import Right, may, require
from borewright.errors import BenchError, BorewrightError
from borewright.model import (
    FingeringTable,
    Instrument,
    KeySet,
    KeyworkSurvey,
    keys_text,
    read_instrument,
    save_as,
    starting_text,
    write_text,
)
from borewright.model.files.keys import KEYS_HEAD
from borewright.tasks.inputs import fingerings_of, keys_of, survey_of
from borewright.tasks.outputs import TABLES
from borewright.words import Text, say

_P = ParamSpec("_P")
_T = TypeVar("_T")


@dataclass(frozen=True)
class Change:
    """What happened: ``what`` is "instrument", "files", "job", "settings" or "trouble".

    ``by`` is the page that did it (None for another program or the server), ``job`` the job.
    """

    what: str
    by: object = None
    job: Job | None = None


class Workbench:
    """Files by kind, the current instrument with its tables, saving, jobs and listeners.

    Everything here belongs to the event loop's thread; work for other threads goes through
    :attr:`jobs` (long) or :meth:`kernel` (milliseconds).

    Attributes
    ----------
    instrument, fingerings, survey, keys
        What is on the bench as saved; None where there is none or it cannot be read.
    trouble
        Why the current file cannot be used just now, or None.
    edition
        Counts changes of instrument or tables: a background result of an older edition is old.
    kept
        What views keep for all pages until the server ends, a fit not yet accepted, say.
    """

    def __init__(self, root: Path) -> None:
        self.folder = OpenFolder(root)
        self.jobs = Jobs(lambda job: self.tell(Change("job", job=job)))
        self.file = ""
        self.instrument: Instrument | None = None
        self.fingerings: FingeringTable | None = None
        self.survey: KeyworkSurvey | None = None
        self.keys: KeySet | None = None
        self.trouble: BorewrightError | None = None
        self.edition = 0
        self.kept: dict[str, Any] = {}
        self.settings: dict[str, Any] = self._read_settings()
        self._listeners: list[Callable[[Change], None]] = []
        self._kernel = ThreadPoolExecutor(1, thread_name_prefix="kernel")
        instruments = self.files(Kind.INSTRUMENT)
        if instruments:
            names = [each.name for each in instruments]
            wanted = self.settings.get("file")
            self.choose(wanted if wanted in names else names[0])

    # Listeners -------------------------------------------------------------------------------

    def listen(self, listener: Callable[[Change], None]) -> Callable[[], None]:
        """Call ``listener`` at every change; the function returned ends that."""
        self._listeners.append(listener)
        return lambda: self._listeners.remove(listener) if listener in self._listeners else None

    def tell(self, change: Change) -> None:
        """Tell everybody of a change."""
        for listener in list(self._listeners):
            listener(change)

    # What is on the bench --------------------------------------------------------------------

    def files(self, kind: Kind | None = None) -> list[FolderFile]:
        """Files of the folder, of one kind or all, by name."""
        return self.folder.files(kind)

    @property
    def path(self) -> Path:
        """Path of the current instrument's file; BenchError where there is none."""
        if not self.file:
            raise BenchError(
                say("no instrument is on the bench"),
                place=self.folder.root.name,
                remedy=say("Begin with an example, or put an instrument's file into the folder."),
            )
        return self.folder.path(self.file)

    def choose(self, name: str, by: object = None) -> None:
        """Put an instrument's file on the bench."""
        self.folder.path(name)
        self.file = name
        self.instrument = None
        self._load()
        if self.settings.get("file") != name and may(Right.WORK):
            self.set_setting("file", name, by)
        self.tell(Change("instrument", by))

    def _load(self) -> None:
        """Read the current file and its tables; keep the last good ones where that fails."""
        self.edition += 1
        self.trouble = None
        try:
            instrument, _ = read_instrument(self.path)
            self._check_named(instrument)
            survey = survey_of(instrument, self.path)
            keys = keys_of(instrument, self.path)
            table = fingerings_of(instrument, self.path) if instrument.fingerings else None
        except BorewrightError as error:
            self.trouble = error
            return
        self.instrument, self.survey, self.fingerings = instrument, survey, table
        self.keys = keys

    def _check_named(self, instrument: Instrument) -> None:
        """Tables that a file names lie in the folder too: a file may come from anywhere."""
        for key in TABLES:
            if named := getattr(instrument, key):
                self.folder.path((Path(self.file).parent / named).as_posix())

    # Saving ----------------------------------------------------------------------------------

    def edit(self, instrument: Instrument, what: Text, by: object = None) -> None:
        """Save the current instrument changed, with its owner's comments, as one step.

        Raises
        ------
        ChangedElsewhereError
            Where another program changed the file or its tables since ``instrument`` was drawn.
            Theirs stays; the edit is kept as a copy beside it, which the message names.
        BenchError
            Where the file cannot be read now (see ``trouble``).
        ModelError
            Where it cannot be written.
        """
        require(Right.WORK)
        edition = self.edition
        self.look()
        if self.edition != edition:
            raise self._kept_beside(instrument, what)
        if self.trouble is not None:
            raise self.trouble
        self.folder.save(self.file, text_of(instrument, self.path), what)
        self._load()
        self.tell(Change("instrument", by))

    def edit_keys(self, keys: KeySet, what: Text, by: object = None) -> None:
        """Save the keys changed, with their owner's comments on top, as one step.

        An instrument that names none yet names the new file from then on. Raises as :meth:`edit`
        does; where another program changed a file meanwhile, nothing is written.
        """
        require(Right.WORK)
        edition = self.edition
        self.look()
        if self.trouble is not None:
            raise self.trouble
        instrument = self.instrument
        if instrument is None or self.edition != edition:
            raise ChangedElsewhereError(
                say("was changed by another program meanwhile, so it was not overwritten"),
                place=self.file,
                remedy=say("Look at the keys as they are now, and enter the numbers again."),
            )
        folder = Path(self.file).parent
        contents: dict[str, bytes | None] = {}
        if not instrument.keys:
            free = next(
                n for n in _key_names() if not self.folder.path((folder / n).as_posix()).exists()
            )
            instrument = instrument.model_copy(update={"keys": free})
            contents[self.file] = text_of(instrument, self.path)
        name = (folder / str(instrument.keys)).as_posix()
        contents[name] = keys_text(keys, self._comments(name)).encode()
        self.folder.save_all(contents, what)
        self._load()
        self.tell(Change("instrument", by))

    def _comments(self, name: str) -> str:
        """The owner's comments above a table's heading, without what is written anyway."""
        if not self.folder.path(name).exists():
            return ""
        ours = set(KEYS_HEAD.splitlines())
        lines = self.folder.read(name).decode("utf-8-sig", "replace").splitlines()
        above = list(takewhile(lambda line: line.startswith("#") or not line.strip(), lines))
        return "\n".join(line[1:].strip() for line in above if line.strip() and line not in ours)

    def _kept_beside(self, instrument: Instrument, what: Text) -> ChangedElsewhereError:
        try:
            text = text_of(instrument, self.path)
        except BorewrightError:
            text = starting_text(instrument).encode()  # theirs cannot lend its comments now
        copy = self.folder.copy_beside(self.file, text, say("{what} (a copy)", what=what))
        self.tell(Change("files"))
        return ChangedElsewhereError(
            say("was changed by another program meanwhile, so it was not overwritten"),
            place=self.file,
            remedy=say("Your change is in '{copy}'; choose it above to see it.", copy=copy),
        )

    def undo(self, by: object = None) -> None:
        """Take the last step back."""
        require(Right.WORK)
        self._moved(self.folder.undo(), by)

    def redo(self, by: object = None) -> None:
        """Make the step again that was undone last."""
        require(Right.WORK)
        self._moved(self.folder.redo(), by)

    def restore(self, revision: str, by: object = None) -> None:
        """Bring a named revision back."""
        require(Right.WORK)
        self._moved(self.folder.restore(revision), by)

    def _moved(self, names: list[str], by: object) -> None:
        if names:
            self._load_or_choose()
            self.tell(Change("instrument", by))
            self.tell(Change("files", by))

    def _load_or_choose(self) -> None:
        instruments = [each.name for each in self.files(Kind.INSTRUMENT)]
        # A file that was broken meanwhile still is the one on the bench: its trouble is told.
        if self.file and self.folder.path(self.file).exists():
            self._load()
        elif instruments:
            self.choose(instruments[0])
        else:
            self.file, self.instrument, self.fingerings, self.survey = "", None, None, None
            self.keys = None

    def look(self) -> bool:
        """Look for changes by other programs; whether there were any."""
        try:
            changed = self.folder.look()
        except BorewrightError as error:
            self.trouble = error
            self.tell(Change("trouble"))
            return False
        if changed:
            if not self.file or self.file in changed or self._tables() & set(changed):
                self._load_or_choose()
                self.tell(Change("instrument"))
            self.tell(Change("files"))
        return bool(changed)

    def _tables(self) -> set[str]:
        named = [getattr(self.instrument, key) for key in TABLES] if self.instrument else []
        return {(Path(self.file).parent / each).as_posix() for each in named if each}

    # Settings, computing ---------------------------------------------------------------------

    def _read_settings(self) -> dict[str, Any]:
        try:
            data = json.loads((self.folder.keep / "settings.json").read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}  # none yet, or not ours: every setting has a default
        return data if isinstance(data, dict) else {}

    def set_setting(self, key: str, value: Any, by: object = None) -> None:
        """Keep a setting of the bench (language, units, colours) for the next time."""
        require(Right.WORK)
        self.settings = {**self.settings, key: value}
        write_text(self.folder.keep / "settings.json", json.dumps(self.settings) + "\n")
        self.tell(Change("settings", by))

    async def kernel(self, work: Callable[_P, _T], *given: _P.args, **named: _P.kwargs) -> _T:
        """Compute something short in the kernel's own thread, one after another."""
        loop = asyncio.get_running_loop()
        return await loop.run_in_executor(self._kernel, lambda: work(*given, **named))

    def close(self) -> None:
        """Give the folder free."""
        for job in self.jobs.running():
            job.cancel()
        self._kernel.shutdown(wait=False, cancel_futures=True)
        self.folder.close()


def _key_names() -> Iterator[str]:
    yield "keys.csv"
    yield from (f"keys {number}.csv" for number in count(2))


def text_of(instrument: Instrument, file: Path) -> bytes:
    """What an instrument's file would hold, with the comments and the order it has now."""
    _, document = read_instrument(file)
    with tempfile.TemporaryDirectory() as folder:
        scratch = Path(folder) / "scratch.toml"
        save_as(instrument, scratch, document)
        return scratch.read_bytes()
