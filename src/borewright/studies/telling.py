"""Which few notes to try first: they give away nearly every instrument that needs work."""

from __future__ import annotations

import numpy as np

from borewright.studies.sample import Sample

MOST_NOTES, ENOUGH = 5, 0.95


def telling_notes(sample: Sample) -> tuple[list[str], float]:
    """Names of notes, and the share of builds with a fault that one of them shows (greedy)."""
    judge = sample.judge
    outside = judge.off(judge.deviations(sample.cents))
    faulty = outside[outside.any(axis=1)]
    if not len(faulty):
        return [], 1.0
    names: list[str] = []
    seen = np.zeros(len(faulty), dtype=bool)
    while len(names) < MOST_NOTES and seen.mean() < ENOUGH:
        best = int(np.argmax(faulty[~seen].sum(axis=0)))
        names.append(judge.names[best])
        seen |= faulty[:, best]
    return names, float(seen.mean())
