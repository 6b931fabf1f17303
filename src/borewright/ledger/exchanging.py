"""Parts that left an instrument: what was signed off with them is not what stands there now.

A part is in an instrument while its record says so and calls it good. The history tells when it
came and went, also for ledgers older than this rule.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, or_, select

from borewright.ledger.kinds.making import PartState
from borewright.ledger.schema import TABLES, history

_CHUNK = 500  # codes asked for at once; SQLite allows a limited number of parameters


@dataclass(frozen=True)
class Stay:
    """A part that was good in an instrument between two entries of the history, and left it."""

    code: str
    name: str
    since: int
    until: int


def stays_ended(connection: Connection) -> dict[str, list[Stay]]:
    """By serial number, stays of the parts that are not in it any more.

    A part that was put back is in it as before: what was corrected by mistake undoes nothing.
    """
    part = TABLES["part"].c
    # A part that left was corrected or withdrawn: very few are.
    changed = connection.execute(
        select(part.code).where(or_(part.version > 1, part.withdrawn.is_(True)))
    )
    found: dict[str, list[Stay]] = {}
    for code in changed.scalars().all():
        rows = connection.execute(
            select(history.c.id, history.c.action, history.c.data)
            .where(history.c.kind == "part", history.c.code == code)
            .order_by(history.c.version)
        ).all()
        place, since, stays = "", 0, []
        for row in rows:
            data = json.loads(row.data)
            inside = data.get("outcome") == PartState.GOOD.value and row.action != "withdrawn"
            now = str(data.get("instrument") or "") if inside else ""
            if now == place:
                continue
            if place:
                stays.append((place, Stay(code, str(data["name"]), since, row.id)))
            place, since = now, row.id
        for serial, stay in stays:
            if serial != place:
                found.setdefault(serial, []).append(stay)
    return found


def entries_of(connection: Connection, checks: Sequence[str]) -> dict[str, int]:
    """Numbers in the history at which checks were entered, by their code."""
    found: dict[str, int] = {}
    for start in range(0, len(checks), _CHUNK):
        wanted = history.c.code.in_(checks[start : start + _CHUNK])
        asked = select(history.c.code, history.c.id).where(
            history.c.kind == "check", history.c.version == 1, wanted
        )
        found |= {row.code: row.id for row in connection.execute(asked)}
    return found


def left_since(stays: Sequence[Stay], entry: int) -> Stay | None:
    """The first part that was inside at an entry of the history and is not any more."""
    return next((stay for stay in stays if stay.since < entry < stay.until), None)
