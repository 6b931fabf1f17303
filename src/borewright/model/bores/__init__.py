"""Bores as things of their own: measured, smoothed, laid over each other, blended.

Plain geometry in millimetres. What needs statistics is in the room ``fit``.
"""

from borewright.listing import names
from borewright.model.bores.assembled import BoreLine as BoreLine
from borewright.model.bores.assembled import assembled_bore as assembled_bore
from borewright.model.bores.assembled import part_bore as part_bore
from borewright.model.bores.blending import FEATURES as FEATURES
from borewright.model.bores.blending import Fractions as Fractions
from borewright.model.bores.blending import blend_instruments as blend_instruments
from borewright.model.bores.features import BoreFeatures as BoreFeatures
from borewright.model.bores.features import bore_features as bore_features
from borewright.model.bores.measured import BoreReading as BoreReading
from borewright.model.bores.measured import MeasuredBore as MeasuredBore
from borewright.model.bores.measured import MeasuredPart as MeasuredPart
from borewright.model.bores.measured import ReachedFrom as ReachedFrom
from borewright.model.bores.overlay import OverlayRow as OverlayRow
from borewright.model.bores.overlay import OverlayTable as OverlayTable
from borewright.model.bores.overlay import overlay_table as overlay_table
from borewright.model.bores.placing import with_bore as with_bore
from borewright.model.results.blending import BlendResult as BlendResult
from borewright.model.results.blending import FeatureRow as FeatureRow
from borewright.model.results.blending import HoleMove as HoleMove
from borewright.model.results.blending import PayingHole as PayingHole
from borewright.model.results.smoothed import BoreBreak as BoreBreak
from borewright.model.results.smoothed import BoreSegment as BoreSegment
from borewright.model.results.smoothed import BreakKind as BreakKind
from borewright.model.results.smoothed import Fitted as Fitted
from borewright.model.results.smoothed import SegmentKind as SegmentKind
from borewright.model.results.smoothed import SmoothedBore as SmoothedBore
from borewright.model.results.smoothed import Tried as Tried

__all__ = names(__file__)
