"""Pictures, schedules and reports from the rooms' results; this room computes no acoustics.

A name loads its module when it is first used, so importing this room stays light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from borewright.documents.cautions import CAUTIONS, Caution
    from borewright.documents.developed import developed_drawing
    from borewright.documents.report import PICTURES, ReportFiles, fit_report
    from borewright.documents.schedule import HoleRow, hole_schedule
    from borewright.documents.schedule_files import write_hole_schedule
    from borewright.documents.section import section_drawing
    from borewright.documents.sensitivity import sensitivity_chart
    from borewright.documents.tuning import tuning_chart
    from borewright.documents.twelfths import twelfths_chart

_WHERE = {
    "CAUTIONS": "cautions",
    "Caution": "cautions",
    "HoleRow": "schedule",
    "PICTURES": "report",
    "ReportFiles": "report",
    "developed_drawing": "developed",
    "fit_report": "report",
    "hole_schedule": "schedule",
    "section_drawing": "section",
    "sensitivity_chart": "sensitivity",
    "tuning_chart": "tuning",
    "twelfths_chart": "twelfths",
    "write_hole_schedule": "schedule_files",
}

__all__ = [
    "CAUTIONS",
    "PICTURES",
    "Caution",
    "HoleRow",
    "ReportFiles",
    "developed_drawing",
    "fit_report",
    "hole_schedule",
    "section_drawing",
    "sensitivity_chart",
    "tuning_chart",
    "twelfths_chart",
    "write_hole_schedule",
]


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
