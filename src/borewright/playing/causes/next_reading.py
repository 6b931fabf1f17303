"""Which reading would decide most between the causes that are left.

Each candidate's outcome is foretold by every set of faults; over these outcomes, how often
would the likeliest cause then be the true one? Outcomes of one number are summed on a grid,
those of several readings together over a sample with a fixed seed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from borewright.playing.causes.believed import Belief
from borewright.playing.causes.readings_to_take import Candidate

#: Outcomes of one number are summed at so many places, those of several over so many that are
#: drawn, all over so many of the likeliest sets.
_PLACES, _DRAWN, _SETS = 81, 250, 250


@dataclass(frozen=True)
class Worth:
    """What a reading would bring: how often the first cause is right, now and after it."""

    candidate: Candidate
    right_now: float
    right_after: float
    bits: float  # expected information about the set of faults


def worths(belief: Belief, found: Sequence[Candidate]) -> list[Worth]:
    """All candidates, the one that decides most first; of equals the quickest."""
    posterior = belief.posterior
    top = np.argsort(-posterior.weights)[:_SETS]
    weights = posterior.weights[top] / posterior.weights[top].sum()
    present = np.zeros((len(top), len(belief.found) + 1))
    present[np.arange(len(top))[:, None], posterior.sets[top]] = 1.0
    present = present[:, :-1]  # the last stands for no fault
    now = float((weights @ present).max())
    results = []
    for each in found:
        if len(each.reads) == 1:
            mean, deviation = posterior.components(each.reads[0])
            deviation = np.sqrt(deviation[top] ** 2 + each.noise[0, 0])
            shares, joint = _on_a_grid(weights, mean[top], deviation)
        else:
            shares, joint = _sampled(weights, *posterior.joint(each.reads, top), each.noise)
        after = float((joint @ present).max(axis=1).sum())
        results.append(Worth(each, now, max(after, now), _bits(weights, shares, joint)))
    results.sort(key=lambda w: (-round(w.right_after, 2), w.candidate.minutes, -w.bits))
    return results


def _on_a_grid(
    weights: np.ndarray, mean: np.ndarray, deviation: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Probabilities of outcomes [P], and of each together with each set [P, S]."""
    middle = float(weights @ mean)
    far = 5 * float(np.sqrt(weights @ (deviation**2 + (mean - middle) ** 2)))
    places = middle + np.linspace(-far, far, _PLACES)
    density = np.exp(-0.5 * ((places[:, None] - mean) / deviation) ** 2) / deviation
    # A narrow outcome may fall between places: every set keeps its whole weight.
    joint = density * (weights / np.maximum(density.sum(axis=0), 1e-300))
    return joint.sum(axis=1), joint


def _sampled(
    weights: np.ndarray, mean: np.ndarray, spread: np.ndarray, noise: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """The same for several rows at once, over outcomes drawn from what is believed."""
    generator = np.random.default_rng(0)
    root = np.linalg.cholesky(spread + noise)  # [S, R, R]
    drawn = generator.choice(len(weights), _DRAWN, p=weights)
    scatter = generator.normal(size=(_DRAWN, mean.shape[1]))
    outcomes = mean[drawn] + np.einsum("prk,pk->pr", root[drawn], scatter)
    white = np.einsum("srk,spk->spr", np.linalg.inv(root), outcomes[None] - mean[:, None])
    logs = -0.5 * np.sum(white**2, axis=2) - np.log(
        np.diagonal(root, axis1=1, axis2=2)
    ).sum(axis=1)[:, None]  # fmt: skip
    logs = logs.T + np.log(np.maximum(weights, 1e-300))
    beliefs = np.exp(logs - logs.max(axis=1, keepdims=True))
    beliefs /= beliefs.sum(axis=1, keepdims=True)
    return np.full(_DRAWN, 1 / _DRAWN), beliefs / _DRAWN


def _bits(weights: np.ndarray, shares: np.ndarray, joint: np.ndarray) -> float:
    """Expected information about the set of faults."""
    with np.errstate(divide="ignore", invalid="ignore"):
        terms = joint * np.log2(joint / (shares[:, None] * weights))
    return float(np.nansum(terms))
