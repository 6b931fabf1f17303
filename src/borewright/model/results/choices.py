"""A family of designs along the trade-off between cents and closeness to the drawing."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.results.fitting import HeldBack
from borewright.words import Said


class Design(Entity):
    """One design of a family.

    ``price_cents2`` is what a moderate step had to win. ``away_steps`` is how far the body is
    from its drawing, in moderate steps summed over all that moved; ``moved`` how many things
    did. ``uneven_cents`` is the mean step from a standard note's cents to its neighbour's.
    ``largest_hole_share`` is the greatest change of a hole's diameter, as a share of its drawn
    one. ``values`` are all dimensions (mm). ``within_limits`` is false for the far end alone:
    what cents could be had if limits were wide open, not a body to build.
    """

    price_cents2: float
    rms_cents: float
    worst_cents: float
    worst_note: str
    uneven_cents: float
    away_steps: float
    moved: int
    largest_hole_share: float
    gains: Said
    within_limits: bool
    values: list[float]


class DesignFamily(Entity):
    """Designs from the drawing to the far end, nearest to the drawing first.

    ``bores_held`` is the best design for the price of the wishes with all bores as drawn, only
    holes and lengths moved; none where no bore is free. ``held_back`` tells what would pay if it
    were freed then, dearest first.
    """

    instrument: str
    designs: list[Design]
    bores_held: Design | None = None
    held_back: list[HeldBack] = []
    model_level: Said
    climate: Said
    finished: bool
    seconds: float
