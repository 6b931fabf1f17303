"""What is still open about the notes before a step, and which reading would close most of it.

A diagnosis asks for what decides between causes; before a cut another question counts: how far
may every note really be from what is believed of it? With the belief's covariance P of all
unknowns, the notes' slopes G and a reading R with noise N, the notes' covariance G P G' lessens
by G P R' (R P R' + N)⁻¹ R P G'.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from borewright.model import FingeringTable, Instrument
from borewright.model.results.advice import OpenQuestion
from borewright.playing.causes.believed import Belief
from borewright.playing.causes.evidence import Observations
from borewright.playing.causes.readings_to_take import Candidate, candidates
from borewright.playing.measured import MeasuredNote
from borewright.playing.readings import OF_ALL, Reading

#: A reading that brings less than this (cents) is not asked for; no more than so many are told.
_LEAST_CENTS, _MOST = 0.1, 3
#: Of two that bring as much, to this (cents), the quicker comes first.
_AS_GOOD_CENTS = 0.05


def open_questions(
    instrument: Instrument,
    fingerings: FingeringTable,
    observations: Observations,
    belief: Belief,
    measured: Mapping[str, MeasuredNote],
    weight: np.ndarray,
    readings: Sequence[Reading] = (),
) -> list[tuple[OpenQuestion, Candidate]]:
    """Readings not yet taken that would tell most about the recorded notes, the best first."""
    sounding = observations.sounding
    slopes = np.full((len(fingerings.fingerings), sounding.unknowns.count), np.nan)
    usable = sounding.usable()
    slopes[usable] = sounding.at(np.zeros(sounding.unknowns.count), usable)[1]
    error = float(np.median([measured[name].error for name in observations.names]))
    offered = candidates(instrument, fingerings, sounding, observations.rows, error, slopes)
    _, covariance = belief.posterior.moments()
    own = slopes[observations.rows] * sounding.unknowns.own()
    counted = weight >= 1.0
    variance = np.einsum("fx,xy,fy->f", own, covariance, own)[counted]
    now = _rms(variance)
    # Of mouthpiece, warmth and player once is enough: what stays open is not their scatter.
    known = {each.item for each in readings if each.item in OF_ALL}
    found = []
    for each in offered:
        if each.item in known:
            continue
        towards = own[counted] @ covariance @ each.reads.T
        own_spread = each.reads @ covariance @ each.reads.T + each.noise
        less = np.einsum("fr,rf->f", towards, np.linalg.solve(own_spread, towards.T))
        after = _rms(np.maximum(variance - less, 0.0))
        if now - after >= _LEAST_CENTS:
            question = OpenQuestion(
                words=each.words,
                item=str(each.item),
                part=each.part,
                hole=each.hole,
                station_mm=each.station_mm,
                minutes=each.minutes,
                open_now_cents=now,
                open_after_cents=after,
            )
            found.append((question, each))
    found.sort(key=lambda pair: (round(pair[0].open_after_cents / _AS_GOOD_CENTS), pair[0].minutes))
    return found[:_MOST]


def _rms(variance: Sequence[float] | np.ndarray) -> float:
    return float(np.sqrt(np.mean(variance)))
