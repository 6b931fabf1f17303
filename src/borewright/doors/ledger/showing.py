"""The ledger's answers as JSON and as lines of text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from borewright.doors.columns import columns
from borewright.words import Reader, joined, say_as

if TYPE_CHECKING:
    from borewright.ledger import (
        Check,
        Entry,
        FeatureStatistics,
        KeySetUp,
        Plan,
        Proof,
        Standing,
        TuningScatter,
        Wait,
    )
    from borewright.ledger.fields import RecordKind
    from borewright.ledger.likeness import Likeness

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
            "words": str(field.words),
            "required": field.required,
            "choices": [choice.value for choice in field.choices],
            "link": field.link,
        }
        for field in kind.fields
    ]
    return {
        "table": kind.name,
        "words": str(kind.words),
        "code": str(kind.code_words),
        "fields": fields,
    }


def kind_lines(kind: RecordKind, words: Reader) -> list[str]:
    """A table's fields as text."""
    from borewright.ledger.fields import Kind

    needed = words("needed")
    code = [words.tell(Kind.TEXT.words), needed if kind.must_be_named else ""]
    rows = [["code", *code, words.tell(kind.code_words)]]
    for field in kind.fields:
        what = words.tell(field.words)
        if field.choices:
            what += f" ({', '.join(choice.value for choice in field.choices)})"
        if field.link:
            what += words(" (code of a record of '{table}')", table=field.link)
        need = needed if field.required else ""
        rows.append([field.name, words.tell(field.kind.words), need, what])
    headings = [words("field"), words("kind"), "", words("what")]
    return [f"{kind.name}: {words.tell(kind.words)}", *columns(headings, rows)]


def record_lines(kind: RecordKind, record: Mapping[str, Any], words: Reader) -> list[str]:
    """A record's known fields, a line each."""
    from borewright.ledger.fields import shown

    of = {"kind": kind.name, "code": plain(str(record["code"])), "version": record["version"]}
    line = words("{kind} {code} (version {version})", **of)
    if record["withdrawn"]:
        line = words("{kind} {code} (version {version}, withdrawn)", **of)
    known = [(f.name, shown(record[f.name])) for f in kind.fields if record[f.name] is not None]
    width = max((len(name) for name, _ in known), default=0)
    return [line, *[f"  {name.ljust(width)}  {plain(value)}" for name, value in known]]


def proof_as_dict(proof: Proof) -> dict[str, Any]:
    """What is proved of an instrument, for JSON."""
    return {
        "waiting_for": [str(wait) for wait in proof.waits],
        "signed_off": proof.signed_off,
        "certificate_refused": None if proof.refused is None else str(proof.refused),
        "certificates": [
            {
                "code": each.certificate.code,
                "day": each.certificate.day.isoformat(),
                "void": None if each.void is None else str(each.void.words),
            }
            for each in proof.issued
        ],
    }


def proof_lines(proof: Proof, words: Reader) -> list[str]:
    """What an instrument waits for, and the certificates it has."""
    from borewright.tasks.ledger.instrument_papers import issued_words

    certificates = [words.tell(issued_words(each)) for each in proof.issued]
    return [
        *[words("  waits for {what}", what=wait.words) for wait in proof.waits],
        *[words("  certificate {certificate}", certificate=each) for each in certificates],
    ]


def check_line(check: Check, words: Reader) -> str:
    """A check with its verdict."""
    what = words.tell(check.subject.words)
    if check.feature:
        what = f"{what}, {check.feature}"
    if check.passed:
        return words("{serial}: {what} passed", serial=check.instrument, what=what)
    return words("{serial}: {what} failed", serial=check.instrument, what=what)


def entry_lines(entries: Sequence[Entry], words: Reader) -> list[str]:
    """A record's history, a line a version."""
    actions = {
        "added": words("added"),
        "corrected": words("corrected"),
        "withdrawn": words("withdrawn"),
    }
    lines = []
    for entry in entries:
        line = words(
            "  version {version} {action} by {who}, {when}",
            version=entry.version,
            action=actions.get(entry.action, entry.action),
            who=plain(entry.who),
            when=entry.at[:19].replace("T", " "),
        )
        lines.append(f"{line}: {plain(entry.reason)}" if entry.reason else line)
    return [words("History (times in UTC)"), *lines]


def table_lines(kind: RecordKind, rows: Sequence[Mapping[str, Any]], words: Reader) -> list[str]:
    """Records as a table, with the columns that any of them fills."""
    from borewright.ledger.fields import shown

    if not rows:
        return [words("There is nothing in {table}.", table=kind.name)]
    filled = [f.name for f in kind.fields if any(row[f.name] is not None for row in rows)]
    names = ["code", *filled]
    cells = [[plain(shown(row[name]), WIDEST) for name in names] for row in rows]
    return columns(names, cells)


def waiting_lines(found: Mapping[str, Sequence[Wait]], words: Reader) -> list[str]:
    """What each serial waits for: the next thing, and how many more."""

    def state(waits: Sequence[Wait]) -> str:
        if not waits:
            return words("delivered")
        if len(waits) == 1:
            return words("waits for {what}", what=waits[0].words)
        more = len(waits) - 1
        return words("waits for {what} (and {more} more)", what=waits[0].words, more=more)

    lines = [f"  {plain(serial)}: {state(waits)}" for serial, waits in found.items()]
    return lines or [words("There are no instruments.")]


def survey_as_dict(
    found: Sequence[FeatureStatistics],
    effect: TuningScatter | None,
    alike: Sequence[Likeness] = (),
) -> dict[str, Any]:
    """A survey's statistics for JSON."""
    from borewright.ledger import OUTLIER_RULE

    data: dict[str, Any] = {
        "outlier_rule": str(OUTLIER_RULE),
        "features": [
            one.__dict__ | {"outliers": list(one.outliers), "off_nominal_mm": one.off_nominal_mm}
            for one in found
        ],
    }
    if alike:
        data["likeness"] = [
            one.__dict__ | {"told_apart": one.told_apart} for one in alike if one.sets
        ]
    if effect is not None:
        data["tuning_scatter"] = [note.__dict__ for note in effect.notes]
        data["unknown_dimensions"] = list(effect.unknown)
    return data


def _half(words: Reader, interval: tuple[float, float] | None) -> str:
    """Half an interval's width, as ± so much."""
    return "" if interval is None else f"±{words.number((interval[1] - interval[0]) / 2, '.3f')}"


def survey_lines(
    found: Sequence[FeatureStatistics],
    effect: TuningScatter | None,
    words: Reader,
    alike: Sequence[Likeness] = (),
) -> list[str]:
    """A survey's statistics as text."""
    from borewright.ledger import OUTLIER_RULE
    from borewright.ledger.likeness import likeness_words

    rows = [
        [
            one.name,
            str(one.count),
            words.number(one.mean_mm, ".3f"),
            _half(words, one.interval_mm),
            _figure(words, one.scatter_mm, 3),
            _figure(words, one.off_nominal_mm, 3, sign=True),
            ", ".join(plain(name) for name in one.outliers),
        ]
        for one in found
    ]
    headings = [
        words("feature"),
        words("sets"),
        words("mean mm"),
        words("95 %"),
        words("scatter"),
        words("off nominal"),
        words("outliers"),
    ]
    rule = words("Outliers: {rule}.", rule=OUTLIER_RULE)
    lines = [*columns(headings, rows, right=(1, 2, 3, 4, 5)), rule]
    told = [one for one in alike if one.sets]
    if len(told) > 1:
        lines += ["", words("Which source's sets are the more alike:")]
        lines += [f"  {words.tell(likeness_words(one))}" for one in told]
    if effect is not None:
        notes = sorted(effect.notes, key=lambda note: -note.cents)
        rows = [
            [
                n.fingering,
                words.number(n.cents, ".1f"),
                words.number(n.together_cents, ".1f"),
                n.largest,
            ]
            for n in notes
        ]
        headings = [
            words("fingering"),
            words("scatter cents"),
            words("at worst"),
            words("mostly from"),
        ]
        lines += ["", *columns(headings, rows, right=(1, 2))]
        if effect.unknown:
            names = joined(effect.unknown, ", ")
            lines.append(words("No dimension of the instrument: {names}.", names=names))
    return lines


def standings_as_dict(found: Sequence[Standing]) -> dict[str, Any]:
    """A comparison for JSON."""
    return {
        "standings": [
            one.__dict__
            | {
                "arithmetic": str(one.arithmetic),
                "weighed": [
                    each.__dict__ | {"arithmetic": str(each.arithmetic)} for each in one.weighed
                ],
            }
            for one in found
        ]
    }


def standings_lines(found: Sequence[Standing], words: Reader) -> list[str]:
    """A comparison as text, its arithmetic spelt out."""
    lines = []
    for place, one in enumerate(found, start=1):
        lines.append(
            words(
                "{place}. {source}: {total:.2f} of 10",
                place=place,
                source=plain(one.source),
                total=one.total,
            )
        )
        rows = [
            [
                each.criterion,
                words.number(each.value, "g"),
                words("weight {weight:g}", weight=each.weight),
                words.tell(each.arithmetic),
            ]
            for each in one.weighed
        ]
        headings = [words("criterion"), words("value"), "", words("points")]
        lines += [*columns(headings, rows), f"  {words.tell(one.arithmetic)}"]
    return lines


def set_up_as_dict(sample: str, keys: Sequence[KeySetUp]) -> dict[str, Any]:
    """The set-up sheet for JSON."""
    rows = [key.__dict__ | {"remarks": [str(each) for each in key.remarks]} for key in keys]
    return {"sample": sample, "keys": rows}


def set_up_lines(keys: Sequence[KeySetUp], words: Reader) -> list[str]:
    """The set-up sheet as text."""
    rows = [
        [
            key.key,
            key.hole,
            words.number(key.least_lift_mm, ".2f"),
            _figure(words, key.lift_mm, 2),
            _figure(words, key.pitch_effect_cents, 1, sign=True),
            words.number(key.lever_ratio, ".2f"),
            _figure(words, key.touch_travel_mm, 1),
            _figure(words, key.touch_force_g, 0),
            "; ".join(map(words.tell, key.remarks)),
        ]
        for key in keys
    ]
    headings = [
        words.tell(say_as("keywork", "key")),
        words("hole"),
        words("least lift"),
        words.tell(say_as("keywork", "lift")),
        words("cents"),
        words.tell(say_as("keywork", "lever")),
        words.tell(say_as("keywork", "travel")),
        words("grams"),
        words("remarks"),
    ]
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


def plan_lines(plan: Plan, words: Reader) -> list[str]:
    """A plan as text, in order of starting."""
    from babel.dates import format_date

    rows = []
    for one in plan.prints:
        hour, minutes = divmod(round(one.start_hour * 60), 60)
        rows.append(
            [f"{format_date(one.day, 'EEE', words.language)} {one.day}",
             f"{hour:02d}:{minutes:02d}", one.printer, one.part,
             f"{words.number(one.hours, '.1f')} h", f"{one.ready}"]
        )  # fmt: skip
    proof = words("A shorter plan may exist.")
    if plan.proved_shortest:
        proof = words("No shorter plan exists.")
    headings = [
        words("day"),
        words.tell(say_as("paper", "start")),
        words("printer"),
        words("part"),
        words.tell(say_as("paper", "takes")),
        words.tell(say_as("paper", "ready")),
    ]
    ready = words("All is printed on {day}.", day=plan.ready)
    return [*columns(headings, rows), f"{ready} {proof}"]


def _figure(words: Reader, value: float | None, digits: int, sign: bool = False) -> str:
    if value is None:
        return "–"
    return words.number(value, f"{'+' if sign else ''}.{digits}f")
