"""Several bores laid over each other: diameters and deviations at common stations."""

from __future__ import annotations

import math
from collections.abc import Sequence

from borewright.errors import ModelError
from borewright.model.base import Entity
from borewright.model.bores.assembled import BoreLine
from borewright.model.bounds import check_asked
from borewright.words import say


class OverlayRow(Entity):
    """Diameter (mm) of the first bore at a station, and how much wider each other one is."""

    station_mm: float
    diameter_mm: float
    wider_mm: list[float]


class OverlayTable(Entity):
    """Bores compared with the first of them, at stations that all of them reach."""

    bores: list[str]
    rows: list[OverlayRow]
    most_wider_mm: list[float]
    mean_wider_mm: list[float]


def overlay_table(lines: Sequence[BoreLine], every_mm: float = 10.0) -> OverlayTable:
    """Deviations from the first bore.

    Parameters
    ----------
    lines
        Two bores or more; stations of all of them have the same origin.
    every_mm
        Distance of the stations; the ends of the common stretch are added.

    Raises
    ------
    ModelError
        For fewer than two bores, a distance below 0.2 mm, and bores that share no
        stretch.
    """
    if len(lines) < 2:
        raise ModelError(
            say("there is nothing to compare with"),
            place="bores",
            remedy=say("Name two bores or more."),
        )
    check_asked("every_mm", every_mm, "every")
    low = max(line.span_mm[0] for line in lines)
    high = min(line.span_mm[1] for line in lines)
    if high - low <= 0:
        raise ModelError(
            say("the bores share no stretch"),
            place=tuple(line.name for line in lines),
            remedy=say("Compare the same part of each, with --part."),
        )
    first, *others = lines
    rows = [
        OverlayRow(
            station_mm=station,
            diameter_mm=first.diameter_mm(station, side),
            wider_mm=[
                each.diameter_mm(station, side) - first.diameter_mm(station, side)
                for each in others
            ],
        )
        for station, side in _stations(low, high, every_mm)
    ]
    columns = list(zip(*(row.wider_mm for row in rows), strict=True))
    return OverlayTable(
        bores=[line.name for line in lines],
        rows=rows,
        most_wider_mm=[max(column, key=abs) for column in columns],
        mean_wider_mm=[sum(column) / len(column) for column in columns],
    )


def _stations(low: float, high: float, every: float) -> list[tuple[float, int]]:
    first = math.ceil(low / every - 1e-9)
    last = math.floor(high / every + 1e-9)
    round_ones = [number * every for number in range(first, last + 1)]
    inner = [s for s in round_ones if low + 1e-6 < s < high - 1e-6]
    # The last station is read from above: below it the bore may have ended.
    return [(low, 1), *((s, 1) for s in inner), (high, -1)]
