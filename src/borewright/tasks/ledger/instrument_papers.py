"""The papers of one instrument: what the ledger says, handed to the layout."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from borewright.words import Text, joined, say

if TYPE_CHECKING:
    from borewright.documents import CareSheet, Certificate, Traveller
    from borewright.ledger import Check, Issued, Ledger

#: What of an assembly a certificate names.
_LOTS = {
    "keywork_lot": say("Keywork lot"),
    "pad_lot": say("Pad lot"),
    "spring_lot": say("Spring lot"),
    "cork_lot": say("Cork lot"),
    "coating_lot": say("Coating lot"),
}


def traveller(book: Ledger, serial: str) -> Traveller:
    """The job traveller: what is done already is ticked."""
    from borewright.documents import Traveller
    from borewright.ledger import traveller_facts

    facts = traveller_facts(book, serial)
    keys = _key_limits(book, facts.design.code)
    return Traveller(
        serial=serial,
        instrument=facts.design.name,
        design=facts.design.code,
        design_sha256=facts.design.file,
        batch=facts.instrument.batch or "",
        order=facts.instrument.order or "",
        plating=(facts.order and facts.order.plating) or "",
        steps=[replace(step, limit=keys.get(step.what, step.limit)) for step in facts.steps],
        certificates=[issued_words(each) for each in facts.proof.issued],
        note=facts.instrument.note or "",
    )


def _key_limits(book: Ledger, design: str) -> dict[Text, Text]:
    """What lifts and springs are checked against, where a set's key survey is kept."""
    from borewright.ledger import LIFT_OFF_MM
    from borewright.ledger.kinds.proving import Subject
    from borewright.ledger.setting_up import FORCE_OFF
    from borewright.tasks.ledger.designs import surveyed_figures

    figures = surveyed_figures(book, design)
    if not figures:
        return {}
    lifts = [
        say("{hole} {lift_mm:.2f}", hole=one.hole, lift_mm=one.lift_mm)
        for one in figures
        if one.lift_mm is not None
    ]
    forces = [
        say("{key} {force_g:.0f}", key=one.key, force_g=one.rest_g)
        for one in figures
        if one.rest_g is not None
    ]
    return {
        say("Check {subject}", subject=Subject.LIFTS): say(
            "within {off_mm:g} mm of {lifts}", off_mm=LIFT_OFF_MM, lifts=joined(lifts, ", ")
        ),
        say("Check {subject}", subject=Subject.SPRINGS): say(
            "grams at the touch within {off:g} % of {forces}",
            off=100 * FORCE_OFF,
            forces=joined(forces, ", "),
        ),
    }


def issued_words(issued: Issued) -> Text:
    """A certificate that was issued, and whether it holds."""
    number, day = issued.certificate.code, issued.certificate.day
    if issued.void is None:
        return say("{number} of {day}", number=number, day=day)
    return say("{number} of {day}: VOID, {why}", number=number, day=day, why=issued.void.words)


def certificate(book: Ledger, serial: str, who: str) -> Certificate:
    """The certificate, put on record; LedgerError says why none may be issued."""
    from borewright.documents import Certificate, CheckedReading
    from borewright.ledger import issue_certificate, limits_of

    facts, issued = issue_certificate(book, serial, who=who)
    readings = [
        CheckedReading(
            check.subject.words,
            check.feature or "",
            check.value,
            limits_of(check).unit,
            limits_of(check).words,
            check.passed,
        )
        for check in facts.others
    ]
    lots = {name: getattr(facts.lots, name, None) for name in _LOTS}
    return Certificate(
        serial=serial,
        number=issued.code,
        issued_on=issued.day,
        instrument=facts.design.name,
        design=facts.design.code,
        design_sha256=facts.design.file,
        signed_by=facts.signed.who,
        signed_on=_day_of(book, facts.signed),
        readings=readings,
        tuning=[(c.feature or "?", c.value) for c in facts.tuning if c.value is not None],
        temperature_c=facts.temperature_c,
        lots=[(_LOTS[name], lot) for name, lot in lots.items() if lot],
    )


def _day_of(book: Ledger, check: Check) -> date:
    """The day a check was made, as said, or else as written down."""
    return check.day or date.fromisoformat(book.history("check", check.code)[0].at[:10])


def care_sheet(book: Ledger, serial: str) -> CareSheet:
    """The care sheet, with what the supplier's plating test said where one is on record."""
    from borewright.documents import CareSheet
    from borewright.ledger import order_of
    from borewright.ledger.kinds.buying import Trial, Trying
    from borewright.ledger.kinds.making import Design, Instrument

    instrument = book.one(Instrument, serial)
    order = order_of(book, instrument)
    tests = book.every(Trial, {"test": Trying.PLATING})
    report: Text = ""
    if tests:
        newest = tests[-1]
        said = {"sample": newest.sample, "note": newest.note or ""}
        if newest.passed:
            report = say("The plating test on file (sample {sample}) passed. {note}", **said)
        else:
            report = say("The plating test on file (sample {sample}) did NOT pass. {note}", **said)
    return CareSheet(
        serial,
        book.one(Design, instrument.design).name,
        (order and order.material) or "",
        (order and order.plating) or "",
        report,
    )
