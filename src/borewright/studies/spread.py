"""Chunks on several workers: a cluster of this machine, or whatever a scheduler has.

A chunk is a task of its own that holds nothing but the study and its number, so a worker that is
lost costs its chunk only: the scheduler gives it to another, and its bytes are the same.
"""

from __future__ import annotations

import logging
import pickle
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from borewright.errors import StudyError
from borewright.studies.chunks import solve_chunk
from borewright.studies.plan import Study
from borewright.studies.running import Solving
from borewright.words import say

#: Chunks that wait for a worker, a worker: enough that none is idle, few enough for any memory.
_AHEAD = 2
#: A scheduler answers within this (s).
REACHED_S = 15


@contextmanager
def spread_over(workers: int = 0, address: str | None = None) -> Iterator[Solving]:
    """Who solves chunks on workers, for :func:`run_study`.

    Parameters
    ----------
    workers
        How many processes of this machine, one core each.
    address
        An existing scheduler, as ``tcp://host:8786``, in place of this machine.

    Raises
    ------
    StudyError
        Where the extra ``cluster`` is missing, no scheduler answers, its workers have another
        Borewright, or a chunk is lost again and again.
    """
    try:
        import distributed
    except ImportError as error:
        raise StudyError(
            say("workers need Dask, which is not installed"),
            place=say("workers"),
            remedy=say('Install it with: pip install "borewright[cluster]".'),
        ) from error
    from borewright.studies.one_core import OneCore

    with tempfile.TemporaryDirectory(prefix="borewright-") as folder, _quiet():
        if address is None:
            with (
                distributed.LocalCluster(
                    n_workers=workers, threads_per_worker=1, processes=True,
                    silence_logs=logging.CRITICAL, host="127.0.0.1",
                    dashboard_address="127.0.0.1:0", local_directory=folder,
                ) as cluster,
                distributed.Client(cluster) as client,
            ):  # fmt: skip
                client.register_plugin(OneCore(), name="one core")
                yield _solving(client)
            return
        try:
            client = distributed.Client(address, timeout=REACHED_S)
        except (OSError, ValueError, TypeError) as error:
            raise StudyError(
                say("no scheduler answers"),
                place=address[:200],
                remedy=say("Start one there, or leave the address out to use this machine."),
            ) from error
        with client:
            _check_workers(client, address)
            yield _solving(client)


def _solving(client: Any) -> Solving:
    def solving(study: Study, chunks: Sequence[int]) -> Iterator[tuple[int, bytes]]:
        from distributed import KilledWorker, as_completed

        # A task, not data: where its worker is lost it is simply done again elsewhere.
        kept = client.submit(pickle.loads, pickle.dumps(study), key=f"study-{study.digest}")
        left = iter(chunks)

        def submitted() -> list[Any]:
            chunk = next(left, None)
            if chunk is None:
                return []
            key = f"chunk-{study.digest}-{chunk}"
            future = client.submit(_solved, kept, chunk, key=key)
            return [future]

        ahead = _AHEAD * max(1, len(client.scheduler_info(n_workers=-1)["workers"]))
        running = as_completed([each for _ in range(ahead) for each in submitted()])
        for future in running:
            try:
                chunk, content = future.result()
            except KilledWorker as error:
                raise StudyError(
                    say("a chunk lost its worker again and again, as where memory runs out"),
                    place=say("workers"),
                    remedy=say("Take fewer workers; what is solved so far is kept with --keep."),
                ) from error
            future.release()
            for each in submitted():
                running.add(each)
            yield chunk, content

    return solving


def _solved(study: Study, chunk: int) -> tuple[int, bytes]:
    return chunk, solve_chunk(study, chunk)


def _release() -> str:
    from importlib.metadata import version

    return version("borewright")


def _check_workers(client: Any, address: str) -> None:
    """Workers are there and have this very Borewright."""
    found = client.run(_release, on_error="return")
    own = _release()
    others = sorted({str(each) for each in found.values() if each != own})
    if not found or others:
        raise StudyError(
            say("has no workers")
            if not found
            else say(
                "has workers with another Borewright: {others}, here it is {own}",
                others=", ".join(others)[:200],
                own=own,
            ),
            place=address[:200],
            remedy=say("Start workers there from an environment like this one."),
        )


@contextmanager
def _quiet() -> Iterator[None]:
    """What workers say of their own coming and going is for nobody's eyes."""
    logger = logging.getLogger("distributed")
    before = logger.level
    logger.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        logger.setLevel(before)
