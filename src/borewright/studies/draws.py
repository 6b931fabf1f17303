"""Random numbers of a study: a block of builds has a seed of its own, so any can be drawn again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from borewright.model import Dimension, Doubts
from borewright.model.dimensions import MEASURES

#: Builds that share a seed. Chunks are whole blocks: their size changes no draw.
BLOCK = 1024
#: Bought in, not made with the body.
BOUGHT = "mouthpiece"


class Draws(NamedTuple):
    """Standard normal numbers of B builds: one a kind for what is common, one a dimension."""

    common: np.ndarray  # [B, kinds]
    each: np.ndarray  # [B, D]


def kinds_made(dimensions: Sequence[Dimension]) -> list[str]:
    """The measures that a workshop makes, in the order of ``MEASURES``."""
    present = {one.measure for one in dimensions if one.part != BOUGHT}
    return [measure for measure in MEASURES if measure in present]


def membership(dimensions: Sequence[Dimension]) -> np.ndarray:
    """1 where a dimension [D] is of a kind, [kinds, D]; a bought mouthpiece is of none."""
    return np.array(
        [
            [float(one.measure == kind and one.part != BOUGHT) for one in dimensions]
            for kind in kinds_made(dimensions)
        ]
    ).reshape(-1, len(dimensions))


def block_draws(seed: int, block: int, kinds: int, count: int) -> Draws:
    """The draws of one block, ``BLOCK`` builds, whatever chunk it belongs to."""
    generator = np.random.default_rng(np.random.SeedSequence(seed, spawn_key=(block,)))
    return Draws(
        generator.standard_normal((BLOCK, kinds)), generator.standard_normal((BLOCK, count))
    )


def draws_between(seed: int, start: int, stop: int, kinds: int, count: int) -> Draws:
    """The draws of builds ``start`` to ``stop`` (not included)."""
    blocks = range(start // BLOCK, -(-stop // BLOCK))
    drawn = [block_draws(seed, block, kinds, count) for block in blocks]
    first = start - BLOCK * blocks.start
    rows = slice(first, first + stop - start)
    return Draws(
        np.concatenate([one.common for one in drawn])[rows],
        np.concatenate([one.each for one in drawn])[rows],
    )


def spreads(kinds: Sequence[str], making: Doubts) -> tuple[np.ndarray, np.ndarray]:
    """Standard deviations (mm) by kind: common, each."""
    found = [making.of(kind) for kind in kinds]
    return np.array([s.common for s in found]), np.array([s.each for s in found])


def deviations(
    draws: Draws, members: np.ndarray, kinds: Sequence[str], making: Doubts
) -> np.ndarray:
    """How far every dimension of every build is off its design (mm), [B, D]."""
    common, each = spreads(kinds, making)
    off: np.ndarray = (draws.common * common) @ members + draws.each * (each @ members)
    return off
