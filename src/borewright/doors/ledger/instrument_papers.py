"""What the records say, handed to the papers of an instrument and of a batch."""

from __future__ import annotations

import math
from datetime import date
from typing import TYPE_CHECKING, Any

from borewright.errors import LedgerError

if TYPE_CHECKING:
    from borewright.documents import BatchReport, CareSheet, Certificate, Letterhead, Traveller
    from borewright.ledger import Ledger


def letterhead(book: Ledger) -> Letterhead:
    """The owner's letterhead, from the settings."""
    from borewright.documents import Letterhead
    from borewright.ledger import names_of

    known = {str(r["code"]): str(r["value"]) for r in book.records("setting")}
    mark = ""
    if "mark" in known:
        try:
            mark = book.kept_file(known["mark"])[1].decode("utf-8")
        except UnicodeDecodeError as error:
            raise LedgerError(
                "is not an SVG text", place="setting, mark", remedy="Keep an SVG file."
            ) from error
    return Letterhead(
        owner=known.get("owner", ""),
        address=tuple(names_of(known.get("address"))),
        mark_svg=mark,
        paper=known.get("paper", "A4"),
        language=known.get("language", "en"),
    )


def text(value: Any) -> str:
    """A recorded value as a paper shows it; nothing where it is not known."""
    from borewright.ledger.fields import shown

    if isinstance(value, float):
        return f"{value:g}".replace("-", "−")
    return shown(value)


def _limits(check: dict[str, Any]) -> str:
    low, high = (
        None if check[name] is None else f"{check[name]:g}".replace("-", "−")
        for name in ("lowest", "highest")
    )
    if low is not None and high is not None:
        return f"{low} to {high}"
    if low is not None:
        return f"at least {low}"
    return "" if high is None else f"at most {high}"


def _newest_checks(book: Ledger, serial: str) -> list[dict[str, Any]]:
    newest = {
        (r["subject"], r["feature"] or ""): r for r in book.records("check", {"instrument": serial})
    }
    return list(newest.values())


def _design_of(book: Ledger, serial: str) -> tuple[dict[str, Any], dict[str, Any]]:
    instrument = book.get("instrument", serial)
    return instrument, book.get("design", str(instrument["design"]))


def _order_of(book: Ledger, instrument: dict[str, Any]) -> dict[str, Any]:
    return {} if instrument["order"] is None else book.get("order", str(instrument["order"]))


def traveller(book: Ledger, serial: str) -> Traveller:
    """The job traveller: what is done already is ticked."""
    from borewright.documents import Step, Traveller
    from borewright.ledger import names_of
    from borewright.ledger.checking import USUAL_LIMITS
    from borewright.ledger.kinds.proving import NEEDED_CHECKS

    instrument, design = _design_of(book, serial)
    order = _order_of(book, instrument)
    parts = {r["name"]: r for r in book.records("part", {"instrument": serial, "outcome": "good"})}
    steps = []
    for name in names_of(str(design["parts"])):
        part = parts.get(name)
        number = "" if part is None else f"part {part['code']}"
        steps.append(Step(f"Print {name}", number, part is not None))
    assembled = book.records("assembly", {"instrument": serial})
    steps += [Step("Ream, seal, face the pad seats")] if not assembled else []
    who = str(assembled[-1]["who"]) if assembled else ""
    steps.append(Step("Fit keywork, pads, springs, corks", "", bool(assembled), who))
    checks = {(c["subject"], c["feature"] or ""): c for c in _newest_checks(book, serial)}
    for subject in NEEDED_CHECKS:
        wanted = names_of(str(design["sealed_parts"] or "")) if subject == "leak" else [""]
        low, high, unit = USUAL_LIMITS.get(subject, (None, None, ""))
        limit = _limits({"lowest": low, "highest": high})
        for feature in wanted or [""]:
            made = [c for (about, name), c in checks.items() if about == subject and (
                not feature or name == feature
            )]  # fmt: skip
            done = bool(made) and all(c["passed"] for c in made)
            what = f"Check {subject}{f', {feature}' if feature else ''}"
            who = str(made[-1]["who"]) if done else ""
            steps.append(Step(what, f"{limit} {unit}".strip(), done, who))
    signed = checks.get(("sign-off", ""))
    steps.append(Step("Sign off", "", signed is not None, str(signed["who"]) if signed else ""))
    return Traveller(
        serial=serial,
        instrument=str(design["name"]),
        design=str(design["code"]),
        design_sha256=str(design["file"]),
        batch=text(instrument["batch"]),
        order=text(instrument["order"]),
        plating=text(order.get("plating")),
        steps=steps,
        note=text(instrument["note"]),
    )


def certificate(book: Ledger, serial: str) -> Certificate:
    """The certificate; only of an instrument that is signed off."""
    from borewright.documents import Certificate, Reading

    _, design = _design_of(book, serial)
    checks = _newest_checks(book, serial)
    signed = next((c for c in checks if c["subject"] == "sign-off"), None)
    if signed is None:
        raise LedgerError(
            "is not signed off, so nothing can be certified",
            place=f"instrument {serial}",
            remedy=f"See what it waits for: borewright ledger show instrument {serial}.",
        )
    tuning = [c for c in checks if c["subject"] == "tuning" and c["value"] is not None]
    others = [c for c in checks if c not in tuning and c is not signed]
    assembled = book.records("assembly", {"instrument": serial})
    lots = []
    for field, words in (
        ("keywork_lot", "Keywork lot"), ("pad_lot", "Pad lot"), ("spring_lot", "Spring lot"),
        ("cork_lot", "Cork lot"), ("coating_lot", "Coating lot"),
    ):  # fmt: skip
        if assembled and assembled[-1][field]:
            lots.append((words, text(assembled[-1][field])))
    return Certificate(
        serial=serial,
        instrument=str(design["name"]),
        design=str(design["code"]),
        design_sha256=str(design["file"]),
        signed_by=text(signed["who"]),
        signed_on=_day_of(book, signed),
        readings=[
            Reading(
                str(c["subject"]),
                text(c["feature"]),
                f"{text(c['value'])} {text(c['unit'])}".strip() or "seen",
                _limits(c),
                bool(c["passed"]),
            )
            for c in others
        ],
        tuning=[(text(c["feature"]) or "?", float(c["value"])) for c in tuning],
        temperature_c=next((c["temperature_c"] for c in tuning if c["temperature_c"]), None),
        lots=lots,
    )


def _day_of(book: Ledger, record: dict[str, Any]) -> str:
    """The day a check was made, as said, or else as written down."""
    if record["day"] is not None:
        return text(record["day"])
    return book.history("check", str(record["code"]))[0].at[:10]


def care_sheet(book: Ledger, serial: str) -> CareSheet:
    """The care sheet, with what the supplier's plating test said where one is on record."""
    from borewright.documents import CareSheet

    instrument, design = _design_of(book, serial)
    order = _order_of(book, instrument)
    tests = book.records("trial", {"test": "plating"})
    report = ""
    if tests:
        newest = tests[-1]
        said = "passed" if newest["passed"] else "did NOT pass"
        report = f"The plating test on file (sample {newest['sample']}) {said}. "
        report += text(newest["note"])
    return CareSheet(
        serial, str(design["name"]), text(order.get("material")), text(order.get("plating")), report
    )


def batch_report(book: Ledger, batch: str) -> BatchReport:
    """The batch report as of today."""
    from borewright.documents import BatchReport, BatchRow
    from borewright.ledger import batch_cost, money_words, part_prints, waiting_for

    record = book.get("batch", batch)
    instruments = book.records("instrument", {"batch": batch})
    waits = waiting_for(book, [str(r["code"]) for r in instruments])
    rows = []
    for one in instruments:
        serial = str(one["code"])
        checks = _newest_checks(book, serial)
        cents = [
            float(c["value"]) for c in checks
            if c["subject"] == "tuning" and c["value"] is not None
        ]  # fmt: skip
        rms = math.sqrt(sum(c**2 for c in cents) / len(cents)) if cents else None
        signed = [c for c in checks if c["subject"] == "sign-off"]
        made = [c for c in checks if c["subject"] != "sign-off"]
        needs = waits.get(serial, [])
        rows.append(
            BatchRow(
                serial,
                text(one["order"]),
                "–" if rms is None else f"{rms:.1f}",
                f"{sum(bool(c['passed']) for c in made)} of {len(made)}",
                text(signed[-1]["who"]) if signed else "",
                needs[0] + (f" (+{len(needs) - 1})" if len(needs) > 1 else "")
                if needs
                else "delivered",
            )
        )
    design = str(record["design"])
    jobs = book.records("print_job", {"design": design})
    prints, _ = part_prints(book, design)
    costed = batch_cost(book, batch)
    sheet = costed.sheet
    return BatchReport(
        batch=batch,
        design=design,
        quantity=int(str(record["quantity"])),
        delivered=sum(not waits.get(str(r["code"]), []) for r in instruments),
        day=date.today().isoformat(),
        rows=rows,
        prints=[
            (
                one.part,
                str(one.jobs),
                str(sum(j["part"] == one.part and j["outcome"] == "rejected" for j in jobs)),
                f"{one.hours:.1f}",
                f"{one.mass_g:.0f}",
            )
            for one in prints
        ],
        costs=[
            ("Unit cost", money_words(sheet.unit_cost, sheet.currency)),
            ("Whole batch", money_words(sheet.total_cost, sheet.currency)),
        ],
        notes=[f"{note[:1].upper()}{note[1:]}." for note in costed.notes],
    )
