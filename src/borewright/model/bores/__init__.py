"""Bores as things of their own: measured, smoothed, laid over each other, blended.

Plain geometry in millimetres. What needs statistics is in the room ``fit``.
"""

from borewright.model.bores.assembled import BoreLine, assembled_bore, part_bore
from borewright.model.bores.blending import FEATURES, Fractions, blend_instruments
from borewright.model.bores.features import BoreFeatures, bore_features
from borewright.model.bores.measured import BoreReading, MeasuredBore, MeasuredPart, ReachedFrom
from borewright.model.bores.overlay import OverlayRow, OverlayTable, overlay_table
from borewright.model.bores.placing import with_bore
from borewright.model.results.blending import BlendResult, FeatureRow, HoleMove, PayingHole
from borewright.model.results.smoothed import (
    BoreBreak,
    BoreSegment,
    BreakKind,
    Fitted,
    SegmentKind,
    SmoothedBore,
    Tried,
)

__all__ = [
    "FEATURES",
    "BlendResult",
    "BoreBreak",
    "BoreFeatures",
    "BoreLine",
    "BoreReading",
    "BoreSegment",
    "BreakKind",
    "FeatureRow",
    "Fitted",
    "Fractions",
    "HoleMove",
    "MeasuredBore",
    "MeasuredPart",
    "OverlayRow",
    "OverlayTable",
    "PayingHole",
    "ReachedFrom",
    "SegmentKind",
    "SmoothedBore",
    "Tried",
    "assembled_bore",
    "blend_instruments",
    "bore_features",
    "overlay_table",
    "part_bore",
    "with_bore",
]
