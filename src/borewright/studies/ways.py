"""Other ways of making - a finer nozzle, a reamer, a jig - and which of them to take together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from borewright.acoustics.builds import frequencies_of_builds
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.model import Doubts, Spread
from borewright.model.dimensions import MEASURES
from borewright.model.results.yields import WayYield
from borewright.studies.culprits import kind_words
from borewright.studies.sample import Sample
from borewright.words import Message, say

#: Ways taken together, at most; builds that combinations are judged by.
TOGETHER, BUILDS = 4, 4_096
#: What a maker looks at first stands first.
_IN_ORDER = ["bore_diameter", "diameter", *(m for m in MEASURES if not m.endswith("diameter"))]
_IN_ORDER += ["undercut_diameter"]
#: Builds of a way that are solved anew: one batch of the kernel.
CHECKED = 256


@dataclass(frozen=True)
class Way:
    """Another way of making some kinds of dimensions: what they scatter then (mm)."""

    name: str
    scatter: dict[str, Spread]

    def over(self, making: Doubts) -> Doubts:
        """Scatters with this way taken: whatever of two is the smaller in all stays."""
        changes = {
            measure: spread
            for measure, spread in self.scatter.items()
            if _size(spread) < _size(making.of(measure))
        }
        return making.model_copy(update=changes)

    def changes(self, making: Doubts) -> list[Message]:
        """What changes by it, in words."""
        return [
            say(
                "{kind}: all alike {was_common:.3f} → {common:.3f} mm, each {was:.3f} → "
                "{each:.3f} mm",
                kind=kind_words(measure),
                was_common=making.of(measure).common,
                common=self.over(making).of(measure).common,
                was=making.of(measure).each,
                each=self.over(making).of(measure).each,
            )
            for measure in sorted(self.scatter, key=_IN_ORDER.index)
            if self.over(making).of(measure) != making.of(measure)
        ]


def _size(spread: Spread) -> float:
    return math.hypot(spread.common, spread.each)


def way_yield(sample: Sample, ways: Sequence[Way], *, checked: bool = False) -> WayYield:
    """The yield with one way or several taken together; none of them is the way it is made now.

    ``checked`` solves some builds anew and tells how far off the moved ones are.
    """
    now = sample.study.making
    making = now
    for way in ways:
        making = way.over(making)
    cents = sample.moved(making)
    judge = sample.judge
    off_by = judge.deviations(cents)
    outside, hopeless = judge.off(off_by), judge.beyond(off_by)
    tunable = outside.any(axis=1) & ~hopeless
    return WayYield(
        name=" + ".join(way.name for way in ways),
        what=[each for way in ways for each in way.changes(now)],
        what_if=sample.compared(cents),
        notes_off=float(outside[tunable].sum() / len(cents)),
        beyond=float(hopeless.mean()),
        checked_cents=_checked(sample, making, cents) if checked else None,
    )


def _checked(sample: Sample, making: Doubts, cents: np.ndarray) -> float:
    rows = min(CHECKED, len(cents))
    study = sample.study.with_making(making, sample.study.builds)
    found, _ = frequencies_of_builds(study.request, *study.values(0, rows))
    anew = (CENTS_PER_LOG * np.log(found / study.target_hz))[:, sample.judge.counted]
    return float(np.sqrt(np.nanmean((anew - cents[:rows]) ** 2)))


def taken_together(
    sample: Sample, ways: Sequence[Way]
) -> Iterator[tuple[tuple[int, ...], WayYield]]:
    """Every choice of up to four ways with its yield, by their numbers; none comes first."""
    few = sample.head(BUILDS)
    for count in range(min(TOGETHER, len(ways)) + 1):
        for chosen in combinations(range(len(ways)), count):
            yield chosen, way_yield(few, [ways[n] for n in chosen])
