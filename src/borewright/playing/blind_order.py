"""A blind order list: who hands over which instrument knows, who plays does not."""

from __future__ import annotations

import random

from borewright.errors import PlayingError
from borewright.model.base import Entity
from borewright.words import say

MOST_PAIRS = 500


class BlindTake(Entity):
    """One take of the list; ``thing`` stands in the helper's key only."""

    take: int
    pair: int
    thing: str


def blind_order(first: str, second: str, pairs: int, seed: int) -> list[BlindTake]:
    """Takes in pairs, each pair in random order, as many begun by one as by the other.

    Parameters
    ----------
    first, second
        What is compared.
    pairs
        Number of pairs.
    seed
        Any whole number; the same number gives the same list.
    """
    if not 1 <= pairs <= MOST_PAIRS:
        raise PlayingError(
            say("{pairs} pairs cannot be listed", pairs=pairs),
            place=say("blind order"),
            remedy=say("Ask for 1 to {MOST_PAIRS}.", MOST_PAIRS=MOST_PAIRS),
        )
    if first == second:
        raise PlayingError(
            say("'{first}' cannot be compared with itself", first=first),
            place=say("blind order"),
            remedy=say("Name two."),
        )
    dice = random.Random(seed)
    starts = [number % 2 == 0 for number in range(pairs)]
    if pairs % 2 and dice.random() < 0.5:
        starts = [not start for start in starts]
    dice.shuffle(starts)
    found = []
    for number, start in enumerate(starts):
        things = (first, second) if start else (second, first)
        found += [
            BlindTake(take=2 * number + place + 1, pair=number + 1, thing=thing)
            for place, thing in enumerate(things)
        ]
    return found
