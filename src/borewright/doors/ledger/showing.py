"""The ledger's answers as JSON and as lines of text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from borewright.doors.columns import columns

if TYPE_CHECKING:
    from borewright.ledger import (
        Entry,
        FeatureStatistics,
        KeySetUp,
        Plan,
        Standing,
        TuningScatter,
    )
    from borewright.ledger.fields import RecordKind

WIDEST = 32  # letters of a cell in a list


def plain(text: str, widest: int = 2000) -> str:
    """Text as one line that cannot move the cursor, shortened where it is long."""
    shortened = text if len(text) <= widest else f"{text[: widest - 1]}…"
    return "".join(sign if sign.isprintable() else " " for sign in shortened)


def record_as_dict(record: Mapping[str, Any]) -> dict[str, Any]:
    """A record for JSON; amounts and days are text."""
    from borewright.ledger.fields import as_json

    return {name: as_json(value) for name, value in record.items()}


def kind_as_dict(kind: RecordKind) -> dict[str, Any]:
    """A table's fields for JSON."""
    fields = [
        {
            "name": field.name,
            "kind": field.kind.value,
            "words": field.words,
            "required": field.required,
            "choices": list(field.choices),
            "link": field.link,
        }
        for field in kind.fields
    ]
    return {"table": kind.name, "words": kind.words, "code": kind.code_words, "fields": fields}


def kind_lines(kind: RecordKind) -> list[str]:
    """A table's fields as text."""
    rows = [["code", "text", "needed" if kind.must_be_named else "", kind.code_words]]
    for field in kind.fields:
        words = field.words
        if field.choices:
            words += f" ({', '.join(field.choices)})"
        if field.link:
            words += f" (code of a {field.link})"
        rows.append([field.name, field.kind.value, "needed" if field.required else "", words])
    return [f"{kind.name}: {kind.words}", *columns(["field", "kind", "", "what"], rows)]


def record_lines(kind: RecordKind, record: Mapping[str, Any]) -> list[str]:
    """A record's known fields, a line each."""
    from borewright.ledger.fields import shown

    state = ", withdrawn" if record["withdrawn"] else ""
    lines = [f"{kind.name} {plain(str(record['code']))} (version {record['version']}{state})"]
    known = [(f.name, shown(record[f.name])) for f in kind.fields if record[f.name] is not None]
    width = max((len(name) for name, _ in known), default=0)
    return lines + [f"  {name.ljust(width)}  {plain(value)}" for name, value in known]


def entry_lines(entries: Sequence[Entry]) -> list[str]:
    """A record's history, a line a version."""
    lines = []
    for entry in entries:
        why = f": {plain(entry.reason)}" if entry.reason else ""
        when = entry.at[:19].replace("T", " ")
        lines.append(f"  version {entry.version} {entry.action} by {plain(entry.who)}, {when}{why}")
    return ["History (times in UTC)", *lines]


def table_lines(kind: RecordKind, rows: Sequence[Mapping[str, Any]]) -> list[str]:
    """Records as a table, with the columns that any of them fills."""
    from borewright.ledger.fields import shown

    if not rows:
        return [f"There is nothing in {kind.name}."]
    filled = [f.name for f in kind.fields if any(row[f.name] is not None for row in rows)]
    names = ["code", *filled]
    cells = [[plain(shown(row[name]), WIDEST) for name in names] for row in rows]
    return columns(names, cells)


def waiting_lines(found: Mapping[str, Sequence[str]]) -> list[str]:
    """What each serial waits for: the next thing, and how many more."""
    lines = []
    for serial, needs in found.items():
        more = f" (and {len(needs) - 1} more)" if len(needs) > 1 else ""
        lines.append(
            f"  {plain(serial)}: {f'waits for {needs[0]}{more}' if needs else 'delivered'}"
        )
    return lines or ["There are no instruments."]


def survey_as_dict(
    found: Sequence[FeatureStatistics], effect: TuningScatter | None
) -> dict[str, Any]:
    """A survey's statistics for JSON."""
    from borewright.ledger import OUTLIER_RULE

    data: dict[str, Any] = {
        "outlier_rule": OUTLIER_RULE,
        "features": [one.__dict__ | {"outliers": list(one.outliers)} for one in found],
    }
    if effect is not None:
        data["tuning_scatter"] = [note.__dict__ for note in effect.notes]
        data["unknown_dimensions"] = list(effect.unknown)
    return data


def survey_lines(found: Sequence[FeatureStatistics], effect: TuningScatter | None) -> list[str]:
    """A survey's statistics as text."""
    from borewright.ledger import OUTLIER_RULE

    rows = [
        [
            one.name,
            str(one.count),
            f"{one.mean_mm:.3f}",
            _figure(one.scatter_mm, 3),
            _figure(one.off_nominal_mm, 3, sign=True),
            ", ".join(plain(name) for name in one.outliers),
        ]
        for one in found
    ]
    headings = ["feature", "sets", "mean mm", "scatter", "off nominal", "outliers"]
    lines = [*columns(headings, rows, right=(1, 2, 3, 4)), f"Outliers: {OUTLIER_RULE}."]
    if effect is not None:
        notes = sorted(effect.notes, key=lambda note: -note.cents)
        rows = [
            [n.fingering, f"{n.cents:.1f}", f"{n.together_cents:.1f}", n.largest] for n in notes
        ]
        headings = ["fingering", "scatter cents", "at worst", "mostly from"]
        lines += ["", *columns(headings, rows, right=(1, 2))]
        if effect.unknown:
            lines.append(f"No dimension of the instrument: {', '.join(effect.unknown)}.")
    return lines


def standings_as_dict(found: Sequence[Standing]) -> dict[str, Any]:
    """A comparison for JSON."""
    return {
        "standings": [
            one.__dict__ | {"weighed": [weighed.__dict__ for weighed in one.weighed]}
            for one in found
        ]
    }


def standings_lines(found: Sequence[Standing]) -> list[str]:
    """A comparison as text, its arithmetic spelt out."""
    lines = []
    for place, one in enumerate(found, start=1):
        lines.append(f"{place}. {plain(one.source)}: {one.total:.2f} of 10")
        rows = [
            [w.criterion, f"{w.value:g}", f"weight {w.weight:g}", w.arithmetic] for w in one.weighed
        ]
        lines += [*columns(["criterion", "value", "", "points"], rows), f"  {one.arithmetic}"]
    return lines


def set_up_lines(keys: Sequence[KeySetUp]) -> list[str]:
    """The set-up sheet as text."""
    rows = [
        [
            key.key,
            key.hole,
            f"{key.least_lift_mm:.2f}",
            _figure(key.lift_mm, 2),
            _figure(key.pitch_effect_cents, 1, sign=True),
            f"{key.lever_ratio:.2f}",
            _figure(key.touch_travel_mm, 1),
            _figure(key.touch_force_g, 0),
            "; ".join(key.remarks),
        ]
        for key in keys
    ]
    headings = ["key", "hole", "least lift", "lift", "cents", "lever", "travel", "grams", "remarks"]
    return columns(headings, rows, right=(2, 3, 4, 5, 6, 7))


def plan_as_dict(plan: Plan) -> dict[str, Any]:
    """A plan for JSON."""
    prints = [
        one.__dict__ | {"day": one.day.isoformat(), "ready": one.ready.isoformat()}
        for one in plan.prints
    ]
    return {
        "prints": prints,
        "ready": plan.ready.isoformat(),
        "proved_shortest": plan.proved_shortest,
    }


def plan_lines(plan: Plan) -> list[str]:
    """A plan as text, in order of starting."""
    rows = []
    for one in plan.prints:
        hour, minutes = divmod(round(one.start_hour * 60), 60)
        rows.append(
            [f"{one.day:%a} {one.day}", f"{hour:02d}:{minutes:02d}", one.printer, one.part,
             f"{one.hours:.1f} h", f"{one.ready}"]
        )  # fmt: skip
    proof = "No shorter plan exists" if plan.proved_shortest else "A shorter plan may exist"
    headings = ["day", "start", "printer", "part", "takes", "ready"]
    return [*columns(headings, rows), f"All is printed on {plan.ready}. {proof}."]


def _figure(value: float | None, digits: int, sign: bool = False) -> str:
    if value is None:
        return "–"
    return f"{value:+.{digits}f}" if sign else f"{value:.{digits}f}"
