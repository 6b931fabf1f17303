"""Which scatter spoils a batch: by its share of the variance, and by the yield without it."""

from __future__ import annotations

import numpy as np

from borewright.model import Doubts, Spread, dimensions
from borewright.model.bores.dimension_words import dimension_words
from borewright.model.dimensions import MEASURES
from borewright.model.results.yields import Culprit
from borewright.studies.draws import spreads
from borewright.studies.sample import Sample
from borewright.words import Message, say

#: Single dimensions that are told.
SINGLES = 8


def kind_words(measure: str) -> Message:
    """What a maker calls all dimensions of a measure."""
    return _KINDS[measure]


_KINDS = {
    "length": say("lengths of bodies"),
    "bore_station": say("stations of bore steps"),
    "bore_diameter": say("bores"),
    "bore_length": say("lengths of bores"),
    "station": say("places of holes"),
    "diameter": say("diameters of holes"),
    "chimney": say("heights of chimneys"),
    "into_bore": say("tubes into the bore"),
    "lift": say("lifts of pads"),
    "undercut_diameter": say("diameters of undercuts"),
    "undercut_depth": say("depths of undercuts"),
}
assert set(_KINDS) == set(MEASURES)


def changed(making: Doubts, measure: str, common: float, each: float) -> Doubts:
    """The same scatters but for one kind (mm)."""
    return making.model_copy(update={measure: Spread(common=common, each=each)})


def culprits_of(sample: Sample) -> tuple[list[Culprit], list[Culprit]]:
    """Kinds, what is common told from what is each's own, and single dimensions, worst first."""
    study, slopes = sample.study, sample.judge.slopes
    common, each = spreads(study.kinds, study.making)
    whole = float(sum(_variances(slopes, study.members, common, each)))
    kinds: list[Culprit] = []
    singles: list[tuple[float, int]] = []
    for number, measure in enumerate(study.kinds):
        columns = study.members[number] > 0
        together = float(np.mean((common[number] * slopes[:, columns].sum(axis=1)) ** 2))
        alone = np.mean((each[number] * slopes[:, columns]) ** 2, axis=0)
        for shared, sigma, variance in (
            (True, common[number], together),
            (False, each[number], float(alone.sum())),
        ):
            if not sigma:
                continue
            left = changed(
                study.making,
                measure,
                0.0 if shared else float(common[number]),
                float(each[number]) if shared else 0.0,
            )
            kinds.append(
                Culprit(
                    what=_what(measure, shared),
                    measure=measure,
                    together=shared,
                    scatter_mm=float(sigma),
                    variance_share=variance / whole if whole else 0.0,
                    perfect=sample.what_if(left),
                )
            )
        singles += zip(alone.tolist(), np.flatnonzero(columns).tolist(), strict=True)
    kinds.sort(key=lambda one: -one.variance_share)
    worst = [one for one in sorted(singles, reverse=True)[:SINGLES] if one[0] > 0]
    return kinds, [_single(sample, column, variance / whole) for variance, column in worst]


def _variances(
    slopes: np.ndarray, members: np.ndarray, common: np.ndarray, each: np.ndarray
) -> list[float]:
    return [
        float(np.mean((c * (slopes @ m)) ** 2) + np.mean(((e * slopes * m) ** 2).sum(axis=1)))
        for m, c, e in zip(members, common, each, strict=True)
    ]


def _what(measure: str, together: bool) -> Message:
    if together:
        return say("{kind}, all alike", kind=kind_words(measure))
    return say("{kind}, each for itself", kind=kind_words(measure))


def _single(sample: Sample, column: int, share: float) -> Culprit:
    study = sample.study
    one = dimensions(study.instrument)[column]
    words = dimension_words(study.instrument)[column]
    kind = int(np.argmax(study.members[:, column]))
    return Culprit(
        what=words,
        measure=one.measure,
        dimension=str(words),
        scatter_mm=float(spreads(study.kinds, study.making)[1][kind]),
        variance_share=share,
        perfect=sample.without(column),
    )
