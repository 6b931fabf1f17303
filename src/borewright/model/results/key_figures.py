"""What the mechanism says of one key: the figures that papers, orders and set-up cards take."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.kinds import Rest


class KeyFigures(Entity):
    """One key on its body (mm, degrees, grams); None where it has no pad, touch or spring.

    ``effective_mm`` is the lift as good as an even gap, ``slid_mm`` how far the open pad stands
    aside of where it shuts: a tilted pad that slid off its hole leaves more than it lifts.
    ``height_mm`` the touch over the body at
    rest, ``ratio`` the touch's travel over the pad's lift. ``rest_g`` and ``end_g`` are felt at the
    touch, ``tip_n`` the spring's own force at rest. ``play_mm`` is the hinge's end play.
    """

    key: str
    part: str
    rest: Rest
    hinge: str
    play_mm: float
    tube_mm: float
    length_mm: float
    hole: str | None = None
    pad_mm: float | None = None
    lift_mm: float | None = None
    near_mm: float | None = None
    far_mm: float | None = None
    effective_mm: float | None = None
    slid_mm: float | None = None
    m_mm: float | None = None
    h_mm: float | None = None
    travel_mm: float | None = None
    height_mm: float | None = None
    ratio: float | None = None
    lost_mm: float | None = None
    rest_g: float | None = None
    end_g: float | None = None
    friction_g: float | None = None
    tip_n: float | None = None
