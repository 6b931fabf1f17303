"""Pictures, schedules and reports from the rooms' results; this room computes no acoustics.

A name loads its module when it is first used, so importing this room stays light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from borewright.documents.batch_report import BatchReport, BatchRow
    from borewright.documents.care import CareSheet
    from borewright.documents.cautions import CAUTIONS, Caution
    from borewright.documents.certificate import Certificate, Reading
    from borewright.documents.developed import developed_drawing
    from borewright.documents.keywork_order import KeyworkOrder, Tolerance
    from borewright.documents.letterhead import PAPERS, Letterhead
    from borewright.documents.papers import Paper, write_paper
    from borewright.documents.quotation import PriceLine, Quotation
    from borewright.documents.report import PICTURES, ReportFiles, fit_report
    from borewright.documents.schedule import HoleRow, hole_schedule
    from borewright.documents.schedule_files import write_hole_schedule
    from borewright.documents.section import section_drawing
    from borewright.documents.sensitivity import sensitivity_chart
    from borewright.documents.set_up_card import CardRow, SetUpCard
    from borewright.documents.traveller import Step, Traveller
    from borewright.documents.tuning import tuning_chart
    from borewright.documents.twelfths import twelfths_chart

_WHERE = {
    "BatchReport": "batch_report",
    "BatchRow": "batch_report",
    "CAUTIONS": "cautions",
    "CardRow": "set_up_card",
    "CareSheet": "care",
    "Caution": "cautions",
    "Certificate": "certificate",
    "HoleRow": "schedule",
    "KeyworkOrder": "keywork_order",
    "Letterhead": "letterhead",
    "PAPERS": "letterhead",
    "PICTURES": "report",
    "Paper": "papers",
    "PriceLine": "quotation",
    "Quotation": "quotation",
    "Reading": "certificate",
    "ReportFiles": "report",
    "SetUpCard": "set_up_card",
    "Step": "traveller",
    "Tolerance": "keywork_order",
    "Traveller": "traveller",
    "developed_drawing": "developed",
    "fit_report": "report",
    "hole_schedule": "schedule",
    "section_drawing": "section",
    "sensitivity_chart": "sensitivity",
    "tuning_chart": "tuning",
    "twelfths_chart": "twelfths",
    "write_hole_schedule": "schedule_files",
    "write_paper": "papers",
}

__all__ = [
    "CAUTIONS",
    "PAPERS",
    "PICTURES",
    "BatchReport",
    "BatchRow",
    "CardRow",
    "CareSheet",
    "Caution",
    "Certificate",
    "HoleRow",
    "KeyworkOrder",
    "Letterhead",
    "Paper",
    "PriceLine",
    "Quotation",
    "Reading",
    "ReportFiles",
    "SetUpCard",
    "Step",
    "Tolerance",
    "Traveller",
    "developed_drawing",
    "fit_report",
    "hole_schedule",
    "section_drawing",
    "sensitivity_chart",
    "tuning_chart",
    "twelfths_chart",
    "write_hole_schedule",
    "write_paper",
]


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
