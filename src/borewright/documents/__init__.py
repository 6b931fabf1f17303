"""Pictures, schedules and reports from the rooms' results; this room computes no acoustics.

A name loads its module when it is first used, so importing this room stays light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from borewright.documents.batch_plan import BatchPlan, PlanRow
    from borewright.documents.batch_report import BatchReport, BatchRow, PrintRow
    from borewright.documents.bore_curves import perturbation_chart
    from borewright.documents.care import CareSheet
    from borewright.documents.cautions import CAUTIONS, Caution, Hazard
    from borewright.documents.certificate import Certificate, CheckedReading
    from borewright.documents.character import character_chart, radiation_chart
    from borewright.documents.character_note import note_chart
    from borewright.documents.corrections import corrections_chart
    from borewright.documents.developed import developed_drawing
    from borewright.documents.differences import differences_chart
    from borewright.documents.gauges import GaugeRow, gauge_plan, write_gauge_plan
    from borewright.documents.keywork_order import KeyworkOrder, Tolerance
    from borewright.documents.letterhead import PAPERS, Letterhead
    from borewright.documents.papers import Paper, write_paper
    from borewright.documents.pitch_track import pitch_track_chart
    from borewright.documents.print_plan import PlanSection, PlanTable, write_plan
    from borewright.documents.quotation import PriceLine, Quotation
    from borewright.documents.report import PICTURES, ReportFiles, fit_report
    from borewright.documents.schedule import HoleRow, hole_schedule
    from borewright.documents.schedule_files import write_hole_schedule
    from borewright.documents.section import section_drawing
    from borewright.documents.sensitivity import sensitivity_chart
    from borewright.documents.set_up_card import CardRow, SetUpCard
    from borewright.documents.shaded import Shape, shaded_picture
    from borewright.documents.sheet import Sheet
    from borewright.documents.sheet_files import write_sheet
    from borewright.documents.shop_drawing import ShopPart, shop_sheet
    from borewright.documents.traveller import Traveller, TravellerStep
    from borewright.documents.tuning import tuning_chart
    from borewright.documents.twelfths import twelfths_chart
    from borewright.documents.unrolled import PostMark, template_sheet

_WHERE = {
    "BatchPlan": "batch_plan",
    "BatchReport": "batch_report",
    "BatchRow": "batch_report",
    "CAUTIONS": "cautions",
    "CardRow": "set_up_card",
    "CareSheet": "care",
    "Caution": "cautions",
    "Certificate": "certificate",
    "GaugeRow": "gauges",
    "Hazard": "cautions",
    "HoleRow": "schedule",
    "KeyworkOrder": "keywork_order",
    "Letterhead": "letterhead",
    "PAPERS": "letterhead",
    "PICTURES": "report",
    "Paper": "papers",
    "PlanRow": "batch_plan",
    "PlanSection": "print_plan",
    "PlanTable": "print_plan",
    "PostMark": "unrolled",
    "PriceLine": "quotation",
    "PrintRow": "batch_report",
    "Quotation": "quotation",
    "CheckedReading": "certificate",
    "ReportFiles": "report",
    "SetUpCard": "set_up_card",
    "Shape": "shaded",
    "Sheet": "sheet",
    "ShopPart": "shop_drawing",
    "TravellerStep": "traveller",
    "Tolerance": "keywork_order",
    "Traveller": "traveller",
    "character_chart": "character",
    "corrections_chart": "corrections",
    "developed_drawing": "developed",
    "differences_chart": "differences",
    "fit_report": "report",
    "gauge_plan": "gauges",
    "hole_schedule": "schedule",
    "note_chart": "character_note",
    "perturbation_chart": "bore_curves",
    "pitch_track_chart": "pitch_track",
    "radiation_chart": "character",
    "section_drawing": "section",
    "sensitivity_chart": "sensitivity",
    "shaded_picture": "shaded",
    "shop_sheet": "shop_drawing",
    "template_sheet": "unrolled",
    "tuning_chart": "tuning",
    "twelfths_chart": "twelfths",
    "write_gauge_plan": "gauges",
    "write_hole_schedule": "schedule_files",
    "write_paper": "papers",
    "write_plan": "print_plan",
    "write_sheet": "sheet_files",
}

__all__ = [
    "CAUTIONS",
    "PAPERS",
    "PICTURES",
    "BatchPlan",
    "BatchReport",
    "BatchRow",
    "CardRow",
    "CareSheet",
    "Caution",
    "Certificate",
    "CheckedReading",
    "GaugeRow",
    "Hazard",
    "HoleRow",
    "KeyworkOrder",
    "Letterhead",
    "Paper",
    "PlanRow",
    "PlanSection",
    "PlanTable",
    "PostMark",
    "PriceLine",
    "PrintRow",
    "Quotation",
    "ReportFiles",
    "SetUpCard",
    "Shape",
    "Sheet",
    "ShopPart",
    "Tolerance",
    "Traveller",
    "TravellerStep",
    "character_chart",
    "corrections_chart",
    "developed_drawing",
    "differences_chart",
    "fit_report",
    "gauge_plan",
    "hole_schedule",
    "note_chart",
    "perturbation_chart",
    "pitch_track_chart",
    "radiation_chart",
    "section_drawing",
    "sensitivity_chart",
    "shaded_picture",
    "shop_sheet",
    "template_sheet",
    "tuning_chart",
    "twelfths_chart",
    "write_gauge_plan",
    "write_hole_schedule",
    "write_paper",
    "write_plan",
    "write_sheet",
]


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
