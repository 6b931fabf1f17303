"""Variance components by restricted maximum likelihood, right at the edge where one is nothing.

y = X b + sum of Z_k u_k + e with independent u_k of variance s_k² and e of variance s². Of few
takes a component is often nothing at all; a search in its square root, held at 0 or above from
several starts, ends there too (general optimisers of mixed models stop far away). Criterion:
Patterson and Thompson, Biometrika 58 (1971) 545, profiled over s² and b.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

_STARTS = (0.05, 0.5, 2.0)
#: A component below this share of the rest's deviation counts as none.
_NONE = 1e-3


class Components(NamedTuple):
    """Fixed effects with their covariance, and standard deviations of what varies."""

    fixed: np.ndarray  # [P]
    covariance: np.ndarray  # [P, P]
    deviations: dict[str, float]
    rest: float


def components(
    values: np.ndarray, fixed: np.ndarray, groups: Mapping[str, np.ndarray]
) -> Components:
    """Fit values [N] with fixed effects [N, P] and a random effect for every group's level.

    Parameters
    ----------
    values, fixed
        Observations, and a design matrix of full rank with fewer columns than rows.
    groups
        By name, the level [N] (any labels) that every observation belongs to.
    """
    from scipy.optimize import minimize

    names, levels = list(groups), []
    owner: list[int] = []
    for number, name in enumerate(names):
        _, at = np.unique(groups[name], return_inverse=True)
        levels.append(np.eye(int(at.max()) + 1)[at])
        owner += [number] * (int(at.max()) + 1)
    random = np.concatenate(levels, axis=1) if levels else np.zeros((len(values), 0))
    owners = np.array(owner, dtype=int)
    both = np.column_stack([fixed, values])
    inner, cross, whole = random.T @ random, random.T @ both, both.T @ both
    freedom = len(values) - fixed.shape[1]

    def solved(roots: np.ndarray) -> tuple[float, np.ndarray, np.ndarray, float]:
        """The criterion, X'V⁻¹X, b and s², at deviations relative to the rest's."""
        own = np.abs(roots)[owners]
        lower = np.linalg.cholesky(np.eye(len(own)) + own[:, None] * inner * own)
        white = np.linalg.solve(lower, own[:, None] * cross)
        total = whole - white.T @ white
        information = total[:-1, :-1]
        effects = np.linalg.solve(information, total[:-1, -1])
        left = float(total[-1, -1] - total[:-1, -1] @ effects)
        variance = max(left / freedom, 1e-12)
        criterion = (
            freedom * np.log(variance)
            + 2 * float(np.sum(np.log(np.diag(lower))))
            + float(np.linalg.slogdet(information)[1])
        )
        return criterion, information, effects, variance

    best = np.zeros(len(names))
    if names:
        trials = [
            minimize(lambda roots: solved(roots)[0], np.full(len(names), start),
                     method="L-BFGS-B", bounds=[(0.0, 1e3)] * len(names))
            for start in _STARTS
        ]  # fmt: skip
        best = min(trials, key=lambda trial: float(trial.fun)).x
        best = np.where(best < _NONE, 0.0, best)
    _, information, effects, variance = solved(best)
    rest = float(np.sqrt(variance))
    return Components(
        fixed=effects,
        covariance=variance * np.linalg.inv(information),
        deviations={name: float(root) * rest for name, root in zip(names, best, strict=True)},
        rest=rest,
    )
