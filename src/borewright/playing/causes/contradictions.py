"""Observations that do not go with the rest, told openly."""

from __future__ import annotations

import numpy as np
from scipy.stats import chi2

from borewright.playing.causes.believed import Belief
from borewright.playing.causes.evidence import Row
from borewright.words import Message, say

#: Standard errors from which a note or a reading stands apart from all others: by chance one
#: note in a thousand does, one reading in a hundred.
_NOTE, _READING = 3.3, 2.6
_CHANCE = 0.001
#: An explanation that is so many times likelier than another speaks against the other.
_TIMES = 10.0


def contradictions(belief: Belief, gauged: list[Row]) -> list[Message]:
    """Notes and readings that the likeliest explanation foretells from all others otherwise.

    Each is judged with itself left out: with C the covariance of all rows and z the rows, row i
    is foretold z_i - (C⁻¹z)_i / (C⁻¹)_ii, with the variance 1 / (C⁻¹)_ii.
    """
    evidence, posterior = belief.evidence, belief.posterior
    prior = belief.usual.copy()
    for k in posterior.sets[int(np.argmax(posterior.weights))]:
        if k < len(belief.found):
            suspect = belief.found[k]
            prior += suspect.spread**2 * np.outer(suspect.direction, suspect.direction)
    inverse = np.linalg.inv(evidence.slopes @ prior @ evidence.slopes.T + evidence.noise)
    pull, own = inverse @ evidence.observed, np.diag(inverse)
    found: list[Message] = []
    notes = len(belief.names)
    for row, name in enumerate(belief.names):
        if abs(pull[row]) > _NOTE * np.sqrt(own[row]):
            found.append(
                say(
                    "{note} lies {cents:+.0f} cents from what all else says: listen to it again",
                    note=name,
                    cents=pull[row] / own[row],
                )
            )
    for number, each in enumerate(gauged):
        row = notes + number
        if abs(pull[row]) > _READING * np.sqrt(own[row]):
            found.append(
                say(
                    "your takes speak against the reading of {what}: they expect {by:.2f} {unit} "
                    "less",
                    what=each.words,
                    by=pull[row] / own[row],
                    unit=each.unit,
                )
                if pull[row] > 0
                else say(
                    "your takes speak against the reading of {what}: they expect {by:.2f} {unit} "
                    "more",
                    what=each.words,
                    by=-pull[row] / own[row],
                    unit=each.unit,
                )
            )
    misfit = float(evidence.observed @ pull)
    if not found and misfit > chi2.ppf(1 - _CHANCE, len(evidence.observed)):
        found.append(
            say("no one, two or three of these causes explain the takes well: doubt them all")
        )
    return found


def against_a_leak(tight: Belief, leaky: Belief) -> float | None:
    """How many times likelier the takes are without a leak; None where they are not clearly."""
    times = float(np.exp(min(tight.posterior.log_evidence - leaky.posterior.log_evidence, 50.0)))
    return times if times > _TIMES else None
