"""Whether round outsides come out oval: axes of unequal scale, or out of square."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from borewright.model.base import Entity
from borewright.printing.lines import CONFIDENCE
from borewright.printing.measuring import MeasuredFeature

#: Girths below which nothing is said: with one alone there is no scatter.
_FEWEST_GIRTHS = 2


class Ovality(Entity):
    """How much wider than narrow outsides are, as a share of the diameter.

    ``widest_deg`` is the turn at which they are widest. ``sure`` is the radius of the 95 % region
    of both parts of the share together (Fisher's F): below it nothing oval is known.
    """

    share: float
    sure: float
    widest_deg: float
    girths: int

    def mm(self, diameter_mm: float) -> float:
        """Widest less narrowest diameter (mm)."""
        return self.share * diameter_mm


def ovality_of(readings: Sequence[MeasuredFeature]) -> Ovality | None:
    """From girths measured at 0, 45, 90 and 135 degrees; None from fewer than two of them.

    An ellipse differs by a·cos 2θ + b·sin 2θ: a from 0 against 90 degrees (axes of unequal
    scale), b from 45 against 135 (axes out of square); both grow with the diameter.
    """
    turns: dict[tuple[str, float], dict[int, list[float]]] = defaultdict(lambda: defaultdict(list))
    for one in readings:
        if one.feature.girth:
            size = one.feature.nominal_mm
            turns[one.feature.girth, size][one.feature.turn_deg].append(one.measured_mm)
    whole = {
        size: {turn: sum(found) / len(found) for turn, found in each.items()}
        for (_, size), each in turns.items()
        if set(each) >= {0, 45, 90, 135}
    }
    if len(whole) < _FEWEST_GIRTHS:
        return None
    sizes = list(whole)
    square = sum(size**2 for size in sizes)
    straight = [each[0] - each[90] for each in whole.values()]
    askew = [each[45] - each[135] for each in whole.values()]
    a, b = (
        sum(size * off for size, off in zip(sizes, offs, strict=True)) / square
        for offs in (straight, askew)
    )
    left = sum(
        (off - share * size) ** 2
        for share, offs in ((a, straight), (b, askew))
        for size, off in zip(sizes, offs, strict=True)
    )
    from scipy.stats import f as fisher

    degrees = 2 * (len(sizes) - 1)
    times = math.sqrt(2 * float(fisher.ppf(CONFIDENCE, 2, degrees)))
    return Ovality(
        share=math.hypot(a, b),
        sure=times * math.sqrt(left / degrees / square),
        widest_deg=math.degrees(math.atan2(b, a)) / 2 % 180,
        girths=len(sizes),
    )
