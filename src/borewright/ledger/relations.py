"""What must fit together between records: dates in order, lots of what they are used for, parts.

Each rule looks at one record as it will be, and at those that it leads to. A record is refused
only for what it says itself: a correction that leaves the fields of a rule alone is not held up by
it, so that an old slip never keeps anyone from writing down something else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from sqlalchemy import Connection, select

from borewright.errors import LedgerError
from borewright.ledger.fields import RecordKind, shown
from borewright.ledger.schema import TABLES
from borewright.words import Message, Text, say

Looked = Callable[[str, Any], Mapping[str, Any] | None]
#: Fields that a rule looks at, what is wrong with them, and what would be right.
Broken = tuple[tuple[str, ...], Message, Message]

#: Days that follow each other, the earlier first.
_DAYS = {
    "batch": (("started", "due"),),
    "order": (
        ("quoted", "accepted"),
        ("quoted", "promised"),
        ("quoted", "delivered"),
        ("accepted", "promised"),
        ("accepted", "delivered"),
        ("quoted", "deposit_paid"),
    ),
}
#: Figures of which the first is not above the second.
_RISING = {
    "lever": (("lowest_touch_mm", "highest_touch_mm"), ("lift_mm", "pad_arm_mm")),
    "check": (("lowest", "highest"),),
}
#: What a lot must be of, by the field that names it.
_STUFF = {
    ("print_job", "lot"): "filament",
    ("assembly", "keywork_lot"): "keywork",
    ("assembly", "pad_lot"): "pads",
    ("assembly", "spring_lot"): "springs",
    ("assembly", "cork_lot"): "corks",
    ("assembly", "coating_lot"): "coating",
}


def check_relations(
    connection: Connection,
    kind: RecordKind,
    records: Sequence[Mapping[str, Any]],
    changed: set[str] | None = None,
) -> None:
    """Raise LedgerError where a record contradicts itself or one that it leads to.

    ``changed`` are the fields that a correction writes; None looks at all of them.
    """
    rules = _RULES.get(kind.name, ())
    if not rules:
        return
    seen: dict[tuple[str, Any], Mapping[str, Any] | None] = {}

    def looked(name: str, code: Any) -> Mapping[str, Any] | None:
        if code is None:
            return None
        if (name, code) not in seen:
            table = TABLES[name]
            row = connection.execute(select(table).where(table.c.code == code)).mappings().first()
            seen[name, code] = dict(row) if row is not None else None
        return seen[name, code]

    for record in records:
        for rule in rules:
            for fields, cause, remedy in rule(kind.name, record, looked):
                if changed is None or changed & set(fields):
                    code: Text = str(record.get("code") or "")
                    place = (kind.noun, code, fields[-1]) if code else (kind.name, fields[-1])
                    raise LedgerError(cause, place=place, remedy=remedy)


def _days(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    for first, second in _DAYS.get(name, ()):
        early, late = record.get(first), record.get(second)
        # What happens today is written down today, whatever an older day says.
        if early is not None and late is not None and late < early and late != date.today():
            yield (
                (first, second),
                say(
                    "{second} ({late}) comes before {first} ({early})",
                    first=first,
                    second=second,
                    early=shown(early),
                    late=shown(late),
                ),
                say("Correct one of the two days."),
            )


def _rising(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    for low, high in _RISING.get(name, ()):
        least, most = record.get(low), record.get(high)
        if least is not None and most is not None and least > most:
            yield (
                (low, high),
                say(
                    "{low} is {least:g}, more than {high} with {most:g}",
                    low=low,
                    high=high,
                    least=least,
                    most=most,
                ),
                say("Correct one of the two."),
            )


def _lots(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    for (owner, field), stuff in _STUFF.items():
        if owner != name or record.get(field) is None:
            continue
        lot = looked("lot", record[field])
        if lot is not None and lot["stuff"] not in (stuff, "other"):
            yield (
                (field,),
                say(
                    "the lot '{lot}' is of {found}, not of {wanted}",
                    lot=record[field],
                    found=lot["stuff"],
                    wanted=stuff,
                ),
                say("Name a lot of {wanted}, or correct the lot.", wanted=stuff),
            )


def _in_design(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    field = "name" if name == "part" else "part"
    design = looked("design", record.get("design"))
    if design is None:
        return
    parts = [part.strip() for part in str(design["parts"]).split(";")]
    # A part that a short printer makes in pieces carries a piece's letter or number.
    if not any(str(record[field]) == part or _piece_of(str(record[field]), part) for part in parts):
        yield (
            (field, "design"),
            say(
                "the design '{design}' has no part '{part}'",
                design=record["design"],
                part=record[field],
            ),
            say("Its parts are: {parts}.", parts=", ".join(parts)),
        )


def _piece_of(name: str, part: str) -> bool:
    return name.startswith(f"{part} ") and len(name) <= len(part) + 4


def _from_good_print(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    job = looked("print_job", record.get("print_job"))
    if job is None:
        return
    if record.get("outcome") == "good" and job["outcome"] == "rejected":
        yield (
            ("outcome", "print_job"),
            say(
                "a good part cannot come from the rejected print '{job}'",
                job=record["print_job"],
            ),
            say("Reject the part, or name the print that it came from."),
        )
    if job["part"] != record["name"] or job["design"] != record["design"]:
        yield (
            ("print_job", "name", "design"),
            say(
                "the print '{job}' was of '{part}' of the design '{design}'",
                job=record["print_job"],
                part=job["part"],
                design=job["design"],
            ),
            say("Name the print that this part came from."),
        )


def _on_printer(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    printer = looked("printer", record.get("printer"))
    height, room = record.get("height_mm"), printer["height_mm"] if printer else None
    if height is not None and room is not None and height > room:
        yield (
            ("height_mm", "printer"),
            say(
                "the print is {height_mm:g} mm tall, but '{printer}' prints up to {room_mm:g} mm",
                height_mm=height,
                printer=record["printer"],
                room_mm=room,
            ),
            say("Correct the height, or name the printer that made it."),
        )


def _money(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    amounts = [
        field for field in ("unit_price", "charge", "price") if record.get(field) is not None
    ]
    percent = record.get("per") in ("percent of price", "tax")
    if amounts and "currency" in record and record["currency"] is None and not percent:
        yield (
            (amounts[0], "currency"),
            say("an amount is given without its currency"),
            say("Give the currency's three letters, such as EUR."),
        )
    if percent and record.get("price") is not None and record["price"] > 100:
        yield (
            ("price", "per"),
            say("{price:f} percent is more than the whole", price=record["price"]),
            say("Write a percentage from 0 to 100."),
        )


def _setting(name: str, record: Mapping[str, Any], looked: Looked) -> Iterator[Broken]:
    from borewright.ledger.fields import currencies

    value = str(record.get("value") or "")
    known: dict[str, tuple[str, ...] | frozenset[str]] = {
        "currency": currencies(),
        "paper": ("A4", "Letter"),
    }
    if value not in known.get(str(record.get("code")), (value,)):
        wanted = say("Write A4 or Letter.")
        if record["code"] == "currency":
            wanted = say("Write its three capital letters by ISO 4217, such as EUR.")
        yield (
            ("value",),
            say("'{value}' cannot be the {setting}", value=value[:40], setting=record["code"]),
            wanted,
        )


_RULES: dict[str, tuple[Callable[[str, Mapping[str, Any], Looked], Iterator[Broken]], ...]] = {
    "batch": (_days,),
    "order": (_days,),
    "lever": (_rising,),
    "check": (_rising,),
    "lot": (_money,),
    "service": (_money,),
    "expense": (_money,),
    "print_job": (_lots, _in_design, _on_printer),
    "part": (_in_design, _from_good_print),
    "assembly": (_lots,),
    "setting": (_setting,),
}
