"""Progress on standard error, shown to a person at a terminal and to nobody else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

FitProgress = Callable[[int, float, float], None]
PartProgress = Callable[[str, int, int], None]
HoleProgress = Callable[[int, int], None]


@contextmanager
def fit_progress(most_rounds: int) -> Iterator[FitProgress | None]:
    """A bar over the rounds of a fit, with root mean square and worst cents."""
    with _bar("fitting", most_rounds) as show:
        if show is None:
            yield None
        else:
            yield lambda number, rms, worst: show(
                number, f"round {number}, rms {rms:.1f} cents, worst {worst:.1f}"
            )


@contextmanager
def solved_fit_progress(
    most_rounds: int,
) -> Iterator[tuple[FitProgress | None, HoleProgress | None]]:
    """One bar for a fit whose side holes are solved: rounds, and holes in between."""
    with _bar("fitting", most_rounds) as show:
        if show is None:
            yield None, None
        else:
            yield (
                lambda number, rms, worst: show(
                    number, f"round {number}, rms {rms:.1f} cents, worst {worst:.1f}", most_rounds
                ),
                lambda done, of: show(done, f"side holes in 3-D, {done} of {of}", of),
            )


@contextmanager
def hole_progress(wanted: bool) -> Iterator[HoleProgress | None]:
    """A bar over side holes that are solved in 3-D, if any are."""
    if not wanted:
        yield None
        return
    with _bar("side holes", None) as show:
        if show is None:
            yield None
        else:
            yield lambda done, of: show(done, f"solved in 3-D, {done} of {of}", of)


@contextmanager
def part_progress() -> Iterator[PartProgress | None]:
    """A bar over the parts that become solids."""
    with _bar("solids", None) as show:
        if show is None:
            yield None
        else:
            yield lambda part, done, total: show(done, part, total)


@contextmanager
def _bar(title: str, total: int | None) -> Iterator[Callable[..., None] | None]:
    if sys.stderr is None or not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    console = Console(stderr=True)
    fields = (TextColumn(title), BarColumn(), TimeElapsedColumn(), TextColumn("{task.description}"))
    with Progress(*fields, console=console, transient=True) as progress:
        task = progress.add_task("", total=total)

        def show(done: int, words: str, of: int | None = total) -> None:
            progress.update(task, completed=done, description=escape(words), total=of)

        yield show
