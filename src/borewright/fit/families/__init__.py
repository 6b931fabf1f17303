"""Barrels and bells as products: families of them, tried on one instrument all at once."""

from borewright.fit.families.choosing import choose
from borewright.fit.families.mapping import map_family
from borewright.fit.families.shapes import (
    BARREL_SHAPES,
    BELL_SHAPES,
    Family,
    Piece,
    barrel_family,
    barrel_part,
    bell_family,
    bell_part,
)

__all__ = [
    "BARREL_SHAPES",
    "BELL_SHAPES",
    "Family",
    "Piece",
    "barrel_family",
    "barrel_part",
    "bell_family",
    "bell_part",
    "choose",
    "map_family",
]
