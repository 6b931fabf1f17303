"""The tables that reports and schedules share."""

from __future__ import annotations

import math
from collections.abc import Sequence

from borewright.documents._page import Column, Table
from borewright.documents._words import figure, sharp_or_flat, signed
from borewright.documents.schedule import HoleRow
from borewright.model import ErrorBars, FitResult, SolidsReport, TuningTable, Use, note_number
from borewright.model.results.choices import DesignFamily
from borewright.model.results.key_figures import KeyFigures
from borewright.model.results.tuning import ResonanceStatus
from borewright.words import Reader

TWELFTHS_IN_A_ROW = 14


def schedule_table(rows: Sequence[HoleRow], name: str, words: Reader) -> Table:
    """The hole schedule, mm and degrees."""
    columns = (
        Column(words("hole"), is_text=True, share=0.8),
        Column(words("part"), is_text=True, share=1.3),
        Column(words("from part top")),
        Column(words("from first part's top")),
        Column(words("bearing °")),
        Column("⌀"),
        Column(words("tube height")),
        Column(words("chimney")),
        Column(words("cover"), is_text=True, share=0.7),
        Column(words("pad ⌀")),
        Column(words("lift")),
        Column(words("rests"), is_text=True, share=0.8),
        Column(words("held by"), is_text=True, share=3.2),
    )
    cells = [
        [
            row.hole,
            row.part,
            figure(row.station_mm, 2, words),
            figure(row.from_top_mm, 2, words),
            signed(row.bearing_deg, 0, words),
            figure(row.diameter_mm, 2, words),
            figure(row.tube_height_mm, 2, words),
            signed(row.chimney_mm, 2, words),
            words.tell(row.cover.words),
            figure(row.pad_mm, 1, words),
            figure(row.lift_mm, 1, words),
            words.tell(row.rest.words) if row.rest else "–",
            words.tell(row.limit or "–"),
        ]
        for row in rows
    ]
    caption = words(
        "Hole schedule of {instrument}; mm. Bearing: 0 front, + to the player's left.",
        instrument=name,
    )
    return Table(caption, columns, cells, wide=True)


def tuning_rows(
    before: TuningTable | None, after: TuningTable, tolerance_cents: float, words: Reader
) -> list[list[str]]:
    """One row a fingering, standard ones first in rising order, the others after them."""
    earlier = {note.fingering: note.cents for note in before.notes} if before else {}
    order = {use: index for index, use in enumerate((Use.STANDARD, Use.APART, Use.ALTERNATE))}
    rows = []
    for note in sorted(after.notes, key=lambda n: (order[n.use], note_number(n.written))):
        old = earlier.get(note.fingering)
        if note.status is not ResonanceStatus.OK:
            status = words.tell(note.status.words)
        elif note.cents is None:
            status = words("no resonance found")
        elif abs(note.cents) <= tolerance_cents:
            status = words("within")
        else:
            status = words("outside")
        rows.append(
            [
                note.fingering,
                words.tell(note.register_.words),
                words.tell(note.use.words),
                figure(note.target_hz, 2, words),
                figure(note.sounding_hz, 2, words),
                "–" if old is None else signed(old, 1, words),
                "–" if note.cents is None else signed(note.cents, 1, words),
                status,
            ]
        )
    return rows


def tuning_table(
    before: TuningTable | None, after: TuningTable, tolerance_cents: float, words: Reader
) -> Table:
    """Every fingering: target, sounding pitch, cents before and after, and status."""
    columns = (
        Column(words("fingering"), is_text=True, share=1.6),
        Column(words("register"), is_text=True),
        Column(words("use"), is_text=True),
        Column(words("target Hz")),
        Column(words("sounding Hz")),
        Column(words("cents before")),
        Column(words("cents after")),
        Column(words("status"), is_text=True, share=1.8),
    )
    caption = words(
        "Every fingering. Within and outside refer to ±{tolerance_cents:g} cents.",
        tolerance_cents=tolerance_cents,
    )
    return Table(caption, columns, tuning_rows(before, after, tolerance_cents, words))


def error_bars_table(bars: ErrorBars, table: TuningTable, words: Reader) -> Table:
    """Standard deviations by register, root mean squares over its fingerings, with their split."""
    registers = {note.fingering: note.register_ for note in table.notes}
    columns = (
        Column(words("register"), is_text=True),
        Column(words("total")),
        Column(words("sizes")),
        Column(words("climate")),
        Column(words("player")),
        Column(words("model")),
    )
    rows = []
    for register in dict.fromkeys(registers.values()):
        own = [bar for bar in bars.bars if registers.get(bar.fingering) is register]
        parts = ("total", "dimensions", "climate", "player", "model")
        means = [
            math.sqrt(sum(getattr(bar, f"{part}_cents") ** 2 for bar in own) / len(own))
            for part in parts
            if own
        ]
        if own:
            told = [figure(mean, 1, words) for mean in means]
            rows.append([words.tell(register.words), *told])
    caption = words(
        "Error bars: one standard deviation of a note's pitch in cents, and what makes it. The "
        "parts add up in squares."
    )
    return Table(caption, columns, rows)


def twelfths_tables(table: TuningTable, words: Reader) -> list[Table]:
    """The stretch of every twelfth, so many side by side in a table."""
    tables = []
    for start in range(0, len(table.twelfths), TWELFTHS_IN_A_ROW):
        group = table.twelfths[start : start + TWELFTHS_IN_A_ROW]
        columns = [Column(words("low note"), is_text=True), *(Column(t.low) for t in group)]
        rows = [
            [words("twelfth"), *(t.high for t in group)],
            [words("cents from pure"), *(signed(t.stretch_cents, 1, words) for t in group)],
        ]
        tables.append(Table(words("Twelfths: + is wide, − narrow."), columns, rows))
    return tables


def moves_table(result: FitResult, words: Reader) -> Table:
    """What the fit changed."""
    columns = (
        Column(words("part"), is_text=True),
        Column(words("hole"), is_text=True, share=0.7),
        Column(words("dimension"), is_text=True),
        Column(words("from")),
        Column(words("to")),
        Column(words("change")),
        Column(words("held by"), is_text=True, share=2.6),
    )
    rows = [
        [
            move.part,
            move.hole or "–",
            words.tell(move.dimension),
            figure(move.from_, 2, words),
            figure(move.to, 2, words),
            signed(move.to - move.from_, 2, words),
            words.tell(move.limit or "–"),
        ]
        for move in result.moved
    ]
    return Table(words("Dimensions that the fit moved, mm."), columns, rows)


def reach_table(result: FitResult, words: Reader) -> Table:
    """Notes that stay beyond their tolerance, and what would help."""
    columns = (
        Column(words("fingering"), is_text=True),
        Column(words("cents")),
        Column(words("tolerance")),
        Column(words("what would help, fitted anew"), is_text=True, share=2.4),
        Column(words("advice"), is_text=True, share=2.4),
    )
    rows = [
        [
            note.fingering,
            signed(note.cents, 1, words),
            f"±{words.number(note.tolerance_cents, 'g')}",
            "; ".join(
                words(
                    "{change}: {cents} cents",
                    change=r.change or r.limit,
                    cents=signed(r.cents_after, 1, words),
                )
                for r in note.relaxations
            )
            or "–",
            words.tell(note.advice or "–"),
        ]
        for note in result.out_of_reach
    ]
    return Table(words("Notes out of reach within the present limits."), columns, rows)


def states_table(result: FitResult, words: Reader) -> Table:
    """Tuning of the same body in its further states."""
    columns = (
        Column(words("state"), is_text=True, share=2.0),
        Column(words("rms before")),
        Column(words("rms after")),
        Column(words("worst after"), is_text=True, share=2.0),
    )
    rows = [
        [
            state.name,
            figure(state.before.rms_cents, 1, words),
            figure(state.after.summary.rms_cents, 1, words),
            f"{state.after.summary.worst_note}, "
            f"{words.tell(sharp_or_flat(state.after.summary.worst_cents))}",
        ]
        for state in result.also
    ]
    return Table(words("The same body in further states; rms in cents."), columns, rows)


def designs_table(family: DesignFamily, words: Reader) -> Table:
    """Designs along the trade-off, with what each costs and gains."""
    columns = (
        Column(words("design")),
        Column(words("price of a step, cents²")),
        Column(words("rms")),
        Column(words("worst"), is_text=True, share=1.2),
        Column(words("uneven")),
        Column(words("steps away")),
        Column(words("largest change of a hole")),
        Column(words("gains"), is_text=True, share=3.0),
    )
    named = [(str(number), each) for number, each in enumerate(family.designs)]
    if family.bores_held:
        named.append((words("all bores held"), family.bores_held))
    rows = [
        [
            name,
            figure(each.price_cents2, 1, words) if each.price_cents2 else "–",
            figure(each.rms_cents, 1, words),
            f"{each.worst_note} {signed(each.worst_cents, 1, words)}",
            figure(each.uneven_cents, 1, words),
            figure(each.away_steps, 0, words),
            words.number(each.largest_hole_share, ".0%"),
            words.tell(each.gains),
        ]
        for name, each in named
    ]
    caption = words("Designs; rms, worst note and mean step between neighbours in cents.")
    return Table(caption, columns, rows)


def findings_table(result: FitResult, words: Reader) -> Table:
    """What the checks noticed."""
    columns = (
        Column(words("severity"), is_text=True, share=0.7),
        Column(words("place"), is_text=True, share=1.4),
        Column(words("what"), is_text=True, share=2.2),
        Column(words("what to do"), is_text=True, share=2.2),
    )
    rows = [
        [*map(words.tell, (f.severity.words, words.place(f.place), f.what, f.remedy))]
        for f in result.findings
    ]
    return Table(words("Findings."), columns, rows)


def keys_table(rows: Sequence[KeyFigures], words: Reader) -> Table:
    """Every key as the mechanism has it."""
    columns = (
        Column(words("Key"), is_text=True),
        Column(words("hole"), is_text=True),
        Column(words("rests"), is_text=True),
        Column(words("lift")),
        Column(words("near edge")),
        Column(words("far edge")),
        Column(words("effective")),
        Column(words("travel")),
        Column(words("at rest g")),
        Column(words("pressed g")),
        Column(words("end play")),
    )
    cells = [
        [
            row.key,
            row.hole or "–",
            words.tell(row.rest.words),
            figure(row.lift_mm, 2, words),
            figure(row.near_mm, 2, words),
            figure(row.far_mm, 2, words),
            figure(row.effective_mm, 2, words),
            figure(row.travel_mm, 2, words),
            figure(row.rest_g, 0, words),
            figure(row.end_g, 0, words),
            figure(row.play_mm, 3, words),
        ]
        for row in rows
    ]
    caption = words(
        "Keys as the mechanism has them: pad lift at its middle and edges, the even gap as good as "
        "it (more than the lift where the pad slides aside), the touch's or ring's travel, "
        "force at the touch, end play; lengths in mm."
    )
    return Table(caption, columns, cells)


def solids_table(solids: SolidsReport, words: Reader) -> Table:
    """Exported bodies and their files."""
    columns = (
        Column(words("part"), is_text=True),
        Column(words("volume cm³")),
        Column(words("box mm"), is_text=True, share=1.3),
        Column(words("closed and valid"), is_text=True, share=0.8),
        Column(words("files"), is_text=True, share=3.0),
    )
    rows = [
        [
            part.part,
            figure(part.volume_mm3 / 1000, 1, words),
            " × ".join(figure(side, 1, words) for side in part.bounding_box_mm),
            words("yes") if part.watertight and part.valid else words("no: do not print"),
            ", ".join(name for name in (part.step, part.stl, part.three_mf) if name),
        ]
        for part in solids.parts
    ]
    return Table(words("Bodies made."), columns, rows)
