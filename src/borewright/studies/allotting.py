"""What every kind of dimension may scatter so that a wanted share of a batch will do.

Least cost, where halving any scatter costs alike in proportion (cost as 1/σ, the reciprocal law
of tolerance and cost; from memory). To first order the notes' mean variance is Σ vₖ rₖ², each rₖ
being what is left of a kind's scatter; the least Σ 1/rₖ at a given variance has rₖ as
vₖ^(-1/3) (Lagrange), none above 1. How far down is asked of the builds themselves.
"""

from __future__ import annotations

import numpy as np

from borewright.model import Doubts
from borewright.model.results.yields import Allotment, Allotted, Culprit
from borewright.studies.culprits import changed, kind_words
from borewright.studies.draws import spreads
from borewright.studies.sample import Sample

_HALVINGS = 24


def left_of_scatters(variances: np.ndarray, level: float) -> np.ndarray:
    """What is left of each kind's scatter (0 to 1) at a level (0 nothing, 1 much of the worst).

    ``variances`` [kinds] are the kinds' shares; a kind without any keeps its scatter.
    """
    with np.errstate(divide="ignore"):
        wanted = np.where(variances > 0, level * np.power(variances, -1 / 3), np.inf)
    left: np.ndarray = np.minimum(1.0, wanted)
    return left


def allotment_of(sample: Sample, culprits: list[Culprit], wanted: float) -> Allotment:
    """Scatters for a wanted yield (0 to 1); none is loosened.

    ``reached`` is False where the design itself is in the way: even without any scatter too few
    builds would do.
    """
    study = sample.study
    variances = np.array(
        [sum(c.variance_share for c in culprits if c.measure == kind) for kind in study.kinds]
    )
    low, high = 0.0, 1.0
    if sample.what_if(study.making).share.value >= wanted:
        left = np.ones(len(variances))
        reached = True
    else:
        reached = sample.what_if(_scaled(sample, np.zeros(len(variances)))).share.value >= wanted
        for _ in range(_HALVINGS if reached else 0):
            middle = (low + high) / 2
            share = sample.what_if(_scaled(sample, left_of_scatters(variances, middle))).share
            low, high = (middle, high) if share.value >= wanted else (low, middle)
        left = left_of_scatters(variances, low) if reached else np.zeros(len(variances))
    making = _scaled(sample, left)
    old, new = spreads(study.kinds, study.making), spreads(study.kinds, making)
    return Allotment(
        wanted=wanted,
        reached=reached,
        kinds=[
            Allotted(
                measure=kind,
                what=kind_words(kind),
                now_common_mm=float(old[0][n]),
                now_each_mm=float(old[1][n]),
                common_mm=float(new[0][n]),
                each_mm=float(new[1][n]),
            )
            for n, kind in enumerate(study.kinds)
            if old[0][n] or old[1][n]
        ],
        share=sample.what_if(making).share,
    )


def _scaled(sample: Sample, left: np.ndarray) -> Doubts:
    making = sample.study.making
    for kind, share in zip(sample.study.kinds, left, strict=True):
        spread = sample.study.making.of(kind)
        making = changed(making, kind, float(share) * spread.common, float(share) * spread.each)
    return making
