"""The content of a fit's report, in the order a maker reads it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    PaperPage,
    Paragraph,
    Picture,
    Table,
)
from borewright.documents._page import Points as PointList
from borewright.documents._tables import (
    designs_table,
    error_bars_table,
    findings_table,
    keys_table,
    moves_table,
    reach_table,
    schedule_table,
    solids_table,
    states_table,
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
    Severity,
    SolidsReport,
    TuningSummary,
)
from borewright.model.results.fitting import limit_words
from borewright.words import Reader, say, say_as

if TYPE_CHECKING:
    from borewright.documents.keys_picture import ShownKeys
    from borewright.model.results.choices import DesignFamily


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
    keys: ShownKeys | None
    family: DesignFamily | None
    words: Reader


def report_page(matter: ReportMatter, pictures: dict[str, Picture]) -> PaperPage:
    """The whole report; ``pictures`` holds those that were asked for."""
    blocks: list[Block] = []
    blocks += _what(matter)
    blocks += _outcome(matter)
    blocks += _drawings(pictures, matter.words)
    blocks += _keys(matter, pictures)
    blocks += _tuning(matter, pictures)
    blocks += _holes(matter)
    blocks += _changes(matter, pictures)
    blocks += _choices(matter, pictures)
    blocks += _how_sure(matter)
    blocks += _files(matter)
    blocks += _next_steps(matter)
    words = matter.words
    cautions = [(words.tell(each.about), words.tell(each.text)) for each in CAUTIONS]
    blocks += [Heading(words("Cautions")), PointList(cautions)]
    subtitle = [words("Report of a fit.")]
    if matter.after.invented:
        subtitle.append(words("Invented example, no real instrument."))
    if matter.date:
        subtitle.append(f"{matter.date}.")
    return PaperPage(matter.after.name, " ".join(subtitle), blocks, words.language)


def _what(matter: ReportMatter) -> list[Block]:
    table, words = matter.result.after, matter.words
    nothing = words("not given")
    parts = (
        words("{part} {length_mm:.2f} mm", part=part.name, length_mm=part.length_mm)
        for part in matter.after.parts
    )
    facts = [
        (words("Instrument"), matter.after.name),
        (
            words("Kind of data"),
            words("invented example") if matter.after.invented else words("the owner's own"),
        ),
        (words("File"), matter.file or nothing),
        (words("Parts"), "; ".join(parts)),
        (
            words("Body length"),
            words(
                "{after_mm:.2f} mm, before the fit {before_mm:.2f} mm",
                after_mm=matter.after.length_mm,
                before_mm=matter.before.length_mm,
            ),
        ),
        (words("Pitch standard"), words.tell(pitch_words(matter.after))),
        (words("Playing climate"), words.tell(climate_words(matter.after))),
        (words("Climate of the prediction"), words.tell(table.climate) or nothing),
        (words("Model level"), words.tell(table.model_level) or nothing),
    ]
    if matter.after.note:
        facts.append((words.tell(say_as("remark", "Note")), matter.after.note))
    return [Heading(words("What this is")), Facts(facts)]


def _outcome(matter: ReportMatter) -> list[Block]:
    result, words = matter.result, matter.words
    said = summary_sentences(result.before, result.after, matter.tolerance_cents)
    sentences = [words.tell(each) for each in said]
    blocks: list[Block] = [
        Heading(words("Outcome")),
        Paragraph(" ".join(sentences[:2]), lead=True),
    ]
    if sentences[2:]:
        blocks.append(PointList([("", sentence) for sentence in sentences[2:]]))
    ended = (
        words.many(
            "The fit settled after {count} round.",
            "The fit settled after {count} rounds.",
            result.rounds,
        )
        if result.finished
        else words.many(
            "The fit stopped after {count} round before it had settled; run it again from this "
            "state, or give it fewer free dimensions.",
            "The fit stopped after {count} rounds before it had settled; run it again from this "
            "state, or give it fewer free dimensions.",
            result.rounds,
        )
    )
    blocks.append(Paragraph(ended))
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
                words.tell(register.words),
                str(len(new)),
                str(inside),
                figure(TuningSummary.of(old).rms_cents, 1, words),
                figure(worst.rms_cents, 1, words),
                f"{worst.worst_note}, {words.tell(sharp_or_flat(worst.worst_cents))}",
            ]
        )
    columns = (
        Column(words("register"), is_text=True),
        Column(words("standard notes")),
        Column(words("within ±{tolerance_cents:g} cents", tolerance_cents=matter.tolerance_cents)),
        Column(words("rms before")),
        Column(words("rms after")),
        Column(words("worst after"), is_text=True, share=2.0),
    )
    if rows:
        caption = words("Registers; rms is the root mean square in cents.")
        blocks.append(Table(caption, columns, rows))
    return blocks


def _drawings(pictures: dict[str, Picture], words: Reader) -> list[Block]:
    found = [pictures[name] for name in ("section", "developed") if name in pictures]
    return [Heading(words("Drawings")), *found] if found else []


def _keys(matter: ReportMatter, pictures: dict[str, Picture]) -> list[Block]:
    if matter.keys is None:
        return []
    shown = [pictures["keys"]] if "keys" in pictures else []
    return [
        Heading(matter.words("Keys")),
        *shown,
        keys_table(matter.keys.figures, matter.words),
    ]


def _tuning(matter: ReportMatter, pictures: dict[str, Picture]) -> list[Block]:
    result, words = matter.result, matter.words
    blocks: list[Block] = [Heading(words("Tuning"))]
    if "tuning" in pictures:
        blocks.append(pictures["tuning"])
    if result.after.notes:
        blocks.append(tuning_table(result.before, result.after, matter.tolerance_cents, words))
    else:
        blocks.append(Paragraph(words("There are no fingerings in this result.")))
    blocks.append(Heading(words("Twelfths")))
    if result.after.twelfths:
        if "twelfths" in pictures:
            blocks.append(pictures["twelfths"])
        blocks += twelfths_tables(result.after, words)
    else:
        blocks.append(Paragraph(words("No pair of fingerings makes a twelfth.")))
    return blocks


def _holes(matter: ReportMatter) -> list[Block]:
    words = matter.words
    rows = hole_schedule(matter.after, matter.result)
    if not rows:
        return [Heading(words("Hole schedule")), Paragraph(words("This instrument has no holes."))]
    return [Heading(words("Hole schedule")), schedule_table(rows, matter.after.name, words)]


def _changes(matter: ReportMatter, pictures: dict[str, Picture]) -> list[Block]:
    result, words = matter.result, matter.words
    blocks: list[Block] = [Heading(words("What moved"))]
    if result.moved:
        blocks.append(moves_table(result, words))
    else:
        blocks.append(Paragraph(words("Nothing moved.")))
    blocks.append(Heading(words("Notes out of reach")))
    if result.out_of_reach:
        blocks.append(reach_table(result, words))
    else:
        blocks.append(Paragraph(words("None: every fitted note keeps its tolerance.")))
    if result.held_back:
        blocks += [
            Heading(words("What would pay if it were freed")),
            PointList([("", words.tell(each.words)) for each in result.held_back]),
        ]
    if result.at_limits:
        blocks += [
            Heading(words("What the limits cost")),
            PointList([("", words.tell(said)) for said in limit_words(result.at_limits)]),
        ]
    if result.also:
        blocks += [Heading(words("Also in tune with")), states_table(result, words)]
    blocks.append(Heading(words("Findings")))
    if result.findings:
        blocks.append(findings_table(result, words))
    else:
        blocks.append(Paragraph(words("Nothing was noticed.")))
    if "sensitivity" in pictures:
        blocks += [Heading(words("Sensitivity")), pictures["sensitivity"]]
    return blocks


def _choices(matter: ReportMatter, pictures: dict[str, Picture]) -> list[Block]:
    """The designs between the drawing and limits wide open, and what holding the bores costs."""
    family, words = matter.family, matter.words
    if family is None:
        return []
    blocks: list[Block] = [Heading(words("Cents against closeness to the drawing"))]
    if "trade-off" in pictures:
        blocks.append(pictures["trade-off"])
    blocks.append(designs_table(family, words))
    if family.bores_held:
        held = family.bores_held
        sentences = [
            words(
                "With all bores and the bell held as drawn, holes and barrel alone reach rms "
                "{rms:.1f}, worst {worst:+.1f} cents at {note}.",
                rms=held.rms_cents,
                worst=held.worst_cents,
                note=held.worst_note,
            ),
            *(words.tell(each.words) for each in family.held_back),
        ]
        blocks.append(PointList([("", sentence) for sentence in sentences]))
    return blocks


def _how_sure(matter: ReportMatter) -> list[Block]:
    words = matter.words
    items = [
        (
            words("This prediction"),
            words(
                "It was made with {level}. It is a computation, not a recording: reed, lip and "
                "player shift every note, most in the high register.",
                level=matter.result.after.model_level or say("a level that was not given"),
            ),
        ),
        (words("Three levels"), words.tell(LEVELS)),
        (
            words("Making"),
            words(
                "A bore held to ±0.05 mm and holes to ±0.1 mm are within a careful workshop's "
                "reach (from memory); the body as made is what sounds, so measure it."
            ),
        ),
    ]
    strongest = _strongest(matter.sensitivity, words)
    if strongest:
        items.append((words("Most delicate"), strongest))
    items.append(
        (
            words("Trust"),
            words(
                "Tell finer differences than about 5 cents apart only by recordings: three takes, "
                "temperature noted, a known instrument in the same hour (common practice)."
            ),
        )
    )
    blocks: list[Block] = [Heading(words("How sure this is")), PointList(items)]
    if matter.error_bars and matter.error_bars.bars:
        blocks.append(error_bars_table(matter.error_bars, matter.result.after, words))
    return blocks


def _strongest(sensitivity: SensitivityMap | None, words: Reader) -> str:
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
    return words(
        "+0.1 mm of {dimension} moves {note} by {cents} cents.",
        dimension=dimension,
        note=fingering,
        cents=signed(value, 1, words),
    )


def _files(matter: ReportMatter) -> list[Block]:
    blocks: list[Block] = [Heading(matter.words("Files made"))]
    blocks.append(
        PointList([("", name) for name in ("report.html", "report.pdf", *matter.files_made)])
    )
    if matter.solids and matter.solids.parts:
        blocks.append(solids_table(matter.solids, matter.words))
    return blocks


def _next_steps(matter: ReportMatter) -> list[Block]:
    words, steps = matter.words, []
    faults = [f for f in matter.result.findings if f.severity is Severity.FAULT]
    if faults:
        steps.append(words("Put right the faults under Findings before anything is made."))
    if not matter.result.finished:
        steps.append(words("Run the fit again until it settles."))
    if matter.result.out_of_reach:
        steps.append(
            words(
                "Take the table of notes out of reach to your key supplier, or decide to live "
                "with those notes."
            )
        )
    if not matter.solids:
        steps.append(words("Make the bodies as files for the printer."))
    steps += [
        words("Print the coupon, measure it, and let the compensation follow from it."),
        words(
            "Print, seal and ream; gauge the bore at six stations and every hole, and write it "
            "down."
        ),
        words("Check every joint and pad for leaks."),
        words(
            "Record three takes of every fingering with the temperature, and compare with the "
            "tuning table."
        ),
    ]
    return [Heading(words("Next steps")), PointList([("", step) for step in steps], steps=True)]
