"""Where a part lies in space: the one convention that bodies, files and measurements share."""

from __future__ import annotations

import math


def bearing_direction(bearing_deg: float) -> tuple[float, float]:
    """Unit vector (x, y) that a bearing points to.

    The bore's axis is z, station 0 (the top shoulder) at z = 0, z growing downwards to the
    bell. The front (bearing 0) is -y, so that a CAD program's front view shows the front.
    Bearings grow towards the player's left seen from the top: +90 is -x. A player who holds
    the part upright looks along -y, up is -z, and left is then up × forward = -x.
    """
    angle = math.radians(bearing_deg)
    return -math.sin(angle), -math.cos(angle)


def bearing_of(x: float, y: float) -> float:
    """Bearing (degrees, -180 to 180) of a point beside the axis: the inverse direction."""
    return math.degrees(math.atan2(-x, -y))
