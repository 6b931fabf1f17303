"""How sure a counted share is."""

from __future__ import annotations

import math

from borewright.model.results.yields import Share

#: The normal distribution's 97.5 % point.
Z95 = 1.959963984540054


def share_of(count: int, of: int) -> Share:
    """A share with its 95 % score interval.

    E. B. Wilson, Journal of the American Statistical Association 22 (1927) 209. Of nothing
    counted the interval is everything.
    """
    if not of:
        return Share(count=0, of=0, low=0.0, high=1.0)
    share, square = count / of, Z95**2 / of
    middle = (share + square / 2) / (1 + square)
    half = math.sqrt(share * (1 - share) * square + square**2 / 4) / (1 + square)
    return Share(count=count, of=of, low=max(0.0, middle - half), high=min(1.0, middle + half))
