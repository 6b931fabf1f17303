"""What a workshop's printer makes of a body: fit, splits, checks, coupon, compensation.

Imports shapes and the model only; no acoustics and no screen.
"""

from borewright.printing.assembly_check import assembly_findings
from borewright.printing.beds import plan_layout
from borewright.printing.calibration import Calibration, KindCalibration, calibrate
from borewright.printing.compensation import (
    Compensated,
    CompensatedInstrument,
    CompensationReport,
    compensated,
)
from borewright.printing.coupon import (
    CouponFeature,
    FeatureKind,
    coupon_features,
    coupon_instrument,
    coupon_posts,
    coupon_sheet,
)
from borewright.printing.error_bars import ErrorBar, PrintScatter, error_bars
from borewright.printing.estimate import Estimate, PartEstimate, estimate
from borewright.printing.facets import facets_for, pin_through_mm
from borewright.printing.joints import joint_findings
from borewright.printing.key_fit import Blank, Blanks, key_fit_blanks
from borewright.printing.measuring import MeasuredFeature, read_measured
from borewright.printing.profile_files import find_material, find_printer
from borewright.printing.profiles import (
    MATERIALS,
    PRINTERS,
    FinishedPrint,
    MaterialProfile,
    PrinterProfile,
    material_named,
    printer_named,
)
from borewright.printing.reaming import ReamingAllowance, reaming_sequence, undersized
from borewright.printing.simulated import Fault, SimulatedPrinter
from borewright.printing.splitting import Split, SplitInstrument, propose_splits, split_to_fit
from borewright.printing.standing import Standing, hole_overhangs, standings, support_advice
from borewright.printing.walls import wall_findings

__all__ = [
    "MATERIALS",
    "PRINTERS",
    "Blank",
    "Blanks",
    "Calibration",
    "Compensated",
    "CompensatedInstrument",
    "CompensationReport",
    "CouponFeature",
    "ErrorBar",
    "Estimate",
    "Fault",
    "FeatureKind",
    "FinishedPrint",
    "KindCalibration",
    "MaterialProfile",
    "MeasuredFeature",
    "PartEstimate",
    "PrintScatter",
    "PrinterProfile",
    "ReamingAllowance",
    "SimulatedPrinter",
    "Split",
    "SplitInstrument",
    "Standing",
    "assembly_findings",
    "calibrate",
    "compensated",
    "coupon_features",
    "coupon_instrument",
    "coupon_posts",
    "coupon_sheet",
    "error_bars",
    "estimate",
    "facets_for",
    "find_material",
    "find_printer",
    "hole_overhangs",
    "joint_findings",
    "key_fit_blanks",
    "material_named",
    "pin_through_mm",
    "plan_layout",
    "printer_named",
    "propose_splits",
    "read_measured",
    "reaming_sequence",
    "split_to_fit",
    "standings",
    "support_advice",
    "undersized",
    "wall_findings",
]
