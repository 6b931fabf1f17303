"""The workshop's records: keywork, lots, serial numbers, checks, cost and orders.

Kept in a database, SQLite by default or PostgreSQL by address. This room knows no physics, no
CAD and no page. A name loads its module when it is first used, so importing this is light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from borewright.ledger.backup import Backup, BackupSummary, back_up
    from borewright.ledger.certifying import (
        CertificateFacts,
        Issued,
        Proof,
        Void,
        VoidKind,
        certificate_facts,
        issue_certificate,
        proof_of,
    )
    from borewright.ledger.checking import (
        USUAL_LIMITS,
        Limits,
        correct_record,
        limits_of,
        record_check,
        sign_off,
    )
    from borewright.ledger.choice import Choice
    from borewright.ledger.cost import CostLine, CostSheet
    from borewright.ledger.costing import BatchCost, PartPrint, batch_cost, part_prints
    from borewright.ledger.kinds import RECORD_KINDS, record_kind
    from borewright.ledger.kinds.proving import Check, Subject
    from borewright.ledger.money import ROUNDING, Money
    from borewright.ledger.ordering import KeyworkOrderFacts, keywork_order_facts
    from borewright.ledger.pitch_scatter import NoteScatter, TuningScatter, tuning_scatter
    from borewright.ledger.planning import (
        Plan,
        PlannedPrint,
        Printer,
        PrintNeed,
        plan_batch,
        plan_prints,
    )
    from borewright.ledger.pricing import open_orders, price_order, unit_price
    from borewright.ledger.quotes import BestQuote, best_quote
    from borewright.ledger.quoting import QuotationFacts, quotation_facts
    from borewright.ledger.rejects import RejectRate, reject_rate
    from borewright.ledger.reporting import BatchFacts, InstrumentState, batch_facts
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
    from borewright.ledger.travelling import TravellerFacts, WorkStep, order_of, traveller_facts
    from borewright.ledger.verifying import verify
    from borewright.ledger.waiting import Wait, WaitKind, names_of, waiting_for

_WHERE = {
    "Backup": "backup",
    "BackupSummary": "backup",
    "BatchCost": "costing",
    "BatchFacts": "reporting",
    "BestQuote": "quotes",
    "CertificateFacts": "certifying",
    "Check": "kinds.proving",
    "Choice": "choice",
    "CostLine": "cost",
    "CostSheet": "cost",
    "Criterion": "scoring",
    "Entry": "store",
    "FeatureStatistics": "survey",
    "InstrumentState": "reporting",
    "Issued": "certifying",
    "KeySetUp": "setting_up",
    "KeyworkOrderFacts": "ordering",
    "LIFT_SHARE": "setting_up",
    "Ledger": "store",
    "Limits": "checking",
    "Money": "money",
    "NoteScatter": "pitch_scatter",
    "OUTLIER_RULE": "survey",
    "PartPrint": "costing",
    "Plan": "planning",
    "PlannedPrint": "planning",
    "PrintNeed": "planning",
    "Printer": "planning",
    "Proof": "certifying",
    "QuotationFacts": "quoting",
    "RECORD_KINDS": "kinds",
    "ROUNDING": "money",
    "RejectRate": "rejects",
    "Standing": "scoring",
    "Subject": "kinds.proving",
    "TravellerFacts": "travelling",
    "TuningScatter": "pitch_scatter",
    "USUAL_LIMITS": "checking",
    "Void": "certifying",
    "VoidKind": "certifying",
    "Wait": "waiting",
    "WaitKind": "waiting",
    "WorkStep": "travelling",
    "back_up": "backup",
    "batch_cost": "costing",
    "batch_facts": "reporting",
    "best_quote": "quotes",
    "certificate_facts": "certifying",
    "compare_sources": "scoring",
    "correct_record": "checking",
    "csv_text": "tables_csv",
    "feature_statistics": "survey",
    "import_csv": "tables_csv",
    "issue_certificate": "certifying",
    "keywork_order_facts": "ordering",
    "limits_of": "checking",
    "modified_z_scores": "survey",
    "names_of": "waiting",
    "open_orders": "pricing",
    "order_of": "travelling",
    "part_prints": "costing",
    "plan_batch": "planning",
    "plan_prints": "planning",
    "pooled_scatter_mm": "survey",
    "price_order": "pricing",
    "proof_of": "certifying",
    "quotation_facts": "quoting",
    "record_check": "checking",
    "record_kind": "kinds",
    "reject_rate": "rejects",
    "restore": "restoring",
    "set_up_sheet": "setting_up",
    "sign_off": "checking",
    "standings": "scoring",
    "survey_statistics": "survey",
    "traveller_facts": "travelling",
    "tuning_scatter": "pitch_scatter",
    "unit_price": "pricing",
    "verify": "verifying",
    "waiting_for": "waiting",
}

__all__ = [
    "LIFT_SHARE",
    "OUTLIER_RULE",
    "RECORD_KINDS",
    "ROUNDING",
    "USUAL_LIMITS",
    "Backup",
    "BackupSummary",
    "BatchCost",
    "BatchFacts",
    "BestQuote",
    "CertificateFacts",
    "Check",
    "Choice",
    "CostLine",
    "CostSheet",
    "Criterion",
    "Entry",
    "FeatureStatistics",
    "InstrumentState",
    "Issued",
    "KeySetUp",
    "KeyworkOrderFacts",
    "Ledger",
    "Limits",
    "Money",
    "NoteScatter",
    "PartPrint",
    "Plan",
    "PlannedPrint",
    "PrintNeed",
    "Printer",
    "Proof",
    "QuotationFacts",
    "RejectRate",
    "Standing",
    "Subject",
    "TravellerFacts",
    "TuningScatter",
    "Void",
    "VoidKind",
    "Wait",
    "WaitKind",
    "WorkStep",
    "back_up",
    "batch_cost",
    "batch_facts",
    "best_quote",
    "certificate_facts",
    "compare_sources",
    "correct_record",
    "csv_text",
    "feature_statistics",
    "import_csv",
    "issue_certificate",
    "keywork_order_facts",
    "limits_of",
    "modified_z_scores",
    "names_of",
    "open_orders",
    "order_of",
    "part_prints",
    "plan_batch",
    "plan_prints",
    "pooled_scatter_mm",
    "price_order",
    "proof_of",
    "quotation_facts",
    "record_check",
    "record_kind",
    "reject_rate",
    "restore",
    "set_up_sheet",
    "sign_off",
    "standings",
    "survey_statistics",
    "traveller_facts",
    "tuning_scatter",
    "unit_price",
    "verify",
    "waiting_for",
]


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
