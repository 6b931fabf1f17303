"""The workshop's records: keywork, lots, serial numbers, checks, cost and orders.

Kept in a database, SQLite by default or PostgreSQL by address. This room knows no physics, no
CAD and no page. A name loads its module when it is first used, so importing this is light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from borewright.ledger.backup import Backup, BackupSummary, back_up
    from borewright.ledger.checking import (
        correct_record,
        names_of,
        record_check,
        sign_off,
        waiting_for,
    )
    from borewright.ledger.cost import CostLine, CostSheet, what_if
    from borewright.ledger.costing import BatchCost, batch_cost, part_prints
    from borewright.ledger.kinds import RECORD_KINDS, record_kind
    from borewright.ledger.money import ROUNDING_WORDS, money_words, rounded
    from borewright.ledger.pitch_scatter import NoteScatter, TuningScatter, tuning_scatter
    from borewright.ledger.planning import (
        Plan,
        PlannedPrint,
        Printer,
        PrintNeed,
        plan_batch,
        plan_prints,
    )
    from borewright.ledger.quotes import BestQuote, best_quote
    from borewright.ledger.rejects import RejectRate, reject_rate
    from borewright.ledger.restoring import restore
    from borewright.ledger.scoring import Criterion, Standing, compare_sources, standings
    from borewright.ledger.setting_up import LIFT_SHARE, KeySetUp, set_up_sheet
    from borewright.ledger.store import Entry, Ledger
    from borewright.ledger.survey import (
        OUTLIER_RULE,
        FeatureStatistics,
        feature_statistics,
        modified_z_scores,
        pooled_scatter_mm,
        survey_statistics,
    )
    from borewright.ledger.tables_csv import csv_text, import_csv
    from borewright.ledger.verifying import verify

_WHERE = {
    "LIFT_SHARE": "setting_up",
    "OUTLIER_RULE": "survey",
    "RECORD_KINDS": "kinds",
    "ROUNDING_WORDS": "money",
    "Backup": "backup",
    "BackupSummary": "backup",
    "BatchCost": "costing",
    "BestQuote": "quotes",
    "CostLine": "cost",
    "CostSheet": "cost",
    "Criterion": "scoring",
    "Entry": "store",
    "FeatureStatistics": "survey",
    "KeySetUp": "setting_up",
    "Ledger": "store",
    "NoteScatter": "pitch_scatter",
    "Plan": "planning",
    "PlannedPrint": "planning",
    "PrintNeed": "planning",
    "Printer": "planning",
    "RejectRate": "rejects",
    "Standing": "scoring",
    "TuningScatter": "pitch_scatter",
    "back_up": "backup",
    "batch_cost": "costing",
    "best_quote": "quotes",
    "compare_sources": "scoring",
    "correct_record": "checking",
    "csv_text": "tables_csv",
    "feature_statistics": "survey",
    "import_csv": "tables_csv",
    "modified_z_scores": "survey",
    "money_words": "money",
    "names_of": "checking",
    "part_prints": "costing",
    "plan_batch": "planning",
    "plan_prints": "planning",
    "pooled_scatter_mm": "survey",
    "record_check": "checking",
    "record_kind": "kinds",
    "reject_rate": "rejects",
    "restore": "restoring",
    "rounded": "money",
    "set_up_sheet": "setting_up",
    "sign_off": "checking",
    "standings": "scoring",
    "survey_statistics": "survey",
    "tuning_scatter": "pitch_scatter",
    "verify": "verifying",
    "waiting_for": "checking",
    "what_if": "cost",
}

__all__ = [
    "LIFT_SHARE",
    "OUTLIER_RULE",
    "RECORD_KINDS",
    "ROUNDING_WORDS",
    "Backup",
    "BackupSummary",
    "BatchCost",
    "BestQuote",
    "CostLine",
    "CostSheet",
    "Criterion",
    "Entry",
    "FeatureStatistics",
    "KeySetUp",
    "Ledger",
    "NoteScatter",
    "Plan",
    "PlannedPrint",
    "PrintNeed",
    "Printer",
    "RejectRate",
    "Standing",
    "TuningScatter",
    "back_up",
    "batch_cost",
    "best_quote",
    "compare_sources",
    "correct_record",
    "csv_text",
    "feature_statistics",
    "import_csv",
    "modified_z_scores",
    "money_words",
    "names_of",
    "part_prints",
    "plan_batch",
    "plan_prints",
    "pooled_scatter_mm",
    "record_check",
    "record_kind",
    "reject_rate",
    "restore",
    "rounded",
    "set_up_sheet",
    "sign_off",
    "standings",
    "survey_statistics",
    "tuning_scatter",
    "verify",
    "waiting_for",
    "what_if",
]


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
