"""What a batch of so many instruments will be like: they share a printer and a lot.

The mean comes from the builds of the study. Its range is that of many batches whose instruments
have their common scatter in common, by the derivatives (first order): a batch is all good or
all bad more often than independent instruments would be.
"""

from __future__ import annotations

import numpy as np

from borewright.model.results.yields import BatchOutlook
from borewright.studies.draws import spreads
from borewright.studies.judging import Judge
from borewright.studies.plan import Study

_BATCHES, _AT_ONCE = 2_000, 24_000
#: A stream of random numbers of its own, apart from every block of builds.
_STREAM = 2**32 - 1


def good_in_batches(study: Study, judge: Judge, instruments: int) -> np.ndarray:
    """How many are good in each of many batches, first order."""
    generator = np.random.default_rng(np.random.SeedSequence(study.seed, spawn_key=(_STREAM,)))
    common, each = spreads(study.kinds, study.making)
    shared = judge.slopes @ study.members.T * common  # [N, kinds]
    own = judge.slopes * (each @ study.members)  # [N, D]
    at_once = max(1, _AT_ONCE // instruments)
    counts: list[int] = []
    while len(counts) < _BATCHES:
        batches = min(at_once, _BATCHES - len(counts))
        together = generator.standard_normal((batches, shared.shape[1])) @ shared.T
        alone = generator.standard_normal((batches * instruments, own.shape[1])) @ own.T
        cents = judge.nominal_cents + np.repeat(together, instruments, axis=0) + alone
        counts += judge.good(cents).reshape(batches, instruments).sum(axis=1).tolist()
    return np.array(counts)


def outlook_of(study: Study, judge: Judge, instruments: int, share: float) -> BatchOutlook:
    """Mean by the yield, and the range of nine batches in ten."""
    counts = good_in_batches(study, judge, instruments)
    low, high = np.quantile(counts, [0.05, 0.95], method="inverted_cdf")
    return BatchOutlook(
        instruments=instruments, mean=share * instruments, low=int(low), high=int(high)
    )
