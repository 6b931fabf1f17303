"""The fitted figures: smooth sums over the solved shapes that they were fitted to.

Each figure is a straight trend in the part's ratios and a sum of Gaussian bumps, one at every
solved shape, whose widths differ by ratio: the mean of a Gaussian process (Rasmussen and
Williams, Gaussian Processes for Machine Learning, 2006, section 2.7). ``tools/hole_surrogate.py``
fits them and writes ``table.npz``.
"""

from __future__ import annotations

from collections.abc import Mapping
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


class Near(NamedTuple):
    """A figure near given ratios of H holes: its value there, and how it goes with them."""

    value: np.ndarray | Array  # [H]
    slopes: np.ndarray | Array  # [H, d]
    at: np.ndarray | Array  # [H, d]


#: What a figure is read from: all bumps, or their sum near some holes.
Figures = Mapping[str, Mapping[str, Bumps | Near]]


def evaluate(figure: Bumps | Near, at: Array) -> Array:
    """The figure at ratios [H, d]; [H]."""
    if isinstance(figure, Near):
        return jnp.asarray(figure.value) + jnp.sum(figure.slopes * (at - figure.at), axis=-1)
    x = (at - figure.middle) / figure.spread
    centres = (figure.centres - figure.middle) / figure.spread
    apart = (x[:, None, :] - centres[None]) / figure.widths
    bump = jnp.exp(-jnp.sum(apart**2, axis=-1) / 2)
    return bump @ figure.weights + figure.trend[0] + x @ figure.trend[1:]


class _Scaled(NamedTuple):
    """Bumps in units of their widths."""

    centres: np.ndarray  # [n, d]
    squares: np.ndarray  # [n] half of their squared distances from the middle
    weights: np.ndarray  # [n]
    middle: np.ndarray  # [d]
    unit: np.ndarray  # [d] of the ratios
    trend: np.ndarray  # [d] slopes, by ratios
    constant: float


@lru_cache(maxsize=1)
def _scaled() -> dict[tuple[str, str], _Scaled]:
    found = {}
    for part, figures in table().items():
        for name, bumps in figures.items():
            centres, middle, spread, widths, weights, trend = (np.asarray(f) for f in bumps)
            scaled = (centres - middle) / (spread * widths)
            found[part, name] = _Scaled(
                scaled,
                np.sum(scaled**2, axis=1) / 2,
                weights,
                middle,
                spread * widths,
                trend[1:] / spread,
                float(trend[0]),
            )
    return found


def near(part: str, figure: str, at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Value [h] of a figure of the table at ratios [h, d], and its slopes [h, d].

    One product of matrices for all distances: rounding leaves 1e-12 of the largest bump.
    """
    bumps = _scaled()[part, figure]
    x = (at - bumps.middle) / bumps.unit
    exponent = x @ bumps.centres.T - bumps.squares - np.sum(x**2, axis=1)[:, None] / 2
    weighed = np.exp(np.minimum(exponent, 0.0)) * bumps.weights
    total = weighed.sum(axis=1)
    slopes = (weighed @ bumps.centres - total[:, None] * x) / bumps.unit + bumps.trend
    return total + bumps.constant + (at - bumps.middle) @ bumps.trend, slopes
