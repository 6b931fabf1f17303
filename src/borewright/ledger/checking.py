"""Checks judged by their limits, and the sign-off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from sqlalchemy import Connection, select

from borewright.errors import LedgerError
from borewright.ledger.fields import read_value
from borewright.ledger.kinds import record_kind
from borewright.ledger.kinds.proving import SIGN_OFF, Check, Subject
from borewright.ledger.schema import TABLES
from borewright.ledger.store import Ledger
from borewright.ledger.waiting import Wait, WaitKind, before_sign_off, waiting_within
from borewright.ledger.writing import Row, add_within, row_of
from borewright.words import Joined, Message, Text, joined, say


class Limits(NamedTuple):
    """Between what a reading must lie, and its unit; None for no limit on that side."""

    lowest: float | None
    highest: float | None
    unit: Text

    @property
    def words(self) -> Text:
        """The limits without their unit; empty where there are none."""
        if self.lowest is not None and self.highest is not None:
            return say("{lowest:g} to {highest:g}", lowest=self.lowest, highest=self.highest)
        if self.lowest is not None:
            return say("at least {lowest:g}", lowest=self.lowest)
        return "" if self.highest is None else say("at most {highest:g}", highest=self.highest)


#: Limits used where a check gives none of its own: (lowest, highest, unit). All from the
#: project's trade notes: bore by gauge ±0.05 mm; suction that holds 10 s is the floor, by a
#: bassoon repairer's scale; tuning within ±15 cents is correctable (from memory).
USUAL_LIMITS: dict[Subject, Limits] = {
    Subject.BORE: Limits(-0.05, 0.05, say("mm from nominal")),
    Subject.LEAK: Limits(10.0, None, say("s of suction held")),
    Subject.TUNING: Limits(-15.0, 15.0, say("cents")),
}


def limits_of(check: Check) -> Limits:
    """The limits a check was judged by, its unit in the reader's words where it is the usual."""
    usual = USUAL_LIMITS.get(check.subject)
    unit: Text = check.unit or ""
    return Limits(
        check.lowest, check.highest, usual.unit if usual and unit == str(usual.unit) else unit
    )


def judged(values: Mapping[str, Any]) -> dict[str, Any]:
    """A check with its limits and verdict filled in; LedgerError where they contradict.

    A reading is judged by its limits, the usual ones where none are given. Without a reading
    or without limits somebody has to say whether it passed.
    """
    check = {name: value for name, value in values.items() if value not in (None, "")}
    kind = record_kind("check")
    subject = Subject(str(read_value("check", kind.field("subject"), check.get("subject"))))
    usual = USUAL_LIMITS.get(subject)
    if usual and "value" in check and not {"lowest", "highest"} & set(check):
        both = {"lowest": usual.lowest, "highest": usual.highest}
        check |= {name: limit for name, limit in both.items() if limit is not None}
        check.setdefault("unit", str(usual.unit))
    figures = {
        name: read_value("check", replace(kind.field(name), required=False), check.get(name))
        for name in ("value", "lowest", "highest", "passed")
    }
    value, lowest, highest = (figures[name] for name in ("value", "lowest", "highest"))
    if value is None or (lowest is None and highest is None):
        if "passed" not in check:
            raise LedgerError(
                say("has no reading with limits, so it does not say whether it passed"),
                place=("check", subject.words),
                remedy=say("Give a reading with limits, or say whether it passed."),
            )
        return check
    within = (lowest is None or value >= lowest) and (highest is None or value <= highest)  # type: ignore[operator]
    if figures["passed"] is not None and figures["passed"] != within:
        cause = say("says passed=yes, but {value:g} lies outside its limits", value=value)
        if within:
            cause = say("says passed=no, but {value:g} lies within its limits", value=value)
        raise LedgerError(
            cause,
            place=("check", subject.words),
            remedy=say("Correct the reading or the limits; leave passed out."),
        )
    return check | {"passed": within}


def judged_row(kind: str, values: Mapping[str, Any]) -> Mapping[str, Any]:
    """A row of any table as it should be added; a check is judged, the rest stay as they are."""
    if kind != "check" or values.get("subject") == SIGN_OFF:
        return values
    return judged(values)


def record_check(ledger: Ledger, values: Mapping[str, Any], *, who: str) -> Row:
    """Judge a check and write it down; passed or not, it is kept."""
    if values.get("subject") == SIGN_OFF:
        raise LedgerError(
            say("an instrument is signed off, not checked off"),
            place=("check", "subject"),
            remedy=say("Sign it off once its checks are made."),
        )
    return ledger.add("check", judged(values) | {"who": values.get("who") or who}, who=who)


def correct_record(
    ledger: Ledger,
    kind: str,
    code: str,
    changes: Mapping[str, Any],
    *,
    who: str,
    reason: str,
    version: int | None = None,
) -> Row:
    """Correct a record as :meth:`Ledger.correct` does; a check is judged anew.

    A verdict that nobody changes follows the corrected reading and limits, so that a slip of
    the pen put right does not keep the verdict of the slip. LedgerError where a sign-off would
    become a reading or a reading a sign-off.
    """
    if record_kind(kind).name == "check":
        record = ledger.get("check", code)
        check = Check.read(record)
        version = check.version if version is None else version
        if SIGN_OFF in (check.subject, subject := changes.get("subject", check.subject)):
            if subject != check.subject:
                raise LedgerError(
                    say("a reading is no sign-off, nor the other way round"),
                    place=("check", "subject"),
                    remedy=say("Take the record out of use and write down what is true."),
                )
        elif check.version == version:
            changes = {**changes, **_judged_anew(record, changes)}
    return ledger.correct(kind, code, changes, who=who, reason=reason, version=version)


def _judged_anew(record: Row, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Limits, unit and verdict of a check with changes made."""
    values = {n: v for n, v in record.items() if n not in ("code", "version", "withdrawn")}
    values |= dict(changes)
    known = {name for name in ("lowest", "highest") if values.get(name) not in (None, "")}
    limited = known or values.get("subject") in USUAL_LIMITS
    if "passed" not in changes and values.get("value") not in (None, "") and limited:
        del values["passed"]
    found = judged(values)
    return {name: found[name] for name in ("lowest", "highest", "unit", "passed") if name in found}


def sign_off(ledger: Ledger, serial: str, *, who: str, note: str = "") -> Row:
    """Sign an instrument off; LedgerError where it still waits for anything else."""
    with ledger.writing() as connection:
        row_of(connection, record_kind("instrument"), serial)
        table = TABLES["instrument"].c
        # On a server, two who sign off at once take turns.
        connection.execute(select(table.id).where(table.code == serial).with_for_update())
        waits = waiting_within(connection, [serial]).get(serial)
        refused: Message | None = None
        if waits is None:
            refused = say("was withdrawn, so it is not signed off")
        elif before := before_sign_off(waits):
            refused = say("cannot be signed off: it waits for {what}", what=all_words(before))
        elif not any(wait.kind is WaitKind.SIGN_OFF for wait in waits):
            refused = say("is signed off already")
        if refused is not None:
            place = say("instrument {serial}", serial=serial)
            raise LedgerError(refused, place=place, remedy=say("Nothing was written."))
        values = {"instrument": serial, "subject": SIGN_OFF, "passed": True, "who": who}
        return add_within(connection, "check", [values | {"note": note}], who=who)[0]


def refuse_early_sign_off(connection: Connection, serial: str) -> None:
    """LedgerError where checks that come before the sign-off are missing or failed.

    For sign-offs that come with a table of checks: there, parts and assembly may follow later.
    """
    waits = waiting_within(connection, [serial]).get(serial, [])
    before = [wait for wait in waits if wait.kind in (WaitKind.CHECK, WaitKind.REPAIR)]
    if before:
        raise LedgerError(
            say(
                "signs '{serial}' off, which by then waited for {what}",
                serial=serial,
                what=all_words(before),
            ),
            place="check",
            remedy=say("Put the checks' lines before it, or leave it out and sign off afterwards."),
        )


def all_words(waits: list[Wait]) -> Joined:
    """Everything waited for in one line."""
    return joined((wait.words for wait in waits), "; ")
