"""The content of a fit's report, in the order a maker reads it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    Page,
    Paragraph,
    Picture,
    Table,
)
from borewright.documents._page import Points as PointList
from borewright.documents._tables import (
    error_bars_table,
    findings_table,
    moves_table,
    reach_table,
    schedule_table,
    solids_table,
    tuning_table,
    twelfths_tables,
)
from borewright.documents._words import (
    LEVELS,
    climate_words,
    figure,
    pitch_words,
    sharp_or_flat,
    signed,
    standard_notes,
    summary_sentences,
)
from borewright.documents.cautions import CAUTIONS
from borewright.documents.schedule import hole_schedule
from borewright.model import (
    ErrorBars,
    FitResult,
    Instrument,
    Register,
    SensitivityMap,
    SolidsReport,
    TuningSummary,
)


@dataclass(frozen=True)
class ReportMatter:
    """All that a report speaks about."""

    before: Instrument
    after: Instrument
    result: FitResult
    sensitivity: SensitivityMap | None
    solids: SolidsReport | None
    error_bars: ErrorBars | None
    tolerance_cents: float
    file: str
    date: str
    files_made: Sequence[str]
    language: str


def report_page(matter: ReportMatter, pictures: dict[str, Picture]) -> Page:
    """The whole report; ``pictures`` holds those that were asked for."""
    blocks: list[Block] = []
    blocks += _what(matter)
    blocks += _outcome(matter)
    blocks += _drawings(pictures)
    blocks += _tuning(matter, pictures)
    blocks += _holes(matter)
    blocks += _changes(matter, pictures)
    blocks += _how_sure(matter)
    blocks += _files(matter)
    blocks += _next_steps(matter)
    blocks += [Heading("Cautions"), PointList([(str(c.about), str(c.text)) for c in CAUTIONS])]
    invented = " Invented example, no real instrument." if matter.after.invented else ""
    date = f" {matter.date}." if matter.date else ""
    subtitle = f"Report of a fit.{invented}{date}"
    return Page(matter.after.name, subtitle, blocks, matter.language)


def _what(matter: ReportMatter) -> list[Block]:
    table = matter.result.after
    facts = [
        ("Instrument", matter.after.name),
        ("Kind of data", "invented example" if matter.after.invented else "the owner's own"),
        ("File", matter.file or "not given"),
        ("Parts", ", ".join(f"{p.name} {p.length_mm:.2f} mm" for p in matter.after.parts)),
        (
            "Body length",
            f"{matter.after.length_mm:.2f} mm, before the fit {matter.before.length_mm:.2f} mm",
        ),
        ("Pitch standard", pitch_words(matter.after)),
        ("Playing climate", climate_words(matter.after)),
        ("Climate of the prediction", table.climate or "not given"),
        ("Model level", table.model_level or "not given"),
    ]
    if matter.after.note:
        facts.append(("Note", matter.after.note))
    return [Heading("What this is"), Facts(facts)]


def _outcome(matter: ReportMatter) -> list[Block]:
    result = matter.result
    sentences = summary_sentences(result.before, result.after, matter.tolerance_cents)
    blocks: list[Block] = [
        Heading("Outcome"),
        Paragraph(" ".join(sentences[:2]), lead=True),
    ]
    if sentences[2:]:
        blocks.append(PointList([("", sentence) for sentence in sentences[2:]]))
    rounds = f"{result.rounds} round{'s' if result.rounds != 1 else ''}"
    if result.finished:
        blocks.append(Paragraph(f"The fit settled after {rounds}."))
    else:
        blocks.append(
            Paragraph(
                f"The fit stopped after {rounds} before it had settled; run it again from this "
                "state, or give it fewer free dimensions.",
            )
        )
    rows = []
    for register in Register:
        old = [n for n in standard_notes(result.before) if n.register_ is register]
        new = [n for n in standard_notes(result.after) if n.register_ is register]
        sounding = [n for n in new if n.cents is not None]
        if not sounding:
            continue
        inside = sum(abs(n.cents or 0.0) <= matter.tolerance_cents for n in sounding)
        worst = TuningSummary.of(new)
        rows.append(
            [
                register.value,
                str(len(new)),
                str(inside),
                figure(TuningSummary.of(old).rms_cents),
                figure(worst.rms_cents),
                f"{worst.worst_note}, {sharp_or_flat(worst.worst_cents)}",
            ]
        )
    columns = (
        Column("register", is_text=True),
        Column("standard notes"),
        Column(f"within ±{matter.tolerance_cents:g} cents"),
        Column("rms before"),
        Column("rms after"),
        Column("worst after", is_text=True, share=2.0),
    )
    if rows:
        blocks.append(Table("Registers; rms is the root mean square in cents.", columns, rows))
    return blocks


def _drawings(pictures: dict[str, Picture]) -> list[Block]:
    found = [pictures[name] for name in ("section", "developed") if name in pictures]
    return [Heading("Drawings"), *found] if found else []


def _tuning(matter: ReportMatter, pictures: dict[str, Picture]) -> list[Block]:
    result = matter.result
    blocks: list[Block] = [Heading("Tuning")]
    if "tuning" in pictures:
        blocks.append(pictures["tuning"])
    if result.after.notes:
        blocks.append(tuning_table(result.before, result.after, matter.tolerance_cents))
    else:
        blocks.append(Paragraph("There are no fingerings in this result."))
    blocks.append(Heading("Twelfths"))
    if result.after.twelfths:
        if "twelfths" in pictures:
            blocks.append(pictures["twelfths"])
        blocks += twelfths_tables(result.after)
    else:
        blocks.append(Paragraph("No pair of fingerings makes a twelfth."))
    return blocks


def _holes(matter: ReportMatter) -> list[Block]:
    rows = hole_schedule(matter.after, matter.result)
    if not rows:
        return [Heading("Hole schedule"), Paragraph("This instrument has no holes.")]
    return [Heading("Hole schedule"), schedule_table(rows, matter.after.name)]


def _changes(matter: ReportMatter, pictures: dict[str, Picture]) -> list[Block]:
    result = matter.result
    blocks: list[Block] = [Heading("What moved")]
    blocks.append(moves_table(result) if result.moved else Paragraph("Nothing moved."))
    blocks.append(Heading("Notes out of reach"))
    if result.out_of_reach:
        blocks.append(reach_table(result))
    else:
        blocks.append(Paragraph("None: every fitted note keeps its tolerance."))
    blocks.append(Heading("Findings"))
    blocks.append(findings_table(result) if result.findings else Paragraph("Nothing was noticed."))
    if "sensitivity" in pictures:
        blocks += [Heading("Sensitivity"), pictures["sensitivity"]]
    return blocks


def _how_sure(matter: ReportMatter) -> list[Block]:
    level = matter.result.after.model_level or "a level that was not given"
    items = [
        (
            "This prediction",
            f"It was made with {level}. It is a computation, not a recording: reed, "
            "lip and player shift every note, most in the high register.",
        ),
        (
            "Three levels",
            "; ".join(f"{name}: {words}" for name, words in LEVELS)
            + ". Each checks the one before it.",
        ),
        (
            "Making",
            "A bore held to ±0.05 mm and holes to ±0.1 mm are within a careful workshop's reach "
            "(from memory); the body as made is what sounds, so measure it.",
        ),
    ]
    strongest = _strongest(matter.sensitivity)
    if strongest:
        items.append(("Most delicate", strongest))
    items.append(
        (
            "Trust",
            "Tell finer differences than about 5 cents apart only by recordings: three takes, "
            "temperature noted, a known instrument in the same hour (common practice).",
        )
    )
    blocks: list[Block] = [Heading("How sure this is"), PointList(items)]
    if matter.error_bars and matter.error_bars.bars:
        blocks.append(error_bars_table(matter.error_bars, matter.result.after))
    return blocks


def _strongest(sensitivity: SensitivityMap | None) -> str:
    if not sensitivity:
        return ""
    cells = [
        (abs(value), value, fingering, dimension)
        for fingering, row in zip(
            sensitivity.fingerings, sensitivity.cents_per_tenth_mm, strict=True
        )
        for dimension, value in zip(sensitivity.dimensions, row, strict=True)
    ]
    if not cells:
        return ""
    _, value, fingering, dimension = max(cells, key=lambda cell: cell[0])
    return f"+0.1 mm of {dimension} moves {fingering} by {signed(value)} cents."


def _files(matter: ReportMatter) -> list[Block]:
    blocks: list[Block] = [Heading("Files made")]
    blocks.append(
        PointList([("", name) for name in ("report.html", "report.pdf", *matter.files_made)])
    )
    if matter.solids and matter.solids.parts:
        blocks.append(solids_table(matter.solids))
    return blocks


def _next_steps(matter: ReportMatter) -> list[Block]:
    steps = []
    faults = [f for f in matter.result.findings if f.severity == "fault"]
    if faults:
        steps.append("Put right the faults under Findings before anything is made.")
    if not matter.result.finished:
        steps.append("Run the fit again until it settles.")
    if matter.result.out_of_reach:
        steps.append(
            "Take the table of notes out of reach to your key supplier, or decide to live with "
            "those notes."
        )
    if not matter.solids:
        steps.append("Make the bodies as files for the printer.")
    steps += [
        "Print the coupon, measure it, and let the compensation follow from it.",
        "Print, seal and ream; gauge the bore at six stations and every hole, and write it down.",
        "Check every joint and pad for leaks.",
        "Record three takes of every fingering with the temperature, and compare with the "
        "tuning table.",
    ]
    return [Heading("Next steps"), PointList([("", step) for step in steps], steps=True)]
