"""Bodies as B-rep solids, their files, and gauges that read the files back.

Drawn from the model alone; this room knows no physics and no screen. The kernel is loaded
inside the functions that need it, so importing this room is light.
"""

from borewright.listing import names
from borewright.model.post_holes import clearance_diameter_mm as clearance_diameter_mm
from borewright.solids.assembly import Pin as Pin
from borewright.solids.assembly import assembled as assembled
from borewright.solids.assembly import pads_and_posts as pads_and_posts
from borewright.solids.axes import bearing_direction as bearing_direction
from borewright.solids.axes import bearing_of as bearing_of
from borewright.solids.body import body_volume_mm3 as body_volume_mm3
from borewright.solids.body import feature_findings as feature_findings
from borewright.solids.body import part_body as part_body
from borewright.solids.export import Material as Material
from borewright.solids.export import export_shapes as export_shapes
from borewright.solids.export import export_solids as export_solids
from borewright.solids.jig import Bush as Bush
from borewright.solids.jig import Jig as Jig
from borewright.solids.jig import jig_solid as jig_solid
from borewright.solids.jig import plan_jigs as plan_jigs
from borewright.solids.jig import shortest_arc as shortest_arc
from borewright.solids.keys import key_solids as key_solids
from borewright.solids.measure import HoleMeasure as HoleMeasure
from borewright.solids.measure import bore_diameter_mm as bore_diameter_mm
from borewright.solids.measure import hole_measure as hole_measure
from borewright.solids.measure import read_mesh as read_mesh
from borewright.solids.placing import Bed as Bed
from borewright.solids.placing import Layout as Layout
from borewright.solids.placing import Placed as Placed
from borewright.solids.posts import PostPlan as PostPlan
from borewright.solids.posts import pilot_diameter_mm as pilot_diameter_mm
from borewright.solids.posts import plan_posts as plan_posts
from borewright.solids.slice import thin_slice as thin_slice
from borewright.solids.supports import Support as Support
from borewright.solids.supports import support_volume_mm3 as support_volume_mm3
from borewright.solids.voids import Engraving as Engraving
from borewright.solids.voids import Outline as Outline
from borewright.solids.voids import Void as Void
from borewright.solids.voids import engravings as engravings
from borewright.solids.voids import outlines as outlines
from borewright.solids.voids import voids as voids

__all__ = names(__file__)
