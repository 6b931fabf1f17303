"""Measured bores smoothed honestly: cylinders, cones, steps and flares, with intervals.

The statistics of a gauge's readings; plain geometry of bores is in ``model.bores``.
"""

from borewright.fit.bores.smoothing import smooth_bore as smooth_bore
from borewright.listing import names

__all__ = names(__file__)
