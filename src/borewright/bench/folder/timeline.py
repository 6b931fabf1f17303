"""What happened to the folder's files, step by step, and the states that were given a name.

Contents are kept by their SHA-256 in ``.bench/contents``; ``.bench/timeline.json`` lists the
steps. A step is written there, marked as under way, before the first file is touched: a
process that is killed in between leaves enough to finish the step when the folder is opened
again.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from borewright.errors import BenchError, cause_of
from borewright.model import write_bytes, write_text
from borewright.words import Text, say
from borewright.words.message import said_from_data

#: Steps that undo can go back; older ones are forgotten when the folder is opened.
MOST_STEPS = 500
#: Format 1 kept what a step did as English words; it is still read.
FORMAT = 2


@dataclass
class TimelineStep:
    """One change: when, what, and each file's content before and after (SHA-256).

    Each page tells in its language what was done. An empty digest stands for no file.
    """

    when: str
    what: Text
    files: dict[str, tuple[str, str]]


@dataclass
class Revision:
    """A state of the folder with a name: content (SHA-256) by file."""

    name: str
    when: str
    files: dict[str, str]


@dataclass
class Timeline:
    """Steps, how many of them hold now, whether the last one is under way, and revisions."""

    steps: list[TimelineStep] = field(default_factory=list)
    position: int = 0
    under_way: bool = False
    revisions: list[Revision] = field(default_factory=list)


class History:
    """A timeline on disk with the contents it names."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.file = folder / "timeline.json"
        self.contents = folder / "contents"
        self.timeline = self._read()
        self._forget_old()

    def _read(self) -> Timeline:
        if not self.file.exists():
            return Timeline()
        try:
            data = json.loads(self.file.read_text(encoding="utf-8"))
            if data["format"] not in (1, FORMAT):
                raise BenchError(
                    say("it is of another Borewright"),
                    remedy=say("Its history begins anew; the files stay as they are."),
                )
            steps = [
                TimelineStep(
                    step["when"],
                    _said(step["what"]),
                    {name: (pair[0], pair[1]) for name, pair in step["files"].items()},
                )
                for step in data["steps"]
            ]
            revisions = [Revision(**revision) for revision in data["revisions"]]
            return Timeline(steps, int(data["position"]), bool(data["under_way"]), revisions)
        except (OSError, ValueError, KeyError, TypeError, IndexError, BenchError) as error:
            raise BenchError(
                say("the history cannot be read ({why})", why=cause_of(error)),
                place=str(self.file),
                remedy=say(
                    "Move the folder '.bench' away: the files beside it need it no more, "
                    "only undo and named revisions do."
                ),
            ) from error

    def write(self) -> None:
        """Write the timeline, whole or not at all; ModelError where there is no room."""
        line = self.timeline
        data = {
            "format": FORMAT,
            "steps": [{**vars(step), "what": _data(step.what)} for step in line.steps],
            "position": line.position,
            "under_way": line.under_way,
            "revisions": [vars(revision) for revision in line.revisions],
        }
        write_text(self.file, json.dumps(data, indent=1, ensure_ascii=False) + "\n")

    def keep(self, data: bytes) -> str:
        """Keep a content; its digest."""
        digest = digest_of(data)
        path = self.contents / digest
        if not path.exists():
            write_bytes(path, data)
        return digest

    def content(self, digest: str) -> bytes:
        """A content kept before; BenchError where it is gone or was changed."""
        try:
            data = (self.contents / digest).read_bytes()
        except OSError as error:
            raise BenchError(
                say("the earlier content is no longer there"),
                place=str(self.contents / digest),
                remedy=say("Go on from the present state."),
            ) from error
        if digest_of(data) != digest:
            raise BenchError(
                say("the earlier content was damaged"),
                place=str(self.contents / digest),
                remedy=say("Go on from the present state."),
            )
        return data

    def begin(self, what: Text, files: dict[str, tuple[str, str]]) -> None:
        """Write down a step that is about to be made; steps undone before it are dropped."""
        old = self.timeline
        steps = [*old.steps[: old.position], TimelineStep(now(), what, files)]
        self._set(Timeline(steps, old.position + 1, True, old.revisions))

    def move(self, position: int) -> None:
        """Write down that the timeline is about to stand at another step (undo, redo)."""
        old = self.timeline
        self._set(Timeline(old.steps, position, True, old.revisions))

    def done(self) -> None:
        """Write down that every file is as the timeline says."""
        old = self.timeline
        self._set(Timeline(old.steps, old.position, False, old.revisions))

    def name(self, name: str, files: dict[str, str]) -> Revision:
        """Give the present state a name."""
        old = self.timeline
        revision = Revision(name, now(), files)
        kept = [each for each in old.revisions if each.name != name]
        self._set(Timeline(old.steps, old.position, old.under_way, [*kept, revision]))
        return revision

    def return_to(self, timeline: Timeline) -> None:
        """Take back what was written down of a step that could not be made."""
        self._set(timeline)

    def _set(self, timeline: Timeline) -> None:
        old, self.timeline = self.timeline, timeline
        try:
            self.write()
        except BaseException:
            self.timeline = old
            raise

    def _forget_old(self) -> None:
        line = self.timeline
        extra = min(len(line.steps) - MOST_STEPS, line.position)
        if extra > 0:
            line.steps, line.position = line.steps[extra:], line.position - extra
        used = {d for step in line.steps for pair in step.files.values() for d in pair}
        used |= {digest for revision in line.revisions for digest in revision.files.values()}
        if self.contents.is_dir():
            for path in self.contents.iterdir():
                if path.name not in used:
                    path.unlink(missing_ok=True)


def _data(what: Text) -> Any:
    return what if isinstance(what, str) else what.as_data()


def _said(data: Any) -> Text:
    if isinstance(data, Mapping):
        return said_from_data(data)
    if not isinstance(data, str):
        raise BenchError(
            say("a step does not say what it did"),
            remedy=say("Its history begins anew; the files stay as they are."),
        )
    return data


def digest_of(data: bytes) -> str:
    """SHA-256 of a content, in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def now() -> str:
    """The present moment, to the second, with its offset from UTC."""
    return datetime.now(UTC).astimezone().isoformat(timespec="seconds")
