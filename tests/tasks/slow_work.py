"""Work for the process runner: a child imports it by name."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from borewright.errors import ModelError, Stopped
from borewright.tasks.progress import Cancel, Progress
from borewright.words import say


def count(most: int, *, progress: Progress, cancel: Cancel, wait_s: float = 0.0) -> list[int]:
    """Count; stopped, hand back what was counted."""
    done = []
    for number in range(most):
        if cancel.is_set():
            return done
        done.append(number)
        progress((number + 1) / most, say("{number} counted", number=number + 1))
        time.sleep(wait_s)
    return done


def refuse(name: str, *, progress: Progress, cancel: Cancel) -> None:
    """Fail as a room does."""
    raise ModelError(say("there is no part '{part}'", part=name), place=("a.toml", "parts"))


def crash(*, progress: Progress, cancel: Cancel) -> None:
    """Go as a kernel goes that reads where it must not."""
    print("words of a kernel")
    os.kill(os.getpid(), signal.SIGKILL)


def never_end(pids: Path, *, progress: Progress, cancel: Cancel) -> None:
    """Start a process, say that it is there, and look at nothing any more."""
    with subprocess.Popen([sys.executable, "-c", "import time; time.sleep(600)"]) as child:
        pids.write_text(f"{os.getpid()} {child.pid}", encoding="utf-8")
        progress(None, say("begun"))
        while True:
            time.sleep(1)


def stop(*, progress: Progress, cancel: Cancel) -> None:
    """End because somebody asked for it."""
    raise Stopped
