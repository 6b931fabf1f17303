"""The checks of many instruments, summed up by the database so that long lists stay quick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Select, and_, case, func, select

from borewright.ledger.kinds.proving import SIGN_OFF
from borewright.ledger.schema import TABLES

_CHUNK = 500  # serials asked for at once; SQLite allows a limited number of parameters


@dataclass
class ChecksMade:
    """What is known of one instrument's checks.

    ``failing`` are (subject, feature) whose newest check failed. ``signed`` and
    ``last_failure`` are numbers in the order of entry; 0 means never.
    """

    subjects: set[str] = field(default_factory=set)
    leak_tested: set[str] = field(default_factory=set)
    failing: list[tuple[str, str]] = field(default_factory=list)
    signed: int = 0
    last_failure: int = 0


def checks_made(connection: Connection, serials: Sequence[str] | None) -> dict[str, ChecksMade]:
    """Checks by serial number, for some instruments or for all."""
    found: dict[str, ChecksMade] = {}
    check = TABLES["check"].c
    # Only a leak test is needed for each part; of the rest it is enough that they were made.
    part = case((check.subject == "leak", func.coalesce(check.feature, "")), else_="")
    newest = (
        select(check.instrument, check.subject, part.label("part"), func.max(check.id).label("id"))
        .where(check.withdrawn.is_(False))
        .group_by(check.instrument, check.subject, part)
    )
    for row in _asked(connection, newest, serials):
        made = found.setdefault(row.instrument, ChecksMade())
        made.subjects.add(row.subject)
        if row.subject == "leak":
            made.leak_tested.add(row.part)
        if row.subject == SIGN_OFF:
            made.signed = row.id
    later = TABLES["check"].alias("later")
    newer = and_(
        later.c.instrument == check.instrument,
        later.c.subject == check.subject,
        func.coalesce(later.c.feature, "") == func.coalesce(check.feature, ""),
        later.c.id > check.id,
        later.c.withdrawn.is_(False),
    )
    failures = (
        select(
            check.instrument,
            check.subject,
            check.feature,
            check.id,
            select(later.c.id).where(newer).exists().label("repaired"),
        )
        .where(check.withdrawn.is_(False), check.passed.is_(False))
        .order_by(check.id)
    )
    for row in _asked(connection, failures, serials):
        made = found[row.instrument]
        made.last_failure = row.id
        if not row.repaired:
            made.failing.append((row.subject, row.feature or ""))
    return found


def _asked(
    connection: Connection, query: Select[Any], serials: Sequence[str] | None
) -> Iterator[Any]:
    if serials is None:
        yield from connection.execute(query)
        return
    column = TABLES["check"].c.instrument
    for start in range(0, len(serials), _CHUNK):
        yield from connection.execute(query.where(column.in_(serials[start : start + _CHUNK])))
