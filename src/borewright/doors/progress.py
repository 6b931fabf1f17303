"""Long work at a terminal: a bar on standard error for a person, and an end by Ctrl-C."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from borewright.tasks.progress import Progress
from borewright.words import Reader, Said


@contextmanager
def bar(words: Reader, title: Said) -> Iterator[Progress | None]:
    """A bar with a title; None where nobody sits at a terminal."""
    if sys.stderr is None or not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import BarColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as Bars

    console = Console(stderr=True)
    fields = (
        TextColumn(words.tell(title)),
        BarColumn(),
        TimeElapsedColumn(),
        TextColumn("{task.description}"),
    )
    with Bars(*fields, console=console, transient=True) as bars:
        task = bars.add_task("", total=None)

        def show(share: float | None, said: Said) -> None:
            total = None if share is None else 1.0
            bars.update(
                task, completed=share or 0.0, total=total, description=escape(words.tell(said))
            )

        yield show


@contextmanager
def stopped_by_ctrl_c() -> Iterator[threading.Event]:
    """An event that Ctrl-C sets; pressed again, it interrupts as it always does."""
    cancel = threading.Event()

    def pressed(number: int, frame: FrameType | None) -> None:
        if cancel.is_set():
            raise KeyboardInterrupt
        cancel.set()

    if threading.current_thread() is not threading.main_thread():
        yield cancel
        return
    before = signal.signal(signal.SIGINT, pressed)
    try:
        yield cancel
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def at_work(words: Reader, title: Said) -> Iterator[tuple[Progress | None, threading.Event]]:
    """Progress and cancel for a use case that takes its time."""
    with bar(words, title) as progress, stopped_by_ctrl_c() as cancel:
        yield progress, cancel
