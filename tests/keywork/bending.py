"""Key sets with one thing changed."""

from __future__ import annotations

from typing import Any

from borewright.model import KeySet
from borewright.model.keys import KeyPoint


def with_element(keys: KeySet, name: str, **fields: Any) -> KeySet:
    """The set with some fields of one element changed."""
    assert any(element.name == name for element in keys.elements)
    return KeySet(
        elements=tuple(
            element.model_copy(update=fields) if element.name == name else element
            for element in keys.elements
        ),
        source=keys.source,
        lines=keys.lines,
    )


def moved(
    point: KeyPoint, along: float = 0.0, round_deg: float = 0.0, out: float = 0.0
) -> KeyPoint:
    """A point moved along the body, round it (degrees) and outwards (mm)."""
    return KeyPoint(
        station_mm=point.station_mm + along,
        bearing_deg=point.bearing_deg + round_deg,
        height_mm=point.height_mm + out,
    )


def with_moved(keys: KeySet, names: list[str], **by: float) -> KeySet:
    """The set with both points of some elements moved."""
    for name in names:
        element = next(e for e in keys.elements if e.name == name)
        keys = with_element(
            keys, name, first=moved(element.first, **by), second=moved(element.second, **by)
        )
    return keys
