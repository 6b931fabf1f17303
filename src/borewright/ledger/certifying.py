"""Certificates: what one says, whether it may be issued, and which of those issued are void.

A certificate speaks of the readings that count. It may be issued while the sign-off holds and
nothing is waited for but the delivery. Whether one that was issued still holds is asked anew
every time, by the same rule, and never kept.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import date
from enum import Enum

from sqlalchemy import Connection

from borewright.errors import LedgerError
from borewright.ledger.counting import SignOff, checks_of, counting, sign_offs
from borewright.ledger.exchanging import Stay
from borewright.ledger.fields import as_json
from borewright.ledger.kinds.making import Assembly, Design, Instrument
from borewright.ledger.kinds.proving import Check, IssuedCertificate, Subject
from borewright.ledger.store import Ledger
from borewright.ledger.waiting import Wait, before_sign_off, waiting_within
from borewright.ledger.writing import add_within, every_within, public_record, row_of
from borewright.words import Message, joined, say

#: What a certificate repeats of a reading.
_SAID = ("subject", "feature", "value", "unit", "lowest", "highest", "passed", "temperature_c")


@dataclass(frozen=True)
class CertificateFacts:
    """What the certificate of an instrument says now; ``signed`` is the sign-off it rests on.

    ``lots`` are what went into the instrument, None where nobody assembled it yet.
    """

    instrument: Instrument
    design: Design
    signed: Check
    readings: tuple[Check, ...]
    lots: Assembly | None

    @property
    def tuning(self) -> list[Check]:
        """Notes with what was measured."""
        return [c for c in self.readings if c.subject is Subject.TUNING and c.value is not None]

    @property
    def others(self) -> list[Check]:
        """Every other reading."""
        return [check for check in self.readings if check not in self.tuning]

    @property
    def temperature_c(self) -> float | None:
        """The air's, when the notes were taken."""
        return next((c.temperature_c for c in self.tuning if c.temperature_c is not None), None)

    @property
    def digest(self) -> str:
        """SHA-256 of all it says."""
        lots = self.lots and [getattr(self.lots, f.name) for f in Assembly.kind.fields if f.link]
        said = [
            [self.instrument.code, self.design.code, self.design.file, self.signed.code, lots],
            [[as_json(getattr(check, name)) for name in _SAID] for check in self.readings],
        ]
        return hashlib.sha256(json.dumps(said).encode()).hexdigest()


class VoidKind(Enum):
    """Why a certificate does not hold any more."""

    TAKEN_BACK = "taken back"
    FAILED_SINCE = "failed since"
    EXCHANGED = "exchanged"
    SIGNED_ANEW = "signed anew"
    WAITS = "waits"
    CHANGED = "changed"


@dataclass(frozen=True)
class Void:
    """Why a certificate is void; ``failed`` or ``left`` is what undid the sign-off."""

    kind: VoidKind
    failed: Check | None = None
    left: Stay | None = None
    waits: tuple[Wait, ...] = ()

    @property
    def words(self) -> Message:
        """The reason as a clause."""
        if self.kind is VoidKind.FAILED_SINCE and self.failed is not None:
            return failure_words(self.failed)
        if self.kind is VoidKind.EXCHANGED and self.left is not None:
            return exchange_words(self.left)
        if self.kind is VoidKind.WAITS:
            what = joined((wait.words for wait in self.waits), "; ")
            return say("the instrument waits for {what}", what=what)
        if self.kind is VoidKind.SIGNED_ANEW:
            return say("the instrument was signed off anew")
        if self.kind is VoidKind.CHANGED:
            return say("what it says was corrected since")
        return say("it was taken back")


@dataclass(frozen=True)
class Issued:
    """A certificate that was issued, and why it is void; None while it holds."""

    certificate: IssuedCertificate
    void: Void | None


@dataclass(frozen=True)
class Proof:
    """What the checks of an instrument prove now.

    ``sign_off`` is the newest one, with what has undone it; ``refused`` says why no certificate
    may be issued, None where one may; ``issued`` are the certificates so far, the oldest first.
    """

    serial: str
    readings: tuple[Check, ...]
    waits: tuple[Wait, ...]
    sign_off: SignOff | None
    refused: Message | None
    issued: tuple[Issued, ...]

    @property
    def signed_off(self) -> bool:
        """Whether it is signed off, and that still holds."""
        return self.sign_off is not None and self.sign_off.valid


def failure_words(failed: Check) -> Message:
    """Which check failed, as a clause."""
    if failed.feature:
        return say(
            "the check '{check}' of {subject}, {feature} failed afterwards",
            check=failed.code,
            subject=failed.subject,
            feature=failed.feature,
        )
    return say(
        "the check '{check}' of {subject} failed afterwards",
        check=failed.code,
        subject=failed.subject,
    )


def exchange_words(left: Stay) -> Message:
    """Which part is not in it any more, as a clause."""
    return say("{name} '{part}' was taken out afterwards", name=left.name, part=left.code)


def undone_words(signed: SignOff) -> Message | None:
    """Why a sign-off does not hold any more, as a clause; None where it does."""
    if signed.undone_by is not None:
        return failure_words(signed.undone_by)
    return None if signed.left is None else exchange_words(signed.left)


def proof_of(ledger: Ledger, serial: str) -> Proof:
    """What is proved of an instrument; LedgerError where there is none."""
    with ledger.reading() as connection:
        return _proof(connection, serial)[0]


def certificate_facts(ledger: Ledger, serial: str) -> CertificateFacts:
    """What the certificate would say; LedgerError says why none may be issued."""
    with ledger.reading() as connection:
        return _certified(*_proof(connection, serial))


def issue_certificate(
    ledger: Ledger, serial: str, *, who: str, day: date | None = None
) -> tuple[CertificateFacts, IssuedCertificate]:
    """Put a certificate on record; the one issued already where it holds and says the same.

    LedgerError says why none may be issued.
    """
    with ledger.writing() as connection:
        proof, facts = _proof(connection, serial)
        certified = _certified(proof, facts)
        held = [each.certificate for each in proof.issued if each.void is None]
        if held:
            return certified, held[-1]
        values = {
            "instrument": serial,
            "sign_off": certified.signed.code,
            "digest": certified.digest,
            "day": day or date.today(),
            "who": who,
        }
        (row,) = add_within(connection, "certificate", [values], who=who)
        return certified, IssuedCertificate.read(row)


def _certified(proof: Proof, facts: CertificateFacts | None) -> CertificateFacts:
    if facts is None or proof.refused is not None:
        raise LedgerError(
            proof.refused or say("is not signed off, so nothing can be certified"),
            place=say("instrument {serial}", serial=proof.serial),
            remedy=say("Put right what it waits for, and sign it off again."),
        )
    return facts


def _proof(connection: Connection, serial: str) -> tuple[Proof, CertificateFacts | None]:
    instrument = Instrument.read(public_record(row_of(connection, Instrument.kind, serial)))
    made = checks_of(connection, serial)
    signed = sign_offs(connection, serial, made)
    newest = signed[-1] if signed else None
    readings = tuple(counting(made))
    waits = tuple(waiting_within(connection, [serial]).get(serial, []))
    facts = None
    if newest is not None:
        design = Design.read(row_of(connection, Design.kind, instrument.design))
        lots = every_within(connection, Assembly, {"instrument": serial})
        facts = CertificateFacts(
            instrument, design, newest.check, readings, lots[-1] if lots else None
        )
    where = {"instrument": serial}
    issued = [
        Issued(each, _void(each, instrument, signed, facts, tuple(before_sign_off(waits))))
        for each in every_within(connection, IssuedCertificate, where, withdrawn=True)
    ]
    refused = _refused(instrument, newest, before_sign_off(waits))
    return Proof(serial, readings, waits, newest, refused, tuple(issued)), facts


def _refused(instrument: Instrument, newest: SignOff | None, before: list[Wait]) -> Message | None:
    if instrument.withdrawn:
        return say("was withdrawn, so nothing can be certified")
    if newest is None:
        return say("is not signed off, so nothing can be certified")
    why = undone_words(newest)
    if before and newest.undone_by is None:
        what = joined((wait.words for wait in before), "; ")
        return say("cannot be certified: it waits for {what}", what=what)
    if why is not None:
        return say("is not signed off any more, so nothing can be certified: {why}", why=why)
    return None


def _void(
    issued: IssuedCertificate,
    instrument: Instrument,
    signed: list[SignOff],
    facts: CertificateFacts | None,
    before: tuple[Wait, ...],
) -> Void | None:
    its = next((each for each in signed if each.check.code == issued.sign_off), None)
    if issued.withdrawn or instrument.withdrawn or its is None or facts is None:
        return Void(VoidKind.TAKEN_BACK)
    if its.undone_by is not None:
        return Void(VoidKind.FAILED_SINCE, failed=its.undone_by)
    if its is signed[-1] and before:
        return Void(VoidKind.WAITS, waits=before)
    if its.left is not None:
        return Void(VoidKind.EXCHANGED, left=its.left)
    if its is not signed[-1]:
        return Void(VoidKind.SIGNED_ANEW)
    return Void(VoidKind.CHANGED) if issued.digest != facts.digest else None
