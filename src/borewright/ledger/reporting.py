"""A batch as it stands: every instrument, what printing took, and what it cost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from borewright.ledger.certifying import Proof, proof_of
from borewright.ledger.costing import BatchCost, PartPrint, batch_cost, part_prints
from borewright.ledger.kinds.making import Batch, Instrument
from borewright.ledger.kinds.proving import Check, Subject
from borewright.ledger.store import Ledger


@dataclass(frozen=True)
class InstrumentState:
    """One instrument of a batch: its tuning's root mean square in cents, and its proof."""

    instrument: Instrument
    rms_cents: float | None
    passed: int
    proof: Proof


@dataclass(frozen=True)
class BatchFacts:
    """A batch with its instruments, print means and cost."""

    batch: Batch
    instruments: tuple[InstrumentState, ...]
    prints: tuple[PartPrint, ...]
    cost: BatchCost

    @property
    def delivered(self) -> int:
        """How many wait for nothing any more."""
        return sum(not each.proof.waits for each in self.instruments)


def batch_facts(ledger: Ledger, batch: str) -> BatchFacts:
    """The state of a batch; LedgerError where it cannot be costed."""
    record = ledger.one(Batch, batch)
    states = []
    for instrument in ledger.every(Instrument, {"batch": batch}):
        proof = proof_of(ledger, instrument.code)
        passed = sum(check.passed for check in proof.readings)
        states.append(InstrumentState(instrument, rms_cents(proof.readings), passed, proof))
    prints, _ = part_prints(ledger, record.design)
    return BatchFacts(record, tuple(states), tuple(prints), batch_cost(ledger, batch))


def rms_cents(readings: Sequence[Check]) -> float | None:
    """Root mean square of the notes measured; None where there are none."""
    cents = [
        check.value
        for check in readings
        if check.subject is Subject.TUNING and check.value is not None
    ]
    return math.sqrt(sum(value**2 for value in cents) / len(cents)) if cents else None
