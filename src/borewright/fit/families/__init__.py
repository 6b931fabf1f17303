"""Barrels and bells as products: families of them, tried on one instrument all at once."""

from borewright.fit.families.choosing import choose as choose
from borewright.fit.families.mapping import map_family as map_family
from borewright.fit.families.shapes import BARREL_SHAPES as BARREL_SHAPES
from borewright.fit.families.shapes import BELL_SHAPES as BELL_SHAPES
from borewright.fit.families.shapes import Family as Family
from borewright.fit.families.shapes import Piece as Piece
from borewright.fit.families.shapes import barrel_family as barrel_family
from borewright.fit.families.shapes import barrel_part as barrel_part
from borewright.fit.families.shapes import bell_family as bell_family
from borewright.fit.families.shapes import bell_part as bell_part
from borewright.listing import names

__all__ = names(__file__)
