"""Watching over long work in a process of its own; see :mod:`borewright.entry`."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from types import FrameType

from borewright.leftovers import ASIDE, NOTES, STOPPED, remove_if_empty

WRONG = 2
#: After Ctrl-C work has so long (s) to end by itself; what has a best so far to save, longer.
GRACE_S, SAVING_S = 0.4, 15.0
_SAVING = {"fit", "blend", "seat", "stand", "choices", "batch-fit"}
#: Renames into place are never cut in two: they have so long (s).
_MOVING_S = 5.0
#: Work that takes longer than this (hours) has gone astray; the variable sets another bound.
DEADLINE_H, DEADLINE = 24.0, "BOREWRIGHT_DEADLINE_H"
#: Share of the memory that is free at the start; another bound in GB by the variable.
MEMORY_SHARE, MEMORY = 0.95, "BOREWRIGHT_MEMORY_GB"
_LOOK_S = 0.05
_MEMORY_EVERY = 10


class _Watch:
    """The process at work, and what has become of it."""

    def __init__(self, words: list[str], notes: Path) -> None:
        self.notes = notes
        self.asked_s: float | None = None
        self.times = 0
        self.ended = ""
        environment = {**os.environ, NOTES: str(notes), "TMPDIR": str(notes)}
        self.child = subprocess.Popen(
            [sys.executable, "-m", "borewright", *words], env=environment, start_new_session=True
        )
        self.grace_s = SAVING_S if set(words) & _SAVING else GRACE_S

    def pressed(self, number: int, frame: FrameType | None) -> None:
        """Ctrl-C: asked once politely, the second time at once."""
        self.times += 1
        if self.asked_s is None:
            self.asked_s = time.monotonic()
        if self.child.poll() is None:
            with contextlib.suppress(ProcessLookupError):
                os.kill(self.child.pid, signal.SIGINT)

    def ask_to_end(self, number: int, frame: FrameType | None) -> None:
        """The terminal was closed, or somebody ended this process: that goes for the work too."""
        self.end("ended")

    def end(self, why: str) -> None:
        """End the process with all that it started."""
        self.ended = self.ended or why
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(self.child.pid, signal.SIGKILL)

    def wait(self) -> int:
        """Until it ends or has to be ended; its exit code, negative for a signal."""
        deadline_s = time.monotonic() + 3600 * _number(DEADLINE, DEADLINE_H)
        most = _memory_budget()
        looks = 0
        while True:
            with contextlib.suppress(subprocess.TimeoutExpired):
                return self.child.wait(_LOOK_S)
            now, looks = time.monotonic(), looks + 1
            if self.asked_s is not None:
                grace_s = self.grace_s if (self.notes / "best").exists() else GRACE_S
                grace_s = _MOVING_S if (self.notes / "moving").exists() else grace_s
                if now - self.asked_s > grace_s or (self.times > 1 and grace_s != _MOVING_S):
                    self.end("stopped")
            if now > deadline_s:
                self.end("deadline")
            if most and looks % _MEMORY_EVERY == 0 and _resident(self.child.pid) > most:
                self.end("memory")

    def clean(self) -> None:
        """Take away what a process that was ended could not."""
        clean_up(self.notes)


def sweep() -> None:
    """Take away what work has left whose watch was itself killed."""
    for notes in Path(tempfile.gettempdir()).glob("borewright-*-*"):
        number = notes.name.split("-")[1]
        with contextlib.suppress(OSError):
            own = notes.stat().st_uid == os.getuid()
            if own and number.isdecimal() and not _lives(int(number)):
                clean_up(notes)
                shutil.rmtree(notes, ignore_errors=True)


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def clean_up(notes: Path) -> None:
    """Remove what is listed as no result yet: by its own kind of name, or a folder left empty.

    Nothing else is ever touched: a folder that was new when the work began may hold results, or
    files that somebody has put there since.
    """
    with contextlib.suppress(OSError):
        for line in (notes / "left").read_text(encoding="utf-8").split("\0"):
            path = Path(line)
            if line and path.name.startswith(ASIDE):
                if path.is_dir():
                    shutil.rmtree(path, ignore_errors=True)
                else:
                    path.unlink(missing_ok=True)
            elif line and path.is_dir():
                remove_if_empty(path)


def supervise(words: list[str]) -> int:
    """Run a command in a process of its own; the exit code of this one."""
    sweep()
    notes = Path(tempfile.mkdtemp(prefix=f"borewright-{os.getpid()}-"))
    try:
        watch = _Watch(words, notes)
        signal.signal(signal.SIGINT, watch.pressed)
        for name in ("SIGTERM", "SIGHUP"):
            signal.signal(getattr(signal, name), watch.ask_to_end)
        code = watch.wait()
        # What it started itself may still be at work.
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(watch.child.pid, signal.SIGKILL)
        if watch.ended or code < 0 or code == STOPPED:
            watch.clean()
        return _told(watch, code, words)
    finally:
        shutil.rmtree(notes, ignore_errors=True)


def _told(watch: _Watch, code: int, words: list[str]) -> int:
    if watch.ended == "ended":
        return 143
    if watch.asked_s is not None and (watch.ended == "stopped" or code in (STOPPED, -2)):
        if watch.ended == "stopped" or not (watch.notes / "told").exists():
            _say_stopped()
        return STOPPED
    if code >= 0 and not watch.ended:
        return code
    _say_crash(watch.ended, code, "--json" in words)
    return WRONG


def _say_stopped() -> None:
    from borewright.words import Reader, language_wished

    print(f"borewright: {Reader(language_wished())('stopped.')}", file=sys.stderr, flush=True)


def _say_crash(ended: str, code: int, as_json: bool) -> None:
    from borewright.errors import BorewrightError
    from borewright.words import Reader, language_wished, say

    error = BorewrightError(
        say("the work broke off in the computing kernel (signal {number})", number=-code),
        place=say("work"),
        remedy=say("Nothing was written. Change a size by a hundredth and try again; "
                   "report it if it stays."),
    )  # fmt: skip
    if ended == "memory" or (not ended and code == -9):
        error = BorewrightError(
            say("the work needed more memory than there is"),
            place=say("work"),
            remedy=say("Close other programs, or ask for less at once; nothing was written."),
        )
    if ended == "deadline":
        error = BorewrightError(
            say("the work did not end in time"),
            place=say("work"),
            remedy=say("Ask for less at once; nothing was written."),
        )
    if as_json:
        print(json.dumps(error.as_dict(), indent=2))
    else:
        told = error.told(Reader(language_wished()))
        print(f"borewright: {told}", file=sys.stderr, flush=True)


def _number(variable: str, otherwise: float) -> float:
    try:
        return max(float(os.environ.get(variable, otherwise)), 0.0)
    except ValueError:
        return otherwise


def _memory_budget() -> float:
    """Bytes that the work may hold; 0 where the system does not tell."""
    wished = _number(MEMORY, 0.0)
    if wished:
        return wished * 1e9
    try:
        for line in Path("/proc/meminfo").read_text(encoding="ascii").splitlines():
            if line.startswith("MemAvailable:"):
                return MEMORY_SHARE * 1024 * float(line.split()[1])
    except (OSError, ValueError, IndexError):
        pass
    return 0.0


def _resident(process: int) -> float:
    """Bytes that a process and what it started hold in memory."""
    total, waiting = 0.0, [process]
    page = os.sysconf("SC_PAGE_SIZE")
    while waiting:
        one = waiting.pop()
        with contextlib.suppress(OSError, ValueError, IndexError):
            total += page * float(Path(f"/proc/{one}/statm").read_text(encoding="ascii").split()[1])
            for thread in Path(f"/proc/{one}/task").iterdir():
                waiting += map(int, (thread / "children").read_text(encoding="ascii").split())
    return total
