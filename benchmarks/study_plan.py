"""A large study on paper: chunks handed to workers that start late, differ, and are lost.

    python benchmarks/study_plan.py

An event a chunk, drawn with a fixed seed: a worker takes the next chunk when it is free; how long
it takes varies by a twentieth; a worker is lost once in so many hours on average, its chunk is
done again, and a new one starts. Rates are those that were measured; nothing is run.
"""

from __future__ import annotations

import heapq
from typing import NamedTuple

import numpy as np

BUILDS, BYTES = 10**9, 214


class Plan(NamedTuple):
    """Workers of one kind."""

    name: str
    workers: int
    rate: float  # builds a second and worker
    chunk: int  # builds
    start_s: float  # until a worker's kernels are compiled
    loss_h: float  # mean hours until a worker is lost


class Outcome(NamedTuple):
    """What a plan comes to."""

    hours: float
    busy: float  # share of the workers' time that ended in results
    again: int  # chunks done again


PLANS = (
    Plan("two-core machine", 2, 260, 1_024, 30, 500),
    Plan("64 cores on four servers", 64, 40, 1_024, 30, 200),
    Plan("one GPU", 1, 123_000, 16_384, 58, 100),
    Plan("eight GPUs", 8, 123_000, 16_384, 58, 100),
)


def simulated(plan: Plan, builds: int = BUILDS, seed: int = 1) -> Outcome:
    """Hours of the whole, by events; a chunk costs the scheduler a millisecond (from memory)."""
    generator = np.random.default_rng(seed)
    free = [(plan.start_s, worker) for worker in range(plan.workers)]
    lost_at = generator.exponential(3600 * plan.loss_h, plan.workers)
    heapq.heapify(free)
    left, again, last, scheduler = -(-builds // plan.chunk), 0, 0.0, 0.0
    mean = plan.chunk / plan.rate
    useful = left * mean
    while left:
        now, worker = heapq.heappop(free)
        scheduler = max(scheduler, now) + 1e-3
        ends = scheduler + mean * max(0.5, 1 + 0.05 * generator.standard_normal())
        if ends > lost_at[worker]:
            again += 1
            ends = max(now, lost_at[worker]) + plan.start_s
            lost_at[worker] = ends + generator.exponential(3600 * plan.loss_h)
        else:
            left -= 1
            last = max(last, ends)
        heapq.heappush(free, (ends, worker))
    return Outcome(last / 3600, useful / (last * plan.workers), again)


def main() -> None:
    print(f"{BUILDS:.0e} builds, {BUILDS * BYTES / 1e9:.0f} GB of Parquet")
    for plan in PLANS:
        found = simulated(plan)
        flow = BUILDS * BYTES / 1e6 / (3600 * found.hours)
        print(
            f"{plan.name}: {found.hours:.2f} h, workers busy {found.busy:.1%}, "
            f"{found.again} chunks again, {flow:.1f} MB/s"
        )


if __name__ == "__main__":
    main()
