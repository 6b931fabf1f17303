"""The holes of an instrument as the fingering drawing takes them."""

from __future__ import annotations

from typing import Any

from borewright.model import Instrument

_BACK_DEG, _FRONT_DEG = 150.0, 30.0


def holes_in_order(instrument: Instrument) -> tuple[list[dict[str, Any]], list[int]]:
    """Holes from the top down, and before which of them a joint stands."""
    placed = sorted(instrument.placed_holes(), key=lambda each: each[2])
    holes = [
        {
            "name": hole.name,
            "cover": hole.cover.value,
            "side": "back"
            if abs(hole.bearing_deg) >= _BACK_DEG
            else "front"
            if abs(hole.bearing_deg) <= _FRONT_DEG
            else "side",
        }
        for _part, hole, _station in placed
    ]
    parts = [part.name for part, _hole, _station in placed]
    joints = [i for i in range(1, len(parts)) if parts[i] != parts[i - 1]]
    return holes, joints
