"""How fine a whole resonator is meshed, and how far away its surroundings end."""

from __future__ import annotations

from dataclasses import dataclass, replace

from borewright.errors import AcousticsError
from borewright.words import say


@dataclass(frozen=True)
class WholeDetail:
    """Sizes and orders of the reference (defaults: see docs/levels.md).

    Parameters
    ----------
    order
        Polynomial order of the elements with holes.
    round_order
        The same without holes, in a half plane.
    edge_size
        Element size along the rims of open holes, over the hole's radius.
    edge_layers
        How often elements at such a rim are split towards it, each time at 0.15 of their width.
    wall_size
        Element size on the bore's wall, over its radius.
    growth
        How fast elements grow away from what is small (the mesher's grading, 0 to 1).
    per_wave
        Elements to a wavelength of the highest frequency, at least.
    outer_end
        Radius of the outer boundary over half the body's length.
    """

    order: int = 3
    round_order: int = 6
    edge_size: float = 0.7
    edge_layers: int = 2
    wall_size: float = 1.2
    growth: float = 0.5
    per_wave: float = 4.0
    outer_end: float = 1.8

    def finer(self) -> WholeDetail:
        """One order more, smaller elements at rims, a farther end of the air."""
        return replace(
            self,
            order=self.order + 1,
            round_order=self.round_order + 2,
            edge_size=self.edge_size / 1.5,
            outer_end=self.outer_end * 1.25,
        )

    def coarser(self) -> WholeDetail:
        """One order less (two in the half plane): what it moves is more than this one's error."""
        return replace(self, order=max(self.order - 1, 2), round_order=max(self.round_order - 2, 2))

    def checked(self) -> WholeDetail:
        """Raise AcousticsError for values that no mesh can have."""
        limits = {
            "order": (2, 6),
            "round_order": (2, 10),
            "edge_size": (0.05, 2.0),
            "edge_layers": (0, 4),
            "wall_size": (0.1, 3.0),
            "growth": (0.05, 1.0),
            "per_wave": (1.0, 50.0),
            "outer_end": (1.1, 10.0),
        }
        for name, (low, high) in limits.items():
            value = getattr(self, name)
            whole = name in ("order", "round_order", "edge_layers")
            good = isinstance(value, int) if whole else isinstance(value, int | float)
            if isinstance(value, bool) or not good or not low <= value <= high:
                raise AcousticsError(
                    say("{name} is {value}", name=name, value=repr(value)),
                    place="detail",
                    remedy=say(
                        "Give a whole number between {low:g} and {high:g}.", low=low, high=high
                    )
                    if whole
                    else say("Give a value between {low:g} and {high:g}.", low=low, high=high),
                )
        return self
