"""One worker of this machine against two, on the shipped clarinet: builds a second.

    python benchmarks/study_workers.py [CHUNKS]

Each run begins on warm workers (a first chunk a worker is not counted); the load of the machine
before it is told, since whatever else runs takes its share.
"""

from __future__ import annotations

import os
import sys
import time
from importlib.resources import files
from pathlib import Path

from borewright.model import Doubts, load, read_fingerings
from borewright.studies import Study, spread_over, study_of

CLARINET = Path(str(files("borewright"))) / "examples" / "loan-clarinet" / "clarinet.toml"


def builds_a_second(study: Study, workers: int, chunks: int) -> float:
    with spread_over(workers) as solving:
        # Two chunks a worker, so that each has compiled or read its kernels.
        for _ in solving(study, range(2 * workers)):
            pass
        print(f"load before {workers}: {os.getloadavg()[0]:.2f}", flush=True)
        start = time.perf_counter()
        count = sum(1 for _ in solving(study, range(2 * workers, 2 * workers + chunks)))
        return count * study.chunk / (time.perf_counter() - start)


def main() -> None:
    chunks = int(sys.argv[1]) if len(sys.argv) > 1 else 8
    instrument = load(CLARINET)
    table = read_fingerings(CLARINET.parent / instrument.fingerings)
    study = study_of(instrument, table, Doubts(), builds=1024 * 1024)
    one, two = (builds_a_second(study, workers, chunks) for workers in (1, 2))
    print(f"one worker {one:.0f} builds/s, two workers {two:.0f}: {two / one:.2f} times")


if __name__ == "__main__":
    main()
