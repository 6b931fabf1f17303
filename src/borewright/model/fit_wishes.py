"""What the owner frees for a fit, and the process limits that bodies must keep."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from borewright.model.base import Entity, NotNegative, Positive
from borewright.model.kinds import Register

#: Dimensions a fit may free, as ``PATTERN.dimension``; PATTERN is a part, a hole or ``*``.
FREE_DIMENSIONS = (
    "station",
    "diameter",
    "chimney",
    "length",
    "bore_station",
    "bore_diameter",
    "undercut_diameter",
)


class FitWishes(Entity):
    """Free dimensions, their limits, and weights (mm, cents).

    ``free`` lists words like ``hole.station``, ``hole.diameter``, ``L3.chimney``,
    ``barrel.length`` or ``bell.bore_diameter``: a part, a hole or ``hole`` for all holes,
    a dot, and the dimension. Limits not given by the keywork come from here.
    """

    free: list[str] = ["hole.station", "hole.diameter"]
    finger_hole_window_mm: NotNegative = 3.0
    unkeyed_pad_window_mm: NotNegative = 1.0
    smallest_hole_mm: Positive = 2.5
    largest_finger_hole_mm: Positive = 9.6
    pad_overlap_mm: Positive = 1.0
    chimney_wall_mm: Positive = 1.2
    wall_between_holes_mm: Positive = 1.5
    lowest_chimney_mm: float = -2.5
    highest_chimney_mm: Positive = 3.0
    length_window_mm: NotNegative = 3.0
    bore_window_mm: NotNegative = 0.3
    bore_station_window_mm: NotNegative = 10.0
    weights: dict[Register, Annotated[float, Field(ge=0)]] = {}
    alternate_weight: NotNegative = 0.4
    keep_close: NotNegative = 0.05
