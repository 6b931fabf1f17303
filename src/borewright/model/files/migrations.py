"""Formats of the model's files, and the steps that carry an older file forward.

A step takes a file's plain data in format n and returns it in format n + 1. For TOML the
data are the file's tables; for CSV they are ``{"rows": [{column: text}]}``, of which a step
must keep number and order, so that messages still name the right line.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping
from typing import Any

from borewright.errors import ModelError
from borewright.model.instrument import FORMAT
from borewright.words import Place, Text, place_of, say

FormatStep = Callable[[dict[str, Any]], dict[str, Any]]

#: The format that this version writes, by kind of file.
NEWEST: dict[str, int] = {"instrument": FORMAT, "fingerings": 1, "survey": 1, "bore": 1, "keys": 1}

#: The step from format n of a kind, by (kind, n).
STEPS: dict[tuple[str, int], FormatStep] = {}


def _instrument_2(data: dict[str, Any]) -> dict[str, Any]:
    """Format 2 remembers the drawing, and ``keep_close`` is a price: cents² that a step wins.

    It used to be a weight without a unit, of which 0.3 was the default; a weight that somebody
    had chosen becomes a price in the same proportion.
    """
    wishes = data.get("fit")
    weight = wishes.get("keep_close") if isinstance(wishes, dict) else None
    if wishes and isinstance(weight, int | float) and not isinstance(weight, bool):
        wishes["keep_close"] = round(weight * _PRICE_BY_WEIGHT, 6)
    return data


#: New default price over old default weight.
_PRICE_BY_WEIGHT = 2.0 / 0.3
STEPS["instrument", 1] = _instrument_2


def migrate(
    data: dict[str, Any],
    kind: str,
    version: object,
    *,
    newest: int | None = None,
    place: Text | Place,
    steps: Mapping[tuple[str, int], FormatStep] | None = None,
) -> dict[str, Any]:
    """The data of a file in the newest format; ModelError for a version that is unknown.

    ``data`` itself is not changed. ``newest`` and ``steps`` are those of this version unless
    given.
    """
    newest = NEWEST[kind] if newest is None else newest
    steps = STEPS if steps is None else steps
    if not isinstance(version, int) or isinstance(version, bool) or not 1 <= version <= newest:
        shown = repr(version)[:40]
        raise ModelError(
            say(
                "the file has format {shown}, but this version reads 1 to {newest}",
                shown=shown,
                newest=newest,
            ),
            place=(*place_of(place), "format"),
            remedy=say("Upgrade borewright, or ask for the file in an older format."),
        )
    if version < newest:
        data = copy.deepcopy(data)
    for step in range(version, newest):
        data = steps[kind, step](data)
    return data
