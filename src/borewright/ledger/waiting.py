"""What each instrument waits for, as data: the next thing first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

from sqlalchemy import Connection, select

from borewright.ledger.counting import ChecksMade, checks_made
from borewright.ledger.kinds.making import PartState
from borewright.ledger.kinds.proving import NEEDED_CHECKS, Subject
from borewright.ledger.schema import TABLES
from borewright.ledger.store import Ledger
from borewright.words import Message, say


class WaitKind(Enum):
    """Kinds of thing that an instrument may wait for, in the order of the workshop."""

    PRINT = "print"
    ASSEMBLY = "assembly"
    CHECK = "check"
    REPAIR = "repair"
    SIGN_OFF = "sign-off"
    ORDER = "order"
    DELIVERY = "delivery"


#: What comes after the sign-off.
AFTERWARDS = (WaitKind.ORDER, WaitKind.DELIVERY)


@dataclass(frozen=True)
class Wait:
    """One thing waited for.

    ``subject`` is the check's; ``feature`` the part to print, the joint, key or note to check,
    or the order to deliver; ``design`` the revision that a part must be of.
    """

    kind: WaitKind
    subject: Subject | None = None
    feature: str = ""
    design: str = ""

    @property
    def words(self) -> Message:
        """It in words, to follow "waits for"."""
        match self.kind, self.subject, self.feature:
            case WaitKind.PRINT, _, part:
                return say("printed {part} of {design}", part=part, design=self.design)
            case WaitKind.ASSEMBLY, _, _:
                return say("assembly of keywork, pads, springs and corks")
            case WaitKind.CHECK, subject, "":
                return say("check: {subject}", subject=subject)
            case WaitKind.CHECK, subject, feature:
                return say("check: {subject}, {feature}", subject=subject, feature=feature)
            case WaitKind.REPAIR, subject, "":
                return say("repair and check again: {subject}", subject=subject)
            case WaitKind.REPAIR, subject, feature:
                return say(
                    "repair and check again: {subject}, {feature}", subject=subject, feature=feature
                )
            case WaitKind.DELIVERY, _, order:
                return say("delivery of order {order}", order=order)
            case WaitKind.ORDER, _, _:
                return say("an order")
            case _:
                return say("sign-off")

    def __str__(self) -> str:
        return str(self.words)


def before_sign_off(waits: Sequence[Wait]) -> list[Wait]:
    """What has to be done before somebody may sign off."""
    return [each for each in waits if each.kind not in (WaitKind.SIGN_OFF, *AFTERWARDS)]


def waiting_for(ledger: Ledger, serials: Sequence[str] | None = None) -> dict[str, list[Wait]]:
    """What each serial number waits for, the next thing first; nothing once delivered.

    ``serials`` restricts it; None means every instrument that is not withdrawn.
    """
    with ledger.reading() as connection:
        return waiting_within(connection, serials)


def waiting_within(
    connection: Connection, serials: Sequence[str] | None = None
) -> dict[str, list[Wait]]:
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
        waits = _parts_needed(design, parts.get(serial, []))
        if serial not in assemblies:
            waits.append(Wait(WaitKind.ASSEMBLY))
        waits += _checks_needed(design, checks.get(serial, ChecksMade()))
        order = orders.get(row["order"] or "")
        if order is None:
            waits.append(Wait(WaitKind.ORDER))
        elif order["delivered"] is None:
            waits.append(Wait(WaitKind.DELIVERY, feature=order["code"]))
        found[serial] = waits
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


def _parts_needed(design: Mapping[str, Any], parts: Sequence[Mapping[str, Any]]) -> list[Wait]:
    good = {
        part["name"]
        for part in parts
        if part["outcome"] == PartState.GOOD and part["design"] == design["code"]
    }
    absent = [name for name in names_of(design["parts"]) if name not in good]
    return [Wait(WaitKind.PRINT, feature=name, design=design["code"]) for name in absent]


def _checks_needed(design: Mapping[str, Any], made: ChecksMade) -> list[Wait]:
    """Checks that are missing, or whose counting reading failed; the sign-off comes last."""
    waits = []
    for subject in NEEDED_CHECKS:
        wanted = names_of(design["sealed_parts"]) if subject is Subject.LEAK else []
        waits += [
            Wait(WaitKind.CHECK, subject, name) for name in wanted if name not in made.leak_tested
        ]
        if subject not in made.subjects and not wanted:
            waits.append(Wait(WaitKind.CHECK, subject))
        waits += [
            Wait(WaitKind.REPAIR, subject, feature)
            for failed, feature in made.failing
            if failed is subject
        ]
    if not made.signed_off:
        waits.append(Wait(WaitKind.SIGN_OFF))
    return waits
