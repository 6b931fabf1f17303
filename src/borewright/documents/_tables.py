"""The tables that reports and schedules share."""

from __future__ import annotations

import math
from collections.abc import Sequence

from borewright.documents._page import Column, Table
from borewright.documents._words import figure, signed
from borewright.documents.schedule import HoleRow
from borewright.model import ErrorBars, FitResult, SolidsReport, TuningTable, Use, note_number
from borewright.words import ENGLISH

TWELFTHS_IN_A_ROW = 14

SCHEDULE_COLUMNS = (
    Column("hole", is_text=True, share=0.8),
    Column("part", is_text=True, share=1.3),
    Column("from part top"),
    Column("from first part's top"),
    Column("bearing °"),
    Column("⌀"),
    Column("tube height"),
    Column("chimney"),
    Column("cover", is_text=True, share=0.7),
    Column("pad ⌀"),
    Column("lift"),
    Column("rests", is_text=True, share=0.8),
    Column("held by", is_text=True, share=3.2),
)


def schedule_table(rows: Sequence[HoleRow], name: str) -> Table:
    """The hole schedule, mm and degrees."""
    cells = [
        [
            row.hole,
            row.part,
            figure(row.station_mm, 2),
            figure(row.from_top_mm, 2),
            signed(row.bearing_deg, 0),
            figure(row.diameter_mm, 2),
            figure(row.tube_height_mm, 2),
            signed(row.chimney_mm, 2),
            row.cover,
            figure(row.pad_mm),
            figure(row.lift_mm),
            row.rest or "–",
            row.limit or "–",
        ]
        for row in rows
    ]
    caption = f"Hole schedule of {name}; mm. Bearing: 0 front, + to the player's left."
    return Table(caption, SCHEDULE_COLUMNS, cells, wide=True)


def tuning_rows(
    before: TuningTable | None, after: TuningTable, tolerance_cents: float
) -> list[list[str]]:
    """One row a fingering, standard ones first in rising order, the others after them."""
    earlier = {note.fingering: note.cents for note in before.notes} if before else {}
    order = {use: index for index, use in enumerate((Use.STANDARD, Use.APART, Use.ALTERNATE))}
    rows = []
    for note in sorted(after.notes, key=lambda n: (order[n.use], note_number(n.written))):
        old = earlier.get(note.fingering)
        if note.status != "ok":
            status = note.status
        elif note.cents is None:
            status = "no resonance found"
        else:
            status = "within" if abs(note.cents) <= tolerance_cents else "outside"
        rows.append(
            [
                note.fingering,
                note.register_.value,
                note.use.value,
                figure(note.target_hz, 2),
                figure(note.sounding_hz, 2),
                "–" if old is None else signed(old),
                "–" if note.cents is None else signed(note.cents),
                status,
            ]
        )
    return rows


def tuning_table(before: TuningTable | None, after: TuningTable, tolerance_cents: float) -> Table:
    """Every fingering: target, sounding pitch, cents before and after, and status."""
    columns = (
        Column("fingering", is_text=True, share=1.6),
        Column("register", is_text=True),
        Column("use", is_text=True),
        Column("target Hz"),
        Column("sounding Hz"),
        Column("cents before"),
        Column("cents after"),
        Column("status", is_text=True, share=1.8),
    )
    caption = f"Every fingering. Within and outside refer to ±{tolerance_cents:g} cents."
    return Table(caption, columns, tuning_rows(before, after, tolerance_cents))


def error_bars_table(bars: ErrorBars, table: TuningTable) -> Table:
    """Standard deviations by register, root mean squares over its fingerings, with their split."""
    registers = {note.fingering: note.register_.value for note in table.notes}
    columns = (
        Column("register", is_text=True),
        Column("total"),
        Column("sizes"),
        Column("climate"),
        Column("player"),
        Column("model"),
    )
    rows = []
    for register in dict.fromkeys(registers.values()):
        own = [bar for bar in bars.bars if registers.get(bar.fingering) == register]
        parts = ("total", "dimensions", "climate", "player", "model")
        means = [
            math.sqrt(sum(getattr(bar, f"{part}_cents") ** 2 for bar in own) / len(own))
            for part in parts
            if own
        ]
        if own:
            rows.append([register, *(figure(mean) for mean in means)])
    caption = (
        "Error bars: one standard deviation of a note's pitch in cents, and what makes it. The "
        "parts add up in squares."
    )
    return Table(caption, columns, rows)


def twelfths_tables(table: TuningTable) -> list[Table]:
    """The stretch of every twelfth, so many side by side in a table."""
    tables = []
    for start in range(0, len(table.twelfths), TWELFTHS_IN_A_ROW):
        group = table.twelfths[start : start + TWELFTHS_IN_A_ROW]
        columns = [Column("low note", is_text=True), *(Column(t.low) for t in group)]
        rows = [
            ["twelfth", *(t.high for t in group)],
            ["cents from pure", *(signed(t.stretch_cents) for t in group)],
        ]
        tables.append(Table("Twelfths: + is wide, − narrow.", columns, rows))
    return tables


def moves_table(result: FitResult) -> Table:
    """What the fit changed."""
    columns = (
        Column("part", is_text=True),
        Column("hole", is_text=True, share=0.7),
        Column("dimension", is_text=True),
        Column("from"),
        Column("to"),
        Column("change"),
        Column("held by", is_text=True, share=2.6),
    )
    rows = [
        [
            move.part,
            move.hole or "–",
            move.dimension.replace("_", " "),
            figure(move.from_, 2),
            figure(move.to, 2),
            signed(move.to - move.from_, 2),
            move.limit or "–",
        ]
        for move in result.moved
    ]
    return Table("Dimensions that the fit moved, mm.", columns, rows)


def reach_table(result: FitResult) -> Table:
    """Notes that stay beyond their tolerance, and what would help."""
    columns = (
        Column("fingering", is_text=True),
        Column("cents"),
        Column("tolerance"),
        Column("if a limit gave way by 1 mm", is_text=True, share=2.4),
        Column("advice", is_text=True, share=2.4),
    )
    rows = [
        [
            note.fingering,
            signed(note.cents),
            f"±{note.tolerance_cents:g}",
            "; ".join(f"{r.limit}: {signed(r.cents_after)} cents" for r in note.relaxations) or "–",
            note.advice or "–",
        ]
        for note in result.out_of_reach
    ]
    return Table("Notes out of reach within the present limits.", columns, rows)


def findings_table(result: FitResult) -> Table:
    """What the checks noticed."""
    columns = (
        Column("severity", is_text=True, share=0.7),
        Column("place", is_text=True, share=1.4),
        Column("what", is_text=True, share=2.2),
        Column("what to do", is_text=True, share=2.2),
    )
    rows = [
        [f.severity, ENGLISH.place(f.place), str(f.what), str(f.remedy)] for f in result.findings
    ]
    return Table("Findings.", columns, rows)


def solids_table(solids: SolidsReport) -> Table:
    """Exported bodies and their files."""
    columns = (
        Column("part", is_text=True),
        Column("volume cm³"),
        Column("box mm", is_text=True, share=1.3),
        Column("closed and valid", is_text=True, share=0.8),
        Column("files", is_text=True, share=3.0),
    )
    rows = [
        [
            part.part,
            figure(part.volume_mm3 / 1000),
            " × ".join(figure(side) for side in part.bounding_box_mm),
            "yes" if part.watertight and part.valid else "no: do not print",
            ", ".join(name for name in (part.step, part.stl, part.three_mf) if name),
        ]
        for part in solids.parts
    ]
    return Table("Bodies made.", columns, rows)
