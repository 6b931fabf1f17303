"""A worker of this machine keeps to one core; loaded only where Dask is there."""

from __future__ import annotations

import os
from typing import Any

from distributed import WorkerPlugin


class OneCore(WorkerPlugin):  # type: ignore[misc]
    """What a kernel would do on all cores is done by more workers instead."""

    def setup(self, worker: Any) -> None:
        """Before a worker's first chunk, and again where a lost one is started anew."""
        if hasattr(os, "sched_setaffinity"):
            cores = sorted(os.sched_getaffinity(os.getppid()))
            os.sched_setaffinity(0, {cores[int(worker.name) % len(cores)]})
