"""Exact Bayesian linear algebra over no fault, single faults, pairs, and the likeliest threes.

Unknowns x ~ N(0, B) while nothing is wrong; a set h of faults adds directions e_k with
amounts g_k ~ N(0, spread_k²). Observations z = H x + noise. With C = H B H' + noise and u_k =
H e_k spread_k, a set's evidence is

    log p(z | h) = const + ½ b' S b + ½ log det S,  S = (1 + U' C⁻¹ U)⁻¹,  b = U' C⁻¹ z,

(the matrix determinant and inversion lemmas), so that thousands of sets cost one product. The
posterior is a mixture of Gaussians, one for every set, weighted by evidence times odds.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
from scipy.special import logsumexp, ndtr

from borewright.playing.causes.suspects import Suspect

#: So many likeliest pairs are tried with every third fault.
_BEAM = 40
_MOST = 3
#: Sets below this share of the likeliest count no longer.
_NEGLIGIBLE = 1e-7


class Posterior:
    """What is believed after observations.

    Parameters
    ----------
    usual
        Covariance B [X, X].
    found
        Suspects, K of them.
    slopes, observed, noise
        H [R, X], z [R], and the noise's covariance [R, R].

    Attributes
    ----------
    sets
        Faults of every set, [S, 3]; K stands for none.
    weights
        Probability of every set, [S].
    log_evidence
        Of all observations, up to a constant that is the same for equal rows.
    """

    def __init__(
        self,
        usual: np.ndarray,
        found: Sequence[Suspect],
        slopes: np.ndarray,
        observed: np.ndarray,
        noise: np.ndarray,
    ) -> None:
        self._count = len(found)
        directions = np.stack([each.spread * each.direction for each in found], axis=1)
        effects = slopes @ directions
        plain = slopes @ usual @ slopes.T + noise
        inverse = np.linalg.inv(plain)
        gain = usual @ slopes.T @ inverse  # [X, R]
        self._base = gain @ observed
        self._covariance = usual - gain @ slopes @ usual
        # One more column, of no effect, stands for no fault.
        pad = ((0, 0), (0, 1))
        self._loads = np.pad(directions - gain @ effects, pad)
        effects = np.pad(effects, pad)
        self._gram, self._right = effects.T @ inverse @ effects, effects.T @ inverse @ observed
        self._prior = np.append(np.log([each.odds for each in found]), 0.0)
        sets = self._first_sets()
        scores = self._score(sets)[0]
        sets = np.concatenate([sets, self._threes(sets, scores)])
        scores, self._shrink, self._amounts = self._score(sets)
        total = float(logsumexp(scores))
        weights = np.exp(scores - total)
        # The prior odds of all sets sum to about the same whatever was observed.
        misfit = float(observed @ inverse @ observed) + float(np.linalg.slogdet(plain)[1])
        self.log_evidence = total - 0.5 * misfit
        kept = weights > _NEGLIGIBLE * weights.max()
        self.sets, self.weights = sets[kept], weights[kept] / weights[kept].sum()
        self._shrink, self._amounts = self._shrink[kept], self._amounts[kept]

    def _first_sets(self) -> np.ndarray:
        none = self._count
        singles = [(k, none, none) for k in range(none + 1)]
        pairs = [(i, j, none) for i, j in itertools.combinations(range(none), 2)]
        return np.array(singles + pairs)

    def _threes(self, sets: np.ndarray, scores: np.ndarray) -> np.ndarray:
        none = self._count
        pairs = np.flatnonzero(sets[:, 1] < none)
        best = pairs[np.argsort(-scores[pairs])[:_BEAM]]
        found = {
            tuple(sorted((*sets[row, :2].tolist(), k)))
            for row in best
            for k in range(none)
            if k not in sets[row, :2]
        }
        return np.array(sorted(found), dtype=int).reshape(-1, _MOST)

    def _score(self, sets: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Log of evidence times odds [S], covariances [S, 3, 3] and means [S, 3] of amounts."""
        gram = self._gram[sets[:, :, None], sets[:, None, :]]
        right = self._right[sets]
        shrink = np.linalg.inv(np.eye(_MOST) + gram)
        amounts = np.einsum("sij,sj->si", shrink, right)
        evidence = 0.5 * np.sum(right * amounts, axis=1)
        evidence = evidence - 0.5 * np.linalg.slogdet(np.eye(_MOST) + gram)[1]
        return evidence + self._prior[sets].sum(axis=1), shrink, amounts

    def probability(self, suspect: int) -> float:
        """That this fault is among those present."""
        return float(self.weights[(self.sets == suspect).any(axis=1)].sum())

    def moments(self) -> tuple[np.ndarray, np.ndarray]:
        """Mean [X] and covariance [X, X] of all unknowns over the whole mixture."""
        size = self._count + 1
        mean, square = np.zeros(size), np.zeros((size, size))
        np.add.at(mean, self.sets, self.weights[:, None] * self._amounts)
        both = self._shrink + self._amounts[:, :, None] * self._amounts[:, None, :]
        rows, columns = self.sets[:, :, None], self.sets[:, None, :]
        np.add.at(
            square,
            (np.broadcast_to(rows, both.shape), np.broadcast_to(columns, both.shape)),
            self.weights[:, None, None] * both,
        )
        mean[-1], square[-1], square[:, -1] = 0.0, 0.0, 0.0
        spread = square - np.outer(mean, mean)
        return (
            self._base + self._loads @ mean,
            self._covariance + self._loads @ spread @ self._loads.T,
        )

    def likeliest(self) -> np.ndarray:
        """Mean [X] of all unknowns under the likeliest set."""
        return self.mean(int(np.argmax(self.weights)))

    def mean(self, row: int) -> np.ndarray:
        """Mean [X] of all unknowns under one set."""
        point: np.ndarray = self._base + self._loads[:, self.sets[row]] @ self._amounts[row]
        return point

    def joint(self, reads: np.ndarray, rows: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Means [S, R] and covariances [S, R, R] of several quantities [R, X], under sets."""
        loads = np.moveaxis((reads @ self._loads)[:, self.sets[rows]], 0, 1)  # [S, R, 3]
        mean = reads @ self._base + np.einsum("srk,sk->sr", loads, self._amounts[rows])
        spread = np.einsum("srk,skl,stl->srt", loads, self._shrink[rows], loads)
        return mean, spread + reads @ self._covariance @ reads.T

    def components(self, quantity: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Mean and standard deviation [S] of a quantity [X] under every set."""
        loads = (quantity @ self._loads)[self.sets]
        mean = quantity @ self._base + np.sum(loads * self._amounts, axis=1)
        variance = quantity @ self._covariance @ quantity
        variance = variance + np.einsum("si,sij,sj->s", loads, self._shrink, loads)
        return mean, np.sqrt(np.maximum(variance, 1e-18))

    def quantile(
        self, quantity: np.ndarray, share: float, given: np.ndarray | None = None
    ) -> float:
        """Below which a quantity [X] lies with this probability; ``given`` some sets [S] only."""
        weights = self.weights if given is None else np.where(given, self.weights, 0.0)
        weights = weights / weights.sum()
        mean, deviation = self.components(quantity)
        low, high = float((mean - 9 * deviation).min()), float((mean + 9 * deviation).max())
        for _ in range(60):
            middle = (low + high) / 2
            below = float(weights @ ndtr((middle - mean) / deviation))
            low, high = (middle, high) if below < share else (low, middle)
        return (low + high) / 2

    def having(self, suspect: int) -> np.ndarray:
        """Which sets [S] hold this fault."""
        found: np.ndarray = (self.sets == suspect).any(axis=1)
        return found

    def amount(self, suspect: int) -> float:
        """Mean amount of a fault, in its own spread, given that it is present."""
        held = self.sets == suspect
        weights = self.weights[:, None] * held
        return float(np.sum(weights * self._amounts) / max(float(weights.sum()), 1e-300))
