"""Bodies as B-rep solids, their files, and gauges that read the files back.

Drawn from the model alone; this room knows no physics and no screen. The kernel is loaded
inside the functions that need it, so importing this room is light.
"""

from borewright.model.post_holes import clearance_diameter_mm
from borewright.solids.assembly import Pin, assembled, pads_and_posts
from borewright.solids.axes import bearing_direction, bearing_of
from borewright.solids.body import body_volume_mm3, feature_findings, part_body
from borewright.solids.export import Material, export_shapes, export_solids
from borewright.solids.jig import Bush, Jig, jig_solid, plan_jigs
from borewright.solids.keys import key_solids
from borewright.solids.measure import HoleMeasure, bore_diameter_mm, hole_measure, read_mesh
from borewright.solids.placing import Bed, Layout, Placed
from borewright.solids.posts import PostPlan, pilot_diameter_mm, plan_posts
from borewright.solids.voids import Engraving, Outline, Void, engravings, outlines, voids

__all__ = [
    "Bed",
    "Bush",
    "Engraving",
    "HoleMeasure",
    "Jig",
    "Layout",
    "Material",
    "Outline",
    "Pin",
    "Placed",
    "PostPlan",
    "Void",
    "assembled",
    "bearing_direction",
    "bearing_of",
    "body_volume_mm3",
    "bore_diameter_mm",
    "clearance_diameter_mm",
    "engravings",
    "export_shapes",
    "export_solids",
    "feature_findings",
    "hole_measure",
    "jig_solid",
    "key_solids",
    "outlines",
    "pads_and_posts",
    "part_body",
    "pilot_diameter_mm",
    "plan_jigs",
    "plan_posts",
    "read_mesh",
    "voids",
]
