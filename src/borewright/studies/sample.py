"""Builds at hand with what each scatter does to them, so that what-ifs cost nothing.

A build's cents with other scatters are those the engine found, moved along the derivatives by
what changes: exact for the builds as drawn, first order in the change alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from borewright.model import Doubts
from borewright.model.results.yields import WhatIf
from borewright.studies.draws import spreads
from borewright.studies.judging import Judge
from borewright.studies.plan import Study
from borewright.studies.shares import Z95, share_of

#: Builds held at hand; more would make what-ifs surer than anybody's scatters are known.
MOST = 16_384


@dataclass(frozen=True)
class Sample:
    """The first builds of a study: cents [B, N] of counted notes, and effects of unit scatters."""

    study: Study
    judge: Judge
    cents: np.ndarray
    common: np.ndarray  # [kinds, B, N] cents for 1 mm of common scatter
    each: np.ndarray  # [kinds, B, N] cents for 1 mm of each's own
    was_good: np.ndarray  # [B]

    def moved(self, making: Doubts) -> np.ndarray:
        """Cents [B, N] of the same builds with other scatters."""
        old, new = spreads(self.study.kinds, self.study.making), spreads(self.study.kinds, making)
        cents = self.cents.copy()
        for kind, (common, each) in enumerate(zip(new[0] - old[0], new[1] - old[1], strict=True)):
            if common:
                cents += np.float32(common) * self.common[kind]
            if each:
                cents += np.float32(each) * self.each[kind]
        return cents

    def head(self, builds: int) -> Sample:
        """The first builds of these."""
        return Sample(
            self.study, self.judge, self.cents[:builds], self.common[:, :builds],
            self.each[:, :builds], self.was_good[:builds],
        )  # fmt: skip

    def what_if(self, making: Doubts) -> WhatIf:
        """The yield of the same builds with other scatters."""
        return self.compared(self.moved(making))

    def without(self, dimension: int) -> WhatIf:
        """The yield were this one dimension always right, what is common to its kind apart."""
        kind = int(np.argmax(self.study.members[:, dimension]))
        each = spreads(self.study.kinds, self.study.making)[1][kind]
        draws = self.study.draws(0, len(self.cents)).each[:, dimension]
        effect = np.outer(draws, self.judge.slopes[:, dimension])
        return self.compared(self.cents - (each * effect).astype(np.float32))

    def compared(self, cents: np.ndarray) -> WhatIf:
        """Other cents of the same builds against their own (paired counts)."""
        good, builds = self.judge.good(cents), len(cents)
        won, lost = int((good & ~self.was_good).sum()), int((~good & self.was_good).sum())
        gained = (won - lost) / builds
        # Variance of a difference of paired shares; Agresti, Categorical Data Analysis (2013),
        # section 11.1 (from memory). One added to each count keeps it above nothing.
        more, less = (won + 1) / (builds + 2), (lost + 1) / (builds + 2)
        error = math.sqrt((more + less - (more - less) ** 2) / builds)
        return WhatIf(share=share_of(int(good.sum()), builds), gained=gained, sure=Z95 * error)


def sample_of(study: Study, judge: Judge, cents: np.ndarray) -> Sample:
    """The sample of a study from cents [B, N] of the counted notes of its first builds."""
    builds = len(cents)
    draws = study.draws(0, builds)
    slopes = judge.slopes
    common = np.empty((len(study.kinds), builds, len(slopes)), np.float32)
    each = np.empty_like(common)
    for kind, members in enumerate(study.members):
        common[kind] = np.outer(draws.common[:, kind], slopes @ members)
        each[kind] = (draws.each * members) @ slopes.T
    own = cents.astype(np.float32)
    return Sample(study, judge, own, common, each, judge.good(own))
