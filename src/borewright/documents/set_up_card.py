"""The set-up card for the bench: what to set on each key, with room for the final value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, Page, Paragraph, Table
from borewright.documents._paper_words import BOX, file_stem
from borewright.documents._words import figure, signed


@dataclass(frozen=True)
class CardRow:
    """One key: lengths in mm, force in grams, pitch effect in cents; None where not known."""

    key: str
    hole: str
    least_lift_mm: float
    lift_mm: float | None
    pitch_effect_cents: float | None
    pitch_effect_note: str
    lever_ratio: float
    touch_travel_mm: float | None
    touch_force_g: float | None
    touch_height_mm: float | None
    end_play_mm: float | None
    remarks: Sequence[str]


@dataclass(frozen=True)
class SetUpCard:
    """The keys of one keywork set for one design."""

    sample: str
    design: str
    rows: Sequence[CardRow]

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("set-up", self.sample)

    @property
    def code(self) -> str:
        """The set's label."""
        return self.sample

    def page(self) -> Page:
        """The card's page."""
        blocks: list[Block] = [
            Paragraph(
                "A pad rises by at least a third of its hole's diameter; less flattens and dulls. "
                "Cents tell what the lift as measured does against that least lift."
            ),
            Table(
                "Lengths in mm, force at the touch in grams.",
                [
                    Column("", False),
                    Column("Key", True, 1.6),
                    Column("Hole"),
                    Column("Least lift"),
                    Column("Lift"),
                    Column("Cents", True, 1.1),
                    Column("Lever"),
                    Column("Travel"),
                    Column("Force"),
                    Column("Height"),
                    Column("Play"),
                    Column("To do", True, 2.6),
                ],
                [self._cells(row) for row in self.rows],
            ),
        ]
        return Page(f"Set-up card {self.sample}", f"For design {self.design}", blocks)

    def _cells(self, row: CardRow) -> tuple[str, ...]:
        effect = "–"
        if row.pitch_effect_cents is not None:
            effect = f"{signed(row.pitch_effect_cents)} {row.pitch_effect_note}"
        return (
            BOX,
            row.key,
            row.hole,
            figure(row.least_lift_mm, 2),
            figure(row.lift_mm, 2),
            effect,
            figure(row.lever_ratio, 2),
            figure(row.touch_travel_mm, 1),
            figure(row.touch_force_g, 0),
            figure(row.touch_height_mm, 1),
            figure(row.end_play_mm, 2),
            "; ".join(row.remarks) or "–",
        )
