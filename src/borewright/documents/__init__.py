"""Pictures, schedules and reports from the rooms' results; this room computes no acoustics.

A name loads its module when it is first used, so importing this room stays light.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from borewright.listing import listed

if TYPE_CHECKING:
    from borewright.documents.batch_plan import BatchPlan as BatchPlan
    from borewright.documents.batch_plan import PlanRow as PlanRow
    from borewright.documents.batch_report import BatchReport as BatchReport
    from borewright.documents.batch_report import BatchRow as BatchRow
    from borewright.documents.batch_report import PrintRow as PrintRow
    from borewright.documents.bore_curves import perturbation_chart as perturbation_chart
    from borewright.documents.care import CareSheet as CareSheet
    from borewright.documents.cautions import CAUTIONS as CAUTIONS
    from borewright.documents.cautions import Caution as Caution
    from borewright.documents.cautions import Hazard as Hazard
    from borewright.documents.certificate import Certificate as Certificate
    from borewright.documents.certificate import CheckedReading as CheckedReading
    from borewright.documents.character import character_chart as character_chart
    from borewright.documents.character import radiation_chart as radiation_chart
    from borewright.documents.character_note import note_chart as note_chart
    from borewright.documents.corrections import corrections_chart as corrections_chart
    from borewright.documents.developed import developed_drawing as developed_drawing
    from borewright.documents.differences import differences_chart as differences_chart
    from borewright.documents.gauges import GaugeRow as GaugeRow
    from borewright.documents.gauges import GaugeTool as GaugeTool
    from borewright.documents.gauges import gauge_plan as gauge_plan
    from borewright.documents.gauges import plugs_to_turn as plugs_to_turn
    from borewright.documents.gauges import write_gauge_plan as write_gauge_plan
    from borewright.documents.inspection import InspectionRow as InspectionRow
    from borewright.documents.inspection import inspection_rows as inspection_rows
    from borewright.documents.inspection import inspection_sheets as inspection_sheets
    from borewright.documents.inspection import write_inspection as write_inspection
    from borewright.documents.keys_picture import NamedPoint as NamedPoint
    from borewright.documents.keys_picture import ShownKeys as ShownKeys
    from borewright.documents.keys_picture import keys_drawing as keys_drawing
    from borewright.documents.keywork_order import KeyworkOrder as KeyworkOrder
    from borewright.documents.keywork_order import Tolerance as Tolerance
    from borewright.documents.letterhead import PAPERS as PAPERS
    from borewright.documents.letterhead import Letterhead as Letterhead
    from borewright.documents.papers import Paper as Paper
    from borewright.documents.papers import write_paper as write_paper
    from borewright.documents.pitch_track import pitch_track_chart as pitch_track_chart
    from borewright.documents.print_plan import PlanSection as PlanSection
    from borewright.documents.print_plan import PlanTable as PlanTable
    from borewright.documents.print_plan import write_plan as write_plan
    from borewright.documents.quotation import PriceLine as PriceLine
    from borewright.documents.quotation import Quotation as Quotation
    from borewright.documents.report import PICTURES as PICTURES
    from borewright.documents.report import ReportFiles as ReportFiles
    from borewright.documents.report import fit_report as fit_report
    from borewright.documents.schedule import HoleRow as HoleRow
    from borewright.documents.schedule import hole_schedule as hole_schedule
    from borewright.documents.schedule_files import write_hole_schedule as write_hole_schedule
    from borewright.documents.search_charts import corner_chart as corner_chart
    from borewright.documents.search_charts import pareto_chart as pareto_chart
    from borewright.documents.section import section_drawing as section_drawing
    from borewright.documents.sensitivity import sensitivity_chart as sensitivity_chart
    from borewright.documents.set_up_card import CardRow as CardRow
    from borewright.documents.set_up_card import SetUpCard as SetUpCard
    from borewright.documents.shaded import Shape as Shape
    from borewright.documents.shaded import shaded_picture as shaded_picture
    from borewright.documents.sheet import Sheet as Sheet
    from borewright.documents.sheet_files import write_sheet as write_sheet
    from borewright.documents.sheet_files import write_sheets as write_sheets
    from borewright.documents.shop_drawing import SeatMark as SeatMark
    from borewright.documents.shop_drawing import ShopPart as ShopPart
    from borewright.documents.shop_drawing import shop_sheets as shop_sheets
    from borewright.documents.title_block import TitleBlock as TitleBlock
    from borewright.documents.tolerances import Tolerances as Tolerances
    from borewright.documents.traveller import Traveller as Traveller
    from borewright.documents.tuning import tuning_chart as tuning_chart
    from borewright.documents.twelfths import twelfths_chart as twelfths_chart
    from borewright.documents.unrolled import PostMark as PostMark
    from borewright.documents.unrolled import template_sheet as template_sheet
    from borewright.documents.yield_charts import culprits_chart as culprits_chart
    from borewright.documents.yield_charts import yield_curve as yield_curve
    from borewright.documents.yield_paper import YieldPaper as YieldPaper
    from borewright.documents.yield_paper import write_yield as write_yield


__all__, __getattr__ = listed(__name__, __file__)
