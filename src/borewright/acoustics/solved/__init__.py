"""Side holes solved in 3-D for their real shape: the level of truth above closed forms.

Each hole alone, lossless and quasi-static; see docs/solved-holes.md for method and errors.
NGSolve is imported when a hole is solved (extra ``solve3d``).
"""

from borewright.acoustics.solved.from_model import shape_of
from borewright.acoustics.solved.hole_cache import cached_hole, known_hole
from borewright.acoustics.solved.many import HoleStates, solve_holes
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.result import SolvedHole
from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.acoustics.solved.solving import solve_hole

__all__ = [
    "HoleCover",
    "HoleShape",
    "HoleStates",
    "MeshDetail",
    "SolvedHole",
    "cached_hole",
    "known_hole",
    "shape_of",
    "solve_hole",
    "solve_holes",
]
