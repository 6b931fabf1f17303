"""Placing labels in a row so that none covers another."""

from __future__ import annotations

import itertools
from collections.abc import Sequence


def spread(
    wanted: Sequence[float], widths: Sequence[float], low: float, high: float
) -> tuple[list[float], list[int]]:
    """Positions and tiers of labels, each as near as possible to where it is wanted.

    Parameters
    ----------
    wanted, widths
        Where each label's centre should stand, in rising order, and how wide it is, gaps
        included (any one unit of length).
    low, high
        Where the row begins and ends.

    Returns
    -------
    tuple
        Centres, and tiers 0 or 1. One tier is used where all labels fit side by side;
        otherwise every second one goes to the tier above, and its leader line passes
        between its neighbours.
    """
    if not wanted:
        return [], []
    tiers = 1 if sum(widths) <= high - low else 2
    if tiers == 1:
        distances = [(a + b) / 2 for a, b in itertools.pairwise(widths)]
    else:
        distances = [max(a, b) / 2 for a, b in itertools.pairwise(widths)]
    room = high - low - (widths[0] + widths[-1]) / 2
    needed = sum(distances)
    if needed > room > 0:
        distances = [distance * room / needed for distance in distances]
    shifts = [0.0, *itertools.accumulate(distances)]
    nearest = _rising([want - shift for want, shift in zip(wanted, shifts, strict=True)])
    lowest = low + widths[0] / 2
    highest = max(lowest, high - widths[-1] / 2 - shifts[-1])
    centres = [
        min(max(value, lowest), highest) + shift
        for value, shift in zip(nearest, shifts, strict=True)
    ]
    return centres, [index % tiers for index in range(len(centres))]


def _rising(values: Sequence[float]) -> list[float]:
    """Least-squares fit by a sequence that never falls (pooling of adjacent violators)."""
    blocks: list[tuple[float, int]] = []
    for value in values:
        mean, count = value, 1
        while blocks and blocks[-1][0] > mean:
            previous, size = blocks.pop()
            mean = (previous * size + mean * count) / (size + count)
            count += size
        blocks.append((mean, count))
    return [mean for mean, count in blocks for _ in range(count)]
