"""Tolerances of finished sizes: what the pitch bears and what the process holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

#: Workshop tolerances where the pitch is not known or bears more (mm, from memory): bore, side
#: holes, stations, lengths between shoulders, tenons and sockets.
BORE_TOLERANCE_MM, HOLE_TOLERANCE_MM = 0.05, 0.1
STATION_TOLERANCE_MM, LENGTH_TOLERANCE_MM, JOINT_TOLERANCE_MM = 0.1, 0.2, 0.1
#: What reaming, drilling on an index and turning hold without special care (mm, from memory).
BORE_PROCESS_MM, HOLE_PROCESS_MM, STATION_PROCESS_MM, LENGTH_PROCESS_MM = 0.03, 0.03, 0.05, 0.05
_STEPS_MM = (0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.15, 0.2)


@dataclass(frozen=True)
class Tolerances:
    """What 1 cent allows of each size (mm), by its name; none where the pitch is not known.

    ``holes`` and ``stations`` go by the hole, ``bores`` and ``lengths`` by the part.
    """

    holes: Mapping[str, float] = field(default_factory=dict)
    stations: Mapping[str, float] = field(default_factory=dict)
    bores: Mapping[str, float] = field(default_factory=dict)
    lengths: Mapping[str, float] = field(default_factory=dict)

    def hole(self, name: str) -> float:
        """Plus or minus on a hole's diameter (mm)."""
        return _within(self.holes.get(name), HOLE_PROCESS_MM, HOLE_TOLERANCE_MM)

    def station(self, name: str) -> float:
        """Plus or minus on a hole's station (mm)."""
        return _within(self.stations.get(name), STATION_PROCESS_MM, STATION_TOLERANCE_MM)

    def bore(self, part: str) -> float:
        """Plus or minus on a part's bore diameters (mm)."""
        return _within(self.bores.get(part), BORE_PROCESS_MM, BORE_TOLERANCE_MM)

    def length(self, part: str) -> float:
        """Plus or minus on a part's length between shoulders (mm)."""
        return _within(self.lengths.get(part), LENGTH_PROCESS_MM, LENGTH_TOLERANCE_MM)


def _within(allowed: float | None, least: float, most: float) -> float:
    """The widest usual step that is allowed, never tighter than the process or wider than most."""
    if allowed is None:
        return most
    steps = [step for step in _STEPS_MM if least <= step <= min(allowed, most) + 1e-9]
    return max(steps, default=least)
