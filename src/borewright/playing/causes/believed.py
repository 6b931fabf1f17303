"""What is believed of an instrument after its takes and readings: the joint model, settled."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from borewright.model import Instrument
from borewright.playing.causes.evidence import Evidence, Observations
from borewright.playing.causes.posterior import Posterior
from borewright.playing.causes.suspects import Suspect, suspects

#: Rounds of making the model straight about what is believed; a fault of half a millimetre
#: bends it by a few cents, and two rounds leave less than a tenth of one.
_ROUNDS = 3
_SETTLED_CENTS = 0.2
#: No round goes further than this: takes that no instrument explains lead astray.
_FURTHEST_CENTS = 40.0


@dataclass(frozen=True)
class Belief:
    """The posterior, with what it was made of."""

    posterior: Posterior
    found: list[Suspect]
    evidence: Evidence
    usual: np.ndarray  # [X, X]
    point: np.ndarray  # [X] about which the model was made straight
    names: list[str]  # of the notes, the first rows

    def own_cents(self, observations: Observations) -> tuple[np.ndarray, np.ndarray]:
        """The recorded notes as the instrument itself sounds them: cents [F], covariance [F, F].

        Climate and player are those of the design; what the model leaves open of each note
        counts as unknown.
        """
        sounding = observations.sounding
        mean, covariance = self.posterior.moments()
        own = sounding.unknowns.own()
        cents, slopes = sounding.at(mean * own, observations.rows)
        slopes = slopes * own
        spread = slopes @ covariance @ slopes.T
        return cents, spread + sounding.model_cents**2 * np.eye(len(cents))

    def strange_cents(self, observations: Observations) -> np.ndarray:
        """What day and player are believed to add to the recorded notes, [F]."""
        mean, _ = self.posterior.moments()
        slopes = self.evidence.slopes[: len(observations.rows)]
        added: np.ndarray = slopes @ (mean * (1 - observations.sounding.unknowns.own()))
        return added


def believed(
    instrument: Instrument,
    observations: Observations,
    usual: np.ndarray,
    leaks: Collection[str] = (),
) -> Belief:
    """Settle the joint model: straight about the likeliest explanation, again and again.

    Parameters
    ----------
    instrument
        As drawn.
    observations
        Of this instrument.
    usual
        Covariance [X, X] of unknowns while nothing is wrong.
    leaks
        Holes that stand for leaks.
    """
    sounding = observations.sounding
    point = np.zeros(sounding.unknowns.count)
    evidence = observations.about(point)
    count = len(observations.rows)
    found = suspects(instrument, sounding.unknowns, evidence.slopes[:count], leaks)
    posterior = Posterior(usual, found, *evidence)
    for _ in range(_ROUNDS):
        following = posterior.likeliest()
        moved = evidence.slopes[:count] @ (following - point)
        far = float(np.abs(moved).max())
        if far < _SETTLED_CENTS:
            break
        point = point + (following - point) * min(1.0, _FURTHEST_CENTS / far)
        evidence = observations.about(point)
        posterior = Posterior(usual, found, *evidence)
    return Belief(posterior, found, evidence, usual, point, observations.names)
