"""What a workshop's printer makes of a body: fit, splits, checks, coupon, compensation.

Imports shapes and the model only; no acoustics and no screen.
"""

from borewright.listing import names
from borewright.printing.assembly_check import assembly_findings as assembly_findings
from borewright.printing.beds import plan_layout as plan_layout
from borewright.printing.calibration import Calibration as Calibration
from borewright.printing.calibration import calibrate as calibrate
from borewright.printing.compensation import Compensated as Compensated
from borewright.printing.compensation import CompensatedInstrument as CompensatedInstrument
from borewright.printing.compensation import CompensationReport as CompensationReport
from borewright.printing.compensation import compensated as compensated
from borewright.printing.coupon import coupon_instrument as coupon_instrument
from borewright.printing.coupon import coupon_posts as coupon_posts
from borewright.printing.coupon_features import COUPON_DOWNS as COUPON_DOWNS
from borewright.printing.coupon_features import CouponFeature as CouponFeature
from borewright.printing.coupon_features import FeatureKind as FeatureKind
from borewright.printing.coupon_features import coupon_features as coupon_features
from borewright.printing.coupon_features import coupon_sheet as coupon_sheet
from borewright.printing.error_bars import ErrorBar as ErrorBar
from borewright.printing.error_bars import PrintScatter as PrintScatter
from borewright.printing.error_bars import error_bars as error_bars
from borewright.printing.estimate import Estimate as Estimate
from borewright.printing.estimate import PartEstimate as PartEstimate
from borewright.printing.estimate import estimate as estimate
from borewright.printing.estimate import time_factor as time_factor
from borewright.printing.facets import facets_for as facets_for
from borewright.printing.facets import pin_through_mm as pin_through_mm
from borewright.printing.gauging import read_gauged as read_gauged
from borewright.printing.gauging import read_sheets as read_sheets
from borewright.printing.heights import ends_on_bed as ends_on_bed
from borewright.printing.joints import joint_findings as joint_findings
from borewright.printing.key_fit import Blank as Blank
from borewright.printing.key_fit import Blanks as Blanks
from borewright.printing.key_fit import blank_solid as blank_solid
from borewright.printing.key_fit import key_fit_blanks as key_fit_blanks
from borewright.printing.key_fit_pieces import blanks_that_fit as blanks_that_fit
from borewright.printing.length_findings import length_findings as length_findings
from borewright.printing.lines import KindCalibration as KindCalibration
from borewright.printing.making import Making as Making
from borewright.printing.making import making_of as making_of
from borewright.printing.making import reamed as reamed
from borewright.printing.measuring import MeasuredFeature as MeasuredFeature
from borewright.printing.measuring import read_measured as read_measured
from borewright.printing.ovality import Ovality as Ovality
from borewright.printing.profile_files import find_material as find_material
from borewright.printing.profile_files import find_printer as find_printer
from borewright.printing.profiles import MATERIALS as MATERIALS
from borewright.printing.profiles import PRINTERS as PRINTERS
from borewright.printing.profiles import FinishedPrint as FinishedPrint
from borewright.printing.profiles import MaterialProfile as MaterialProfile
from borewright.printing.profiles import PrinterProfile as PrinterProfile
from borewright.printing.profiles import material_named as material_named
from borewright.printing.profiles import printer_named as printer_named
from borewright.printing.reaming import ReamingAllowance as ReamingAllowance
from borewright.printing.reaming import reaming_sequence as reaming_sequence
from borewright.printing.reaming import undersized as undersized
from borewright.printing.simulated import Fault as Fault
from borewright.printing.simulated import SimulatedPrinter as SimulatedPrinter
from borewright.printing.split_keys import hinges_over_joints as hinges_over_joints
from borewright.printing.split_keys import split_keys as split_keys
from borewright.printing.splitting import Split as Split
from borewright.printing.splitting import SplitInstrument as SplitInstrument
from borewright.printing.splitting import propose_splits as propose_splits
from borewright.printing.splitting import split_to_fit as split_to_fit
from borewright.printing.standing import Down as Down
from borewright.printing.standing import Standing as Standing
from borewright.printing.standing import hole_overhangs as hole_overhangs
from borewright.printing.standing import seam_advice as seam_advice
from borewright.printing.standing import standings as standings
from borewright.printing.supports import plan_supports as plan_supports
from borewright.printing.supports import support_advice as support_advice
from borewright.printing.walls import wall_findings as wall_findings

__all__ = names(__file__)
