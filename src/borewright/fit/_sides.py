"""One end of a range, and ranges that the maker states."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from borewright.model.fit_wishes import StatedRange, read_free
from borewright.words import Said, given, say


class Side(NamedTuple):
    """One end of a range: the value (mm) and the limit that sets it."""

    value: float
    words: Said


def within(
    ranges: Mapping[str, StatedRange],
    measures: tuple[str, ...],
    part: str,
    hole: str,
    low: Side,
    high: Side,
    *,
    replacing: bool,
) -> tuple[Side, Side]:
    """The sides of a stated range where there is one, otherwise those given.

    Parameters
    ----------
    ranges
        As in the wishes, by ``OWNER.measure``.
    measures, part, hole
        What the range is for.
    low, high
        Default sides.
    replacing
        Whether a stated range goes before the default; otherwise both hold.
    """
    for key, stated in ranges.items():
        if not read_free(key).frees(measures, part, hole):
            continue
        because = given(stated.because) if stated.because else say("the range stated for it")
        stated_low, stated_high = Side(stated.from_mm, because), Side(stated.to_mm, because)
        if replacing:
            return stated_low, stated_high
        low = max(low, stated_low, key=lambda side: side.value)
        high = min(high, stated_high, key=lambda side: side.value)
    return low, high
