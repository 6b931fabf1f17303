"""The papers of a batch: its report and its plan."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from borewright.words import Text, say

if TYPE_CHECKING:
    from borewright.documents import BatchPlan, BatchReport
    from borewright.ledger import InstrumentState, Ledger, Proof


@dataclass(frozen=True)
class PlanHours:
    """When somebody is there to start a print: the first day, and hours of the day.

    ``first_day`` None takes the batch's own.
    """

    first_day: date | None = None
    opens: int = 8
    closes: int = 18
    free_weekends: bool = False


def batch_report(book: Ledger, batch: str) -> BatchReport:
    """The batch report as of today."""
    from borewright.documents import BatchReport, BatchRow, PrintRow
    from borewright.ledger import batch_facts

    facts = batch_facts(book, batch)
    sheet = facts.cost.sheet

    def row(state: InstrumentState) -> BatchRow:
        return BatchRow(
            serial=state.instrument.code,
            order=state.instrument.order or "",
            tuning_rms_cents=state.rms_cents,
            passed=state.passed,
            checks=len(state.proof.readings),
            signed_by=_signed_by(state.proof),
            certificate=_certificate(state.proof),
            waits_for=_next(state.proof),
        )

    return BatchReport(
        batch=batch,
        design=facts.batch.design,
        quantity=facts.batch.quantity,
        delivered=facts.delivered,
        day=date.today(),
        rows=[row(state) for state in facts.instruments],
        prints=[
            PrintRow(one.part, one.good, one.rejected, one.hours, one.mass_g)
            for one in facts.prints
        ],
        costs=[
            (say("Unit cost"), sheet.unit_cost.words),
            (say("Whole batch"), sheet.total_cost.words),
        ],
        notes=facts.cost.notes,
    )


def _signed_by(proof: Proof) -> Text:
    if proof.sign_off is None:
        return ""
    who = proof.sign_off.check.who
    return who if proof.signed_off else say("{who}, not valid any more", who=who)


def _certificate(proof: Proof) -> Text:
    if not proof.issued:
        return ""
    newest = proof.issued[-1]
    number = newest.certificate.code
    if newest.void is None:
        return number
    return say("{number}: VOID, {why}", number=number, why=newest.void.words)


def _next(proof: Proof) -> Text:
    if not proof.waits:
        return say("delivered")
    first, more = proof.waits[0].words, len(proof.waits) - 1
    return say("{what} (+{more})", what=first, more=more) if more else first


def batch_plan(book: Ledger, batch: str, hours: PlanHours) -> BatchPlan:
    """The plan of a batch; LedgerError where nothing can be planned."""
    from borewright.documents import BatchPlan, PlanRow
    from borewright.ledger import plan_batch
    from borewright.ledger.kinds.making import Batch

    record = book.one(Batch, batch)
    plan = plan_batch(
        book, batch, hours.first_day,
        opens=hours.opens, closes=hours.closes, free_weekends=hours.free_weekends,
    )  # fmt: skip
    started = say("{opens} to {closes} o'clock", opens=hours.opens, closes=hours.closes)
    if hours.free_weekends:
        started = say("{hours}, not on weekends", hours=started)
    proof = say("A shorter plan may exist.")
    if plan.proved_shortest:
        proof = say("No shorter plan exists.")
    return BatchPlan(
        batch=batch,
        design=record.design,
        quantity=record.quantity,
        started=started,
        ready=plan.ready,
        rows=[
            PlanRow(one.day, one.start_hour, one.printer, one.part, one.hours, one.ready)
            for one in plan.prints
        ],
        notes=[say("Prints for the rejects to be expected, by the record, are included."), proof],
    )
