"""How fine a hole is meshed, and how far away its surroundings end."""

from __future__ import annotations

from dataclasses import dataclass, replace

from borewright.errors import AcousticsError
from borewright.words import say


@dataclass(frozen=True)
class MeshDetail:
    """Sizes relative to the hole, and orders (defaults: see docs/solved-holes.md).

    Parameters
    ----------
    order
        Polynomial order of the elements; the error is estimated with one order less.
    edge_size
        Element size along sharp edges, over the hole's radius.
    edge_layers
        How often elements at a sharp edge are split towards it, each time at 0.15 of their
        width: the potential is singular there.
    wall_size
        Element size on the bore's wall, over its radius.
    growth
        How fast elements grow away from what is small (the mesher's grading, 0 to 1).
    bore_ends
        Distance of the plane-wave ends from the hole's edge, over the bore's radius.
    outer_end
        Radius of the outer boundary over the size of what stands in it.
    """

    order: int = 4
    edge_size: float = 0.7
    edge_layers: int = 2
    wall_size: float = 1.0
    growth: float = 0.6
    bore_ends: float = 2.5
    outer_end: float = 5.0

    def finer(self) -> MeshDetail:
        """Elements of half the size, one more layer, ends further away."""
        return replace(
            self,
            edge_size=self.edge_size / 2,
            wall_size=self.wall_size / 2,
            growth=self.growth / 2,
            edge_layers=self.edge_layers + 1,
            bore_ends=self.bore_ends + 1.0,
            outer_end=self.outer_end * 1.5,
        )

    def checked(self) -> MeshDetail:
        """Raise AcousticsError for values that no mesh can have."""
        limits = {
            "order": (2, 8),
            "edge_size": (0.02, 1.5),
            "edge_layers": (0, 6),
            "wall_size": (0.05, 2.0),
            "growth": (0.05, 1.0),
            "bore_ends": (1.0, 20.0),
            "outer_end": (2.0, 100.0),
        }
        for name, (low, high) in limits.items():
            value = getattr(self, name)
            whole = name in ("order", "edge_layers")
            good = isinstance(value, int) if whole else isinstance(value, int | float)
            if isinstance(value, bool) or not good or not low <= value <= high:
                raise AcousticsError(
                    say("{name} is {value}", name=name, value=repr(value)),
                    place="mesh",
                    remedy=say(
                        "Give a whole number between {low:g} and {high:g}.", low=low, high=high
                    )
                    if whole
                    else say("Give a value between {low:g} and {high:g}.", low=low, high=high),
                )
        return self
