"""Bodies as B-rep solids, their files, and gauges that read the files back.

Drawn from the model alone; this room knows no physics and no screen. The kernel is loaded
inside the functions that need it, so importing this room is light.
"""

from borewright.solids.axes import bearing_direction, bearing_of
from borewright.solids.body import body_volume_mm3, part_body
from borewright.solids.export import export_solids
from borewright.solids.measure import HoleMeasure, bore_diameter_mm, hole_measure, read_mesh

__all__ = [
    "HoleMeasure",
    "bearing_direction",
    "bearing_of",
    "body_volume_mm3",
    "bore_diameter_mm",
    "export_solids",
    "hole_measure",
    "part_body",
    "read_mesh",
]
