"""The way of one serial number through the workshop: its steps, and which of them are done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from borewright.ledger.certifying import Proof, proof_of
from borewright.ledger.checking import USUAL_LIMITS
from borewright.ledger.kinds.making import Assembly, Design, Instrument, Part, PartState
from borewright.ledger.kinds.proving import NEEDED_CHECKS, Check, Subject
from borewright.ledger.kinds.selling import Order
from borewright.ledger.store import Ledger
from borewright.ledger.waiting import names_of
from borewright.model.results.work import WorkStep
from borewright.words import Text, say


@dataclass(frozen=True)
class TravellerFacts:
    """An instrument with its order (None for none), its steps, and what its checks prove."""

    instrument: Instrument
    design: Design
    order: Order | None
    steps: tuple[WorkStep, ...]
    proof: Proof


def order_of(ledger: Ledger, instrument: Instrument) -> Order | None:
    """The order that an instrument is for."""
    return None if instrument.order is None else ledger.one(Order, instrument.order)


def traveller_facts(ledger: Ledger, serial: str) -> TravellerFacts:
    """The job traveller of an instrument as of now."""
    instrument = ledger.one(Instrument, serial)
    design, proof = ledger.one(Design, instrument.design), proof_of(ledger, serial)
    where = {"instrument": serial, "design": design.code, "outcome": PartState.GOOD}
    parts = {part.name: part for part in ledger.every(Part, where)}
    assembled = ledger.every(Assembly, {"instrument": serial})
    steps = [
        WorkStep(
            say("Print {part}", part=name),
            say("part {number}", number=parts[name].code) if name in parts else "",
            name in parts,
        )
        for name in names_of(design.parts)
    ]
    steps += [
        WorkStep(say("Ream, seal, face the pad seats"), done=bool(assembled)),
        WorkStep(
            say("Fit keywork, pads, springs, corks"),
            done=bool(assembled),
            who=assembled[-1].who if assembled else "",
        ),
        *_checks(design, proof.readings),
        WorkStep(
            say("Sign off"),
            done=proof.signed_off,
            who=proof.sign_off.check.who if proof.sign_off and proof.signed_off else "",
        ),
    ]
    return TravellerFacts(instrument, design, order_of(ledger, instrument), tuple(steps), proof)


def _checks(design: Design, readings: Sequence[Check]) -> Iterator[WorkStep]:
    for subject in NEEDED_CHECKS:
        limit: Text = ""
        if subject in USUAL_LIMITS:
            usual = USUAL_LIMITS[subject]
            limit = say("{limits} {unit}", limits=usual.words, unit=usual.unit)
        sealed = names_of(design.sealed_parts) if subject is Subject.LEAK else []
        for feature in sealed or [""]:
            made = [c for c in readings if c.subject is subject and feature in ("", c.feature)]
            done = bool(made) and all(check.passed for check in made)
            what = say("Check {subject}", subject=subject)
            if feature:
                what = say("Check {subject}, {feature}", subject=subject, feature=feature)
            yield WorkStep(what, limit, done, made[-1].who if done else "")
