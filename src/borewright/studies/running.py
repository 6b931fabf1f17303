"""A study from its first chunk to its last: kept as it goes, gone on with after any end."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Protocol

from borewright.errors import StudyError
from borewright.model import write_bytes, write_text
from borewright.studies.chunks import chunk_path, is_kept, solve_chunk
from borewright.studies.plan import Study
from borewright.words import say

HEAD = "study.json"
#: Called with the chunks that are there and all of them.
ChunkProgress = Callable[[int, int], None]


class Solving(Protocol):
    """Who solves chunks: here, or on workers elsewhere, in whatever order they come."""

    def __call__(self, study: Study, chunks: Sequence[int]) -> Iterable[tuple[int, bytes]]:
        """Numbers of chunks with the bytes of their files."""
        ...


def solved_here(study: Study, chunks: Sequence[int]) -> Iterator[tuple[int, bytes]]:
    """One chunk after the other, in this process, on the device that is there."""
    for chunk in chunks:
        yield chunk, solve_chunk(study, chunk)


def run_study(
    study: Study,
    folder: Path,
    *,
    solving: Solving = solved_here,
    told: ChunkProgress | None = None,
) -> Path:
    """Solve what is missing of a study in a folder of its own.

    Parameters
    ----------
    study, folder
        What is solved, and where it is kept: ``study.json`` and a Parquet file a chunk. A file is
        there whole or not at all, so a run may be killed at any place and started again.
    solving
        Who solves the chunks.
    told
        Called after each; it may raise to stop.

    Raises
    ------
    StudyError
        Where the folder holds another study, or cannot be written.
    """
    _claim(study, folder)
    missing = [n for n in range(study.chunks) if not is_kept(study, n, folder)]
    done = study.chunks - len(missing)
    if told:
        told(done, study.chunks)
    for chunk, content in solving(study, missing):
        write_bytes(chunk_path(folder, chunk), content)
        done += 1
        if told:
            told(done, study.chunks)
    return folder


def _claim(study: Study, folder: Path) -> None:
    """Write the study's head into its folder; StudyError where another study lies there."""
    head = folder / HEAD
    try:
        text = head.read_text(encoding="utf-8") if head.exists() else ""
        kept = json.loads(text).get("digest") if text else None
    except (OSError, ValueError, AttributeError):
        kept = ""
    if kept is None:
        data = {
            "instrument": study.instrument.name,
            "digest": study.digest,
            "builds": study.builds,
            "seed": study.seed,
            "chunk": study.chunk,
        }
        write_text(head, json.dumps(data, indent=2, ensure_ascii=False) + "\n")
    elif kept != study.digest:
        raise StudyError(
            say("holds another study: another instrument, other scatters, builds or seed"),
            place=str(folder),
            remedy=say("Name another folder, or remove this one if you need it no more."),
        )
