"""An open folder: saving with undo, other programs' changes noticed and never overwritten."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path

from borewright.bench.folder.kinds import FolderFile, Kind, kind_of
from borewright.bench.folder.lock import hold
from borewright.bench.folder.paths import inside
from borewright.bench.folder.timeline import History, Revision, Timeline, digest_of
from borewright.errors import BenchError, ModelError
from borewright.model import write_bytes
from borewright.words import Text, say

KEEP = ".bench"
#: Files that the history keeps; recordings and bodies are too large for that.
_KEPT = {
    Kind.INSTRUMENT,
    Kind.SURVEY,
    Kind.FINGERINGS,
    Kind.BORE,
    Kind.TABLE,
    Kind.SETTINGS,
}
_MOST_KEPT_BYTES = 5_000_000
#: Folders of files that the bench makes and can make again; they have no history.
_MADE = {"bodies", "print", "papers"}
_MOST_FILES = 5000


class ChangedElsewhereError(BenchError):
    """A file was changed by another program since the bench last looked at it."""


def no_revision(name: str) -> BenchError:
    """The error for a revision that is not there."""
    return BenchError(
        say("there is no such revision"),
        place=say("'{name}'", name=name[:60]),
        remedy=say("Choose one."),
    )


class OpenFolder:
    """A folder of plain files with undo, redo and named revisions.

    Parameters
    ----------
    root
        Made if missing.

    Raises
    ------
    BenchError
        Where another bench has the folder open, or its history cannot be read.
    """

    def __init__(self, root: Path) -> None:
        try:
            root.mkdir(parents=True, exist_ok=True)
            self.root = root.resolve()
            self.keep = self.root / KEEP
            self.keep.mkdir(exist_ok=True)
        except OSError as error:
            raise BenchError(
                say("cannot be opened ({why})", why=error.strerror or str(error)),
                place=str(root),
                remedy=say("Choose a folder that you may write to."),
            ) from error
        self._lock = hold(self.keep / "lock")
        self._stamps: dict[str, tuple[int, int, int]] = {}
        self._known: dict[str, str] = {}
        self._kinds: dict[str, Kind] = {}
        try:
            self.history = History(self.keep)
            self._finish_step()
            self.look()
        except BaseException:
            self.close()
            raise

    def close(self) -> None:
        """Let another bench open the folder."""
        self._lock.release()

    # What is there ---------------------------------------------------------------------------

    def path(self, name: str) -> Path:
        """The path of a file of this folder; BenchError for a name that leads elsewhere."""
        return inside(self.root, name)

    def files(self, kind: Kind | None = None) -> list[FolderFile]:
        """Plain files of the folder and its folders, by name; hidden ones are not shown."""
        return [
            FolderFile(name, self._kinds[name], stamp[1])
            for name, stamp in sorted(self._stamps.items())
            if kind is None or self._kinds[name] is kind
        ]

    def read(self, name: str) -> bytes:
        """The content of a file; BenchError where there is none."""
        path = self.path(name)
        try:
            return path.read_bytes()
        except OSError as error:
            raise BenchError(
                say("cannot be read ({why})", why=error.strerror or str(error)),
                place=name,
                remedy=say("Choose a file that is in the folder."),
            ) from error

    def look(self) -> list[str]:
        """Look at the folder again; names of files that another program changed since.

        Such a change becomes a step of the history, so that it can be undone like one's own.
        """
        stamps = self._scan()
        changed = [n for n in {*stamps, *self._stamps} if stamps.get(n) != self._stamps.get(n)]
        self._stamps = stamps
        foreign: dict[str, tuple[str, str]] = {}
        for name in changed:
            before = self._known.get(name, "")
            if name not in stamps:
                self._kinds.pop(name, None)
                self._known.pop(name, None)
                after = ""
            else:
                self._kinds[name] = kind_of(self.root / name)
                after = self._remember(name)
            if before and before != after:
                foreign[name] = (before, after)
        if foreign and not self.history.timeline.under_way:
            self.history.begin(say("changed by another program"), foreign)
            self.history.done()
        return sorted(changed)

    def _scan(self) -> dict[str, tuple[int, int, int]]:
        found: dict[str, tuple[int, int, int]] = {}
        stack = [self.root]
        while stack and len(found) < _MOST_FILES:
            folder = stack.pop()
            try:
                entries = list(folder.iterdir())
            except OSError:
                continue  # a folder that went away while we looked
            for path in entries:
                if path.name.startswith("."):
                    continue
                try:
                    if path.is_dir() and not path.is_symlink():
                        stack.append(path)
                    elif path.is_file() and path.resolve().is_relative_to(self.root):
                        stat = path.stat()
                        name = path.relative_to(self.root).as_posix()
                        found[name] = (stat.st_mtime_ns, stat.st_size, stat.st_ino)
                except OSError:
                    continue  # a file that went away while we looked
        return found

    def _remember(self, name: str) -> str:
        """Keep a file's content and its digest, where its kind and size are kept at all."""
        small = self._stamps[name][1] <= _MOST_KEPT_BYTES
        if self._kinds[name] not in _KEPT or not small or name.split("/")[0] in _MADE:
            self._known.pop(name, None)
            return ""
        try:
            self._known[name] = self.history.keep((self.root / name).read_bytes())
        except (OSError, ModelError):
            self._known.pop(name, None)  # not readable now: there is nothing to compare with
        return self._known.get(name, "")

    # Saving ----------------------------------------------------------------------------------

    def save(self, name: str, data: bytes, what: Text) -> None:
        """Save a file as one step that can be undone.

        Raises ChangedElsewhereError where another program changed the file meanwhile: then nothing
        is written. Raises ModelError where there is no room: the old content stays.
        """
        self._write({name: data}, what)

    def save_all(self, contents: dict[str, bytes | None], what: Text) -> None:
        """As :meth:`save` for several files in one step; None takes a file away."""
        self._write(contents, what)

    def copy_beside(self, name: str, data: bytes, what: Text) -> str:
        """Save under a new name beside ``name``, so that neither version is lost; that name."""
        path = Path(name)
        for number in range(1, 1000):
            free = path.with_name(f"{path.stem} copy {number}{path.suffix}").as_posix()
            if not self.path(free).exists():
                self.save(free, data, what)
                return free
        raise BenchError(
            say("has a thousand copies already"),
            place=name,
            remedy=say("Remove some of them."),
        )

    def receive(self, name: str, data: bytes) -> None:
        """Write a file that is not there yet, an upload or a download kept; never over another.

        Raises BenchError where there is a file of that name, ModelError where there is no room.
        """
        path = self.path(name)
        if path.exists() or path.is_symlink():
            raise BenchError(
                say("is there already, and was not replaced"),
                place=name,
                remedy=say("Give it another name, or move the file in the folder away."),
            )
        write_bytes(path, data)
        self.look()

    def _write(self, contents: dict[str, bytes | None], what: Text) -> None:
        files = {}
        for name, data in contents.items():
            self._check_unchanged(name)
            after = "" if data is None else self.history.keep(data)
            files[name] = (self._known.get(name, ""), after)
        if all(before == after for before, after in files.values()):
            return
        former = deepcopy(self.history.timeline)
        self.history.begin(what, files)
        self._apply(files, former, back=False)

    def _apply(self, files: dict[str, tuple[str, str]], former: Timeline, back: bool) -> None:
        """Bring every file of a step to its content after (before, where ``back``)."""
        try:
            for name, pair in files.items():
                self._put(name, pair[0 if back else 1])
        except BaseException:
            self.history.return_to(former)
            raise
        self.history.done()

    def _put(self, name: str, digest: str) -> None:
        path = self.path(name)
        if digest:
            write_bytes(path, self.history.content(digest))
            self._known[name] = digest
            stat = path.stat()
            self._stamps[name] = (stat.st_mtime_ns, stat.st_size, stat.st_ino)
            self._kinds[name] = kind_of(path)
        else:
            path.unlink(missing_ok=True)
            for kept in (self._known, self._stamps, self._kinds):
                kept.pop(name, None)

    def _check_unchanged(self, name: str) -> None:
        path = self.path(name)
        known = self._known.get(name, "")
        try:
            present = digest_of(path.read_bytes()) if path.exists() else ""
        except OSError as error:
            raise BenchError(
                say("cannot be read ({why})", why=error.strerror or str(error)),
                place=name,
                remedy=say("Close it in the other program and try again."),
            ) from error
        if present != known:
            raise ChangedElsewhereError(
                say("was changed by another program meanwhile, so it was not overwritten"),
                place=name,
                remedy=say("Look at the other version first; yours can be saved as a copy."),
            )

    # Undo, redo, revisions -------------------------------------------------------------------

    @property
    def can_undo(self) -> Text:
        """What undo would take back; empty where there is nothing."""
        line = self.history.timeline
        return line.steps[line.position - 1].what if line.position else ""

    @property
    def can_redo(self) -> Text:
        """What redo would do again; empty where there is nothing."""
        line = self.history.timeline
        return line.steps[line.position].what if line.position < len(line.steps) else ""

    def undo(self) -> list[str]:
        """Take the last step back; names of the files that changed."""
        if not self.can_undo:
            return []
        return self._step(-1)

    def redo(self) -> list[str]:
        """Make the step again that was undone last; names of the files that changed."""
        if not self.can_redo:
            return []
        return self._step(1)

    def _step(self, way: int) -> list[str]:
        line = self.history.timeline
        step = line.steps[line.position - 1 if way < 0 else line.position]
        for name in step.files:
            self._check_unchanged(name)
        former = deepcopy(line)
        self.history.move(line.position + way)
        self._apply(step.files, former, back=way < 0)
        return sorted(step.files)

    def revisions(self) -> list[Revision]:
        """States that were given a name, the latest first."""
        return self.history.timeline.revisions[::-1]

    def name_revision(self, name: str) -> Revision:
        """Give the present state of all files a name; an older state of that name is replaced."""
        plain = " ".join(name.split())
        if not plain or len(plain) > 60 or not plain.isprintable():
            raise BenchError(
                say("a revision needs a name of 1 to 60 letters"),
                place=say("'{name}'", name=plain[:60]),
                remedy=say("Write a name such as 'first print'."),
            )
        return self.history.name(plain, dict(self._known))

    def restore(self, name: str) -> list[str]:
        """Bring all files of a named revision back, as a step that can be undone."""
        for revision in self.revisions():
            if revision.name == name:
                contents = {
                    file: self.history.content(digest)
                    for file, digest in revision.files.items()
                    if self._known.get(file) != digest
                }
                if contents:
                    self._write(dict(contents), say("back to revision '{name}'", name=name))
                return sorted(contents)
        raise no_revision(name)

    # Opening again after the process was killed ------------------------------------------------

    def _finish_step(self) -> None:
        """Finish a step that was under way when the process ended; files changed since stay."""
        line = self.history.timeline
        self._stamps = self._scan()
        for name in self._stamps:
            self._kinds[name] = kind_of(self.root / name)
        if line.under_way:
            for number in (line.position - 1, line.position):
                if 0 <= number < len(line.steps):
                    self._finish_files(line.steps[number].files, number < line.position)
            self.history.done()
        expected: dict[str, str] = {}
        for step in line.steps[: line.position]:
            expected |= {name: after for name, (_, after) in step.files.items()}
        self._known = {name: digest for name, digest in expected.items() if digest}
        self._stamps = {}

    def _finish_files(self, files: dict[str, tuple[str, str]], forward: bool) -> None:
        for name, pair in files.items():
            old, new = pair if forward else pair[::-1]
            path = self.path(name)
            present = digest_of(path.read_bytes()) if path.is_file() else ""
            if present == old != new:
                self._put(name, new)
