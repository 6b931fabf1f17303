"""Checks against their limits, what each serial number waits for, and the sign-off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import Connection, select

from borewright.errors import LedgerError
from borewright.ledger.checks_made import ChecksMade, checks_made
from borewright.ledger.fields import read_value
from borewright.ledger.kinds import record_kind
from borewright.ledger.kinds.proving import NEEDED_CHECKS, SIGN_OFF
from borewright.ledger.schema import TABLES
from borewright.ledger.store import Ledger
from borewright.ledger.writing import Record, add_within, row_of

#: Limits used where a check gives none of its own: (lowest, highest, unit). All from the
#: project's trade notes: bore by gauge ±0.05 mm; suction that holds 10 s is the floor, by a
#: bassoon repairer's scale; tuning within ±15 cents is correctable (from memory).
USUAL_LIMITS: dict[str, tuple[float | None, float | None, str]] = {
    "bore": (-0.05, 0.05, "mm from nominal"),
    "leak": (10.0, None, "s of suction held"),
    "tuning": (-15.0, 15.0, "cents"),
}


def judged(values: Mapping[str, Any]) -> dict[str, Any]:
    """A check with its limits and verdict filled in; LedgerError where they contradict.

    A reading is judged by its limits, the usual ones where none are given. Without a reading
    or without limits somebody has to say whether it passed.
    """
    check = {name: value for name, value in values.items() if value not in (None, "")}
    kind = record_kind("check")
    subject = str(read_value("check", kind.field("subject"), check.get("subject")))
    usual = USUAL_LIMITS.get(subject)
    if usual and "value" in check and not {"lowest", "highest"} & set(check):
        check |= {
            n: v for n, v in zip(("lowest", "highest"), usual[:2], strict=True) if v is not None
        }
        check.setdefault("unit", usual[2])
    figures = {
        name: read_value("check", replace(kind.field(name), required=False), check.get(name))
        for name in ("value", "lowest", "highest", "passed")
    }
    value, lowest, highest = (figures[name] for name in ("value", "lowest", "highest"))
    if value is None or (lowest is None and highest is None):
        if "passed" not in check:
            raise LedgerError(
                "has no reading with limits, so it does not say whether it passed",
                place=f"check, {subject or 'subject'}",
                remedy="Give value with lowest or highest, or say passed=yes or passed=no.",
            )
        return check
    within = (lowest is None or value >= lowest) and (highest is None or value <= highest)  # type: ignore[operator]
    if figures["passed"] is not None and figures["passed"] != within:
        raise LedgerError(
            f"says passed={'yes' if figures['passed'] else 'no'}, but {value:g} lies "
            f"{'within' if within else 'outside'} its limits",
            place=f"check, {subject}",
            remedy="Correct the reading or the limits; leave passed out.",
        )
    return check | {"passed": within}


def judged_row(kind: str, values: Mapping[str, Any]) -> Mapping[str, Any]:
    """A row of any table as it should be added; a check is judged, the rest stay as they are."""
    if kind != "check" or values.get("subject") == SIGN_OFF:
        return values
    return judged(values)


def record_check(ledger: Ledger, values: Mapping[str, Any], *, who: str) -> Record:
    """Judge a check and write it down; passed or not, it is kept."""
    if values.get("subject") == SIGN_OFF:
        raise LedgerError(
            "an instrument is signed off by its own command",
            place="check, subject",
            remedy="Use `borewright ledger sign-off`.",
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
) -> Record:
    """Correct a record as :meth:`Ledger.correct` does; a check is judged anew.

    A verdict that nobody changes follows the corrected reading and limits, so that a slip of
    the pen put right does not keep the verdict of the slip. LedgerError where a sign-off would
    become a reading or a reading a sign-off.
    """
    if record_kind(kind).name == "check":
        record = ledger.get("check", code)
        version = int(str(record["version"])) if version is None else version
        if SIGN_OFF in (record["subject"], subject := changes.get("subject", record["subject"])):
            if subject != record["subject"]:
                raise LedgerError(
                    "a reading is no sign-off, nor the other way round",
                    place="check, subject",
                    remedy="Take the record out of use and write down what is true.",
                )
        elif record["version"] == version:
            changes = {**changes, **_judged_anew(record, changes)}
    return ledger.correct(kind, code, changes, who=who, reason=reason, version=version)


def _judged_anew(record: Record, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Limits, unit and verdict of a check with changes made."""
    values = {n: v for n, v in record.items() if n not in ("code", "version", "withdrawn")}
    values |= dict(changes)
    known = {name for name in ("lowest", "highest") if values.get(name) not in (None, "")}
    limited = known or values.get("subject") in USUAL_LIMITS
    if "passed" not in changes and values.get("value") not in (None, "") and limited:
        del values["passed"]
    found = judged(values)
    return {name: found[name] for name in ("lowest", "highest", "unit", "passed") if name in found}


def sign_off(ledger: Ledger, serial: str, *, who: str, note: str = "") -> Record:
    """Sign an instrument off; LedgerError where it still waits for anything else."""
    with ledger.writing() as connection:
        row_of(connection, record_kind("instrument"), serial)
        table = TABLES["instrument"].c
        # On a server, two who sign off at once take turns.
        connection.execute(select(table.id).where(table.code == serial).with_for_update())
        needs = waiting_within(connection, [serial]).get(serial, ["nothing: it was withdrawn"])
        if not needs or needs[0] != SIGN_OFF:
            before = needs[: needs.index(SIGN_OFF)] if SIGN_OFF in needs else []
            why = "is signed off already, or withdrawn"
            if before:
                why = f"cannot be signed off: it waits for {'; '.join(before)}"
            raise LedgerError(why, place=f"instrument {serial}", remedy="Nothing was written.")
        values = {"instrument": serial, "subject": SIGN_OFF, "passed": True, "who": who}
        return add_within(connection, "check", [values | {"note": note}], who=who)[0]


def refuse_early_sign_off(connection: Connection, serial: str) -> None:
    """LedgerError where checks that come before the sign-off are missing or failed.

    For sign-offs that come with a table of checks: there, parts and assembly may follow later.
    """
    needs = waiting_within(connection, [serial]).get(serial, [])
    before = [need for need in needs if need.startswith(_CHECKS_WAITED_FOR)]
    if before:
        raise LedgerError(
            f"signs '{serial}' off, which by then waited for {'; '.join(before)}",
            place="check",
            remedy="Put the checks' lines before it, or leave it out and use "
            "`borewright ledger sign-off`.",
        )


def waiting_for(ledger: Ledger, serials: Sequence[str] | None = None) -> dict[str, list[str]]:
    """What each serial number waits for, the next thing first; nothing once delivered.

    ``serials`` restricts it; None means every instrument that is not withdrawn.
    """
    with ledger.reading() as connection:
        return waiting_within(connection, serials)


def waiting_within(
    connection: Connection, serials: Sequence[str] | None = None
) -> dict[str, list[str]]:
    """As :func:`waiting_for`, on an open connection."""
    instruments = _rows(connection, "instrument", "code", serials)
    designs = {row["code"]: row for row in _rows(connection, "design", "code", None)}
    orders = {row["code"]: row for row in _rows(connection, "order", "code", None)}
    parts = _by_instrument(_rows(connection, "part", "instrument", serials))
    assemblies = _by_instrument(_rows(connection, "assembly", "instrument", serials))
    checks = checks_made(connection, serials)
    found = {}
    for row in instruments:
        serial = row["code"]
        design = designs[row["design"]]
        needs = _parts_needed(design, parts.get(serial, []))
        if serial not in assemblies:
            needs.append("assembly of keywork, pads, springs and corks")
        needs += _checks_needed(design, checks.get(serial, ChecksMade()))
        order = orders.get(row["order"] or "")
        if order is None:
            needs.append("an order")
        elif order["delivered"] is None:
            needs.append(f"delivery of order {order['code']}")
        found[serial] = needs
    return found


def _rows(
    connection: Connection, kind: str, column: str, values: Sequence[str] | None
) -> list[dict[str, Any]]:
    table = TABLES[kind]
    query = select(table).where(table.c.withdrawn.is_(False)).order_by(table.c.id)
    if values is None:
        return [dict(row) for row in connection.execute(query).mappings()]
    rows: list[dict[str, Any]] = []
    for start in range(0, len(values), 500):
        chosen = query.where(table.c[column].in_(list(values[start : start + 500])))
        rows += [dict(row) for row in connection.execute(chosen).mappings()]
    return rows


def _by_instrument(rows: Sequence[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    grouped: dict[str, list[dict[str, Any]]] = {}
    for row in rows:
        if row["instrument"] is not None:
            grouped.setdefault(row["instrument"], []).append(row)
    return grouped


def names_of(text: str | None) -> list[str]:
    """Names that stand in one field, with semicolons between them."""
    return [name.strip() for name in (text or "").split(";") if name.strip()]


def _parts_needed(design: Mapping[str, Any], parts: Sequence[Mapping[str, Any]]) -> list[str]:
    good = {
        part["name"]
        for part in parts
        if part["outcome"] == "good" and part["design"] == design["code"]
    }
    absent = [name for name in names_of(design["parts"]) if name not in good]
    return [f"printed {name} of {design['code']}" for name in absent]


#: How :func:`_checks_needed` begins its words.
_CHECKS_WAITED_FOR = ("check: ", "repair and check again: ")


def _checks_needed(design: Mapping[str, Any], made: ChecksMade) -> list[str]:
    """Checks that are missing, or whose newest reading failed; the sign-off comes last.

    A sign-off counts until a check made after it fails.
    """
    needs = []
    for subject in NEEDED_CHECKS:
        wanted = names_of(design["sealed_parts"]) if subject == "leak" else []
        needs += [f"check: {subject}, {name}" for name in wanted if name not in made.leak_tested]
        if subject not in made.subjects and not wanted:
            needs.append(f"check: {subject}")
        needs += [
            f"repair and check again: {subject}" + (f", {feature}" if feature else "")
            for failed, feature in made.failing
            if failed == subject
        ]
    if made.signed <= made.last_failure:
        needs.append(SIGN_OFF)
    return needs
