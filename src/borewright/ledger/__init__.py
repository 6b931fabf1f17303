"""The workshop's records: keywork, lots, serial numbers, checks, cost and orders.

Kept in a database, SQLite by default or PostgreSQL by address. This room knows no physics, no
CAD and no page. A name loads its module when it is first used, so importing this is light.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from borewright.listing import listed

if TYPE_CHECKING:
    from borewright.ledger.backup import Backup as Backup
    from borewright.ledger.backup import BackupSummary as BackupSummary
    from borewright.ledger.backup import back_up as back_up
    from borewright.ledger.certifying import CertificateFacts as CertificateFacts
    from borewright.ledger.certifying import Issued as Issued
    from borewright.ledger.certifying import Proof as Proof
    from borewright.ledger.certifying import Void as Void
    from borewright.ledger.certifying import VoidKind as VoidKind
    from borewright.ledger.certifying import certificate_facts as certificate_facts
    from borewright.ledger.certifying import issue_certificate as issue_certificate
    from borewright.ledger.certifying import proof_of as proof_of
    from borewright.ledger.checking import USUAL_LIMITS as USUAL_LIMITS
    from borewright.ledger.checking import Limits as Limits
    from borewright.ledger.checking import correct_record as correct_record
    from borewright.ledger.checking import limits_of as limits_of
    from borewright.ledger.checking import record_check as record_check
    from borewright.ledger.checking import sign_off as sign_off
    from borewright.ledger.cost import CostLine as CostLine
    from borewright.ledger.cost import CostSheet as CostSheet
    from borewright.ledger.costing import BatchCost as BatchCost
    from borewright.ledger.costing import PartPrint as PartPrint
    from borewright.ledger.costing import batch_cost as batch_cost
    from borewright.ledger.costing import part_prints as part_prints
    from borewright.ledger.customers import CustomerData as CustomerData
    from borewright.ledger.customers import Erased as Erased
    from borewright.ledger.customers import customer_data as customer_data
    from borewright.ledger.customers import customer_names as customer_names
    from borewright.ledger.customers import erase_customer as erase_customer
    from borewright.ledger.gathering import Gathered as Gathered
    from borewright.ledger.gathering import gather as gather
    from borewright.ledger.kinds import RECORD_KINDS as RECORD_KINDS
    from borewright.ledger.kinds import record_kind as record_kind
    from borewright.ledger.kinds.proving import Check as Check
    from borewright.ledger.kinds.proving import Subject as Subject
    from borewright.ledger.money import ROUNDING as ROUNDING
    from borewright.ledger.money import Money as Money
    from borewright.ledger.ordering import KeyworkOrderFacts as KeyworkOrderFacts
    from borewright.ledger.ordering import keywork_order_facts as keywork_order_facts
    from borewright.ledger.pitch_scatter import NoteScatter as NoteScatter
    from borewright.ledger.pitch_scatter import TuningScatter as TuningScatter
    from borewright.ledger.pitch_scatter import tuning_scatter as tuning_scatter
    from borewright.ledger.planning import Plan as Plan
    from borewright.ledger.planning import PlannedPrint as PlannedPrint
    from borewright.ledger.planning import Printer as Printer
    from borewright.ledger.planning import PrintNeed as PrintNeed
    from borewright.ledger.planning import plan_batch as plan_batch
    from borewright.ledger.planning import plan_prints as plan_prints
    from borewright.ledger.pricing import open_orders as open_orders
    from borewright.ledger.pricing import price_order as price_order
    from borewright.ledger.pricing import unit_price as unit_price
    from borewright.ledger.quotes import BestQuote as BestQuote
    from borewright.ledger.quotes import best_quote as best_quote
    from borewright.ledger.quoting import QuotationFacts as QuotationFacts
    from borewright.ledger.quoting import quotation_facts as quotation_facts
    from borewright.ledger.rejects import RejectRate as RejectRate
    from borewright.ledger.rejects import reject_rate as reject_rate
    from borewright.ledger.reporting import BatchFacts as BatchFacts
    from borewright.ledger.reporting import InstrumentState as InstrumentState
    from borewright.ledger.reporting import batch_facts as batch_facts
    from borewright.ledger.restoring import restore as restore
    from borewright.ledger.scoring import Criterion as Criterion
    from borewright.ledger.scoring import Standing as Standing
    from borewright.ledger.scoring import compare_sources as compare_sources
    from borewright.ledger.scoring import standings as standings
    from borewright.ledger.setting_up import LIFT_OFF_MM as LIFT_OFF_MM
    from borewright.ledger.setting_up import LIFT_SHARE as LIFT_SHARE
    from borewright.ledger.setting_up import KeySetUp as KeySetUp
    from borewright.ledger.setting_up import set_up_sheet as set_up_sheet
    from borewright.ledger.store import Entry as Entry
    from borewright.ledger.store import Ledger as Ledger
    from borewright.ledger.survey import OUTLIER_RULE as OUTLIER_RULE
    from borewright.ledger.survey import FeatureStatistics as FeatureStatistics
    from borewright.ledger.survey import feature_statistics as feature_statistics
    from borewright.ledger.survey import modified_z_scores as modified_z_scores
    from borewright.ledger.survey import pooled_scatter_mm as pooled_scatter_mm
    from borewright.ledger.survey import survey_statistics as survey_statistics
    from borewright.ledger.tables_csv import csv_text as csv_text
    from borewright.ledger.tables_csv import import_csv as import_csv
    from borewright.ledger.travelling import TravellerFacts as TravellerFacts
    from borewright.ledger.travelling import order_of as order_of
    from borewright.ledger.travelling import traveller_facts as traveller_facts
    from borewright.ledger.verifying import verify as verify
    from borewright.ledger.waiting import Wait as Wait
    from borewright.ledger.waiting import WaitKind as WaitKind
    from borewright.ledger.waiting import names_of as names_of
    from borewright.ledger.waiting import waiting_for as waiting_for
    from borewright.model.results.work import WorkStep as WorkStep
    from borewright.words import Choice as Choice

__all__, __getattr__ = listed(__name__, __file__)
