"""Side holes solved in 3-D for their real shape: the level of truth above closed forms.

Each hole alone, lossless and quasi-static; see docs/solved-holes.md for method and errors.
NGSolve is imported when a hole is solved (extra ``solve3d``).
"""

from borewright.acoustics.solved.from_model import shape_of as shape_of
from borewright.acoustics.solved.hole_cache import cached_hole as cached_hole
from borewright.acoustics.solved.hole_cache import known_hole as known_hole
from borewright.acoustics.solved.many import HoleStates as HoleStates
from borewright.acoustics.solved.many import solve_holes as solve_holes
from borewright.acoustics.solved.mesh_detail import MeshDetail as MeshDetail
from borewright.acoustics.solved.result import SolvedHole as SolvedHole
from borewright.acoustics.solved.shape import HoleCover as HoleCover
from borewright.acoustics.solved.shape import HoleShape as HoleShape
from borewright.acoustics.solved.solving import solve_hole as solve_hole
from borewright.listing import names

__all__ = names(__file__)
