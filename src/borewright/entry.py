"""Where ``borewright`` begins: long work runs in a process of its own, watched from here.

This process loads no heavy library. It passes Ctrl-C on, ends what does not end by itself within
a moment, takes away what an ended process has left behind, watches time and memory, and tells a
crash of a kernel in one message. What is quick (the ledger, help, the bench) runs here.
"""

from __future__ import annotations

import os
import signal
import sys
from types import FrameType

from borewright.leftovers import NOTES, STOPPED

#: Commands that are quick, or live as long as somebody sits before them.
_HERE = {"bench", "ledger", "new"}
_ASKING = {"--help", "--version"}


def main() -> None:
    """Run the command line."""
    signal.signal(signal.SIGINT, _leave)
    words = sys.argv[1:]
    if NOTES in os.environ:
        _die_with_the_parent()
    elif _is_long(words):
        from borewright.supervising import supervise

        sys.exit(supervise(words))
    from borewright.cli import main as run_here

    if NOTES not in os.environ:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    run_here()


def _is_long(words: list[str]) -> bool:
    command = next((word for word in words if not word.startswith("-")), "")
    if os.name != "posix" or not command or command in _HERE:
        return False
    return not _ASKING & set(words)


def _leave(number: int, frame: FrameType | None) -> None:
    """Ctrl-C while modules load: nothing has been begun, so nothing is left."""
    os._exit(STOPPED)


def _die_with_the_parent() -> None:
    """Where the system can: end when the process that watches is killed."""
    if sys.platform == "linux":
        import ctypes

        ctypes.CDLL(None).prctl(1, signal.SIGKILL)  # PR_SET_PDEATHSIG, see prctl(2)
