"""The fitted figures: smooth sums over the solved shapes that they were fitted to.

Each figure is a straight trend in the part's ratios and a sum of Gaussian bumps, one at every
solved shape, whose widths differ by ratio: the mean of a Gaussian process (Rasmussen and
Williams, Gaussian Processes for Machine Learning, 2006, section 2.7). ``tools/hole_surrogate.py``
fits them and writes ``table.npz``.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.surrogate.families import PARTS


class Bumps(NamedTuple):
    """One figure of a part with d ratios and n solved shapes."""

    centres: Array  # [n, d] ratios
    middle: Array  # [d] subtracted from ratios first
    spread: Array  # [d] and divided by
    widths: Array  # [d] of the bumps, after that
    weights: Array  # [n]
    trend: Array  # [1 + d] constant and slopes


Table = dict[str, dict[str, Bumps]]


@lru_cache(maxsize=1)
def table() -> Table:
    """The fitted figures of all parts, by part and figure."""
    with _path().open("rb") as file, np.load(file) as stored:
        return {
            name: {
                figure: Bumps(
                    *(
                        jnp.asarray(stored[f"{name}/{figure}/{field}"], dtype=float)
                        for field in Bumps._fields
                    )
                )
                for figure in part.figures
            }
            for name, part in PARTS.items()
        }


@lru_cache(maxsize=1)
def cone_figures() -> np.ndarray:
    """Terms of conical bores, [4, 3]; see ``lengths.cone_lengths``."""
    with _path().open("rb") as file, np.load(file) as stored:
        return np.asarray(stored["cone"], dtype=float)


def _path() -> Traversable:
    return files("borewright.acoustics.surrogate") / "table.npz"


def evaluate(bumps: Bumps, at: Array) -> Array:
    """The figure at ratios [H, d]; [H]."""
    x = (at - bumps.middle) / bumps.spread
    centres = (bumps.centres - bumps.middle) / bumps.spread
    apart = (x[:, None, :] - centres[None]) / bumps.widths
    bump = jnp.exp(-jnp.sum(apart**2, axis=-1) / 2)
    return bump @ bumps.weights + bumps.trend[0] + x @ bumps.trend[1:]
